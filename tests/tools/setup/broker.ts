import { createServer } from 'node:http';

/** A resource that a whole run shares: the text that those who request it receive, and how to end it. */
export type Shared = { readonly answer: string; end(): Promise<void> };

export type Broker = { readonly url: string; close(): Promise<void> };

type Open = { readonly broker: Promise<Broker>; users: number };

/**
 * Each project of a run loads its own copy of the setup files, all in the main process. This global map lets them share,
 * so that a run has one of each resource and not one per project.
 */
const OPEN = Symbol.for('platen.tests.brokers');
const registry = globalThis as { [OPEN]?: Map<string, Open> };

/**
 * Shares a resource that is expensive to start among the processes that run tests. It is started by the first request;
 * all requests get the same answer; it ends when the last who opened the broker has closed it. The broker listens on a
 * loopback port, so there are no lock files to go stale.
 */
export async function openBroker(name: string, start: () => Promise<Shared>): Promise<Broker> {
  registry[OPEN] ??= new Map();
  const brokers = registry[OPEN];
  const open = brokers.get(name) ?? { broker: listen(start), users: 0 };
  brokers.set(name, open);
  open.users++;
  const { url, close } = await open.broker;
  return {
    url,
    async close() {
      open.users--;
      if (open.users > 0) return;
      brokers.delete(name);
      await close();
    },
  };
}

async function listen(start: () => Promise<Shared>): Promise<Broker> {
  let starting: Promise<Shared> | undefined;
  const server = createServer((_request, response) => {
    starting ??= start();
    starting.then(
      ({ answer }) => response.writeHead(200).end(answer),
      (error: unknown) => response.writeHead(500).end(error instanceof Error ? error.message : String(error)),
    );
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('the broker got no port');
  return {
    url: `http://127.0.0.1:${address.port}`,
    async close() {
      server.closeAllConnections();
      await new Promise((done) => server.close(done));
      await starting?.then(
        ({ end }) => end(),
        () => {},
      );
    },
  };
}

/** @throws Error with the reason when the resource could not be started: a test must then fail, not skip */
export async function requestResource(brokerUrl: string): Promise<string> {
  const response = await fetch(brokerUrl);
  const text = await response.text();
  if (!response.ok) throw new Error(text);
  return text;
}
