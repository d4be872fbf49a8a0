import { type AddressInfo, connect, createServer, type Socket } from 'node:net';

/** A TCP proxy between a customer and a server whose connections can be cut, like a phone's in a tunnel. */
export type CuttingProxy = {
  /** Origin to use in place of the server's. */
  readonly url: string;
  /** Cuts every connection once, after so many more bytes have gone up; later ones work, unless it stays down. */
  cutAfter(bytes: number, stayDown?: boolean): void;
  /** Cuts all connections and lets none through. */
  down(): void;
  up(): void;
  /** How often `cutAfter` cut. */
  readonly cuts: number;
  /** Bytes that have gone up so far. */
  readonly sent: number;
  /** Cuts all connections and lets further ones through to another server. */
  retarget(target: string): void;
  close(): Promise<void>;
};

/** @param target origin of the server, such as `http://127.0.0.1:1234` */
export async function openCuttingProxy(target: string): Promise<CuttingProxy> {
  const open = new Set<Socket>();
  const customers = new Set<Socket>();
  let to = new URL(target);
  let left = Number.POSITIVE_INFINITY;
  let isDown = false;
  let downNext = false;
  let cuts = 0;
  let sent = 0;
  const cut = (): void => {
    for (const socket of open) socket.destroy();
    open.clear();
  };
  const server = createServer((customer) => {
    if (isDown) {
      customer.destroy();
      return;
    }
    const shop = connect(Number(to.port), to.hostname);
    open.add(customer).add(shop);
    customers.add(customer);
    customer.on('close', () => {
      customers.delete(customer);
      shop.resume();
    });
    for (const [one, other] of [
      [customer, shop],
      [shop, customer],
    ] as const) {
      one.on('error', () => other.destroy());
      one.on('close', () => {
        open.delete(one);
        other.end();
      });
    }
    shop.pipe(customer);
    customer.on('data', (chunk: Buffer) => {
      const passed = chunk.subarray(0, Math.min(chunk.length, left));
      sent += passed.length;
      left -= passed.length;
      if (left > 0) {
        if (!shop.write(passed)) {
          customer.pause();
          shop.once('drain', () => customer.resume());
        }
        return;
      }
      left = Number.POSITIVE_INFINITY;
      cuts++;
      isDown ||= downNext;
      customer.pause();
      // The server's side ends and is not reset, so that what went through before the cut does arrive.
      shop.write(passed, () => {
        for (const socket of customers) socket.destroy();
      });
    });
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    cutAfter(bytes, stayDown = false) {
      left = bytes;
      downNext = stayDown;
    },
    down() {
      isDown = true;
      cut();
    },
    up() {
      isDown = false;
    },
    retarget(next) {
      to = new URL(next);
      cut();
    },
    get cuts() {
      return cuts;
    },
    get sent() {
      return sent;
    },
    close() {
      isDown = true;
      cut();
      return new Promise((done) => server.close(() => done()));
    },
  };
}
