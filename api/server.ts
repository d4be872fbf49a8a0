import { randomBytes, randomUUID } from 'node:crypto';
import { readFile, realpath } from 'node:fs/promises';
import type { IncomingMessage, Server, ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { basename, join, resolve } from 'node:path';
import type { Duplex } from 'node:stream';
import { setImmediate as nextTurn, setTimeout as sleep } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { serve } from '@hono/node-server';
import { pino } from 'pino';
import { createApp } from './app.ts';
import { DEFAULT_LIMITS } from './deps.ts';
import { type FileStore, openFilePool, openFileStore, openPartialUploads } from './files/index.ts';
import { problemBody } from './http/problem.ts';
import { createShop } from './services/create-shop.ts';
import { readSettings, type ServerSettings } from './settings.ts';
import { openStore, type Store } from './store/store.ts';

/** The made-up shop an empty store begins with. */
export const DEMO_SHOP = 'quill-and-kettle';
/** How long requests under way may take to finish when the server ends. */
const SHUTDOWN_MS = 10_000;
/** Before it stops listening nothing new must have come for so long; it is not waited for longer than the second. */
const QUIET_MS = 50;
const QUIET_WAIT_MS = 1_000;
/** How long the rest of what is no request is thrown away before its connection is cut. */
const MALFORMED_DRAIN_MS = 2_000;
/** Answers to requests with an Idempotency-Key are kept so long. */
const IDEMPOTENCY_DAYS = 30;

/** How often files that never arrived whole are looked for. */
const SWEEP_MS = 15 * 60_000;

/** A running server. */
export type RunningServer = {
  /** its own address, without a slash at the end. */
  readonly url: string;
  /** the first owner's key of the demo shop; only where it was made just now. */
  readonly ownerKey: string | undefined;
  /** Takes no more requests, finishes those under way, ends. */
  close(): Promise<void>;
};

/** Starts the server. @param options what differs from the defaults (the environment is not looked at) */
export async function startServer(options: Partial<ServerSettings> = {}): Promise<RunningServer> {
  const settings = { ...defaults(), ...options };
  const root = await packageRoot();
  const dataDir = resolve(settings.dataDir);
  const logger = pino({ level: settings.logLevel, base: null, timestamp: pino.stdTimeFunctions.isoTime });
  const now = (): number => Date.now();
  const filesOf = fileStores(join(dataDir, 'files'));
  const partialsOf = (shop: string) =>
    openPartialUploads(join(dataDir, 'files', shop, 'partial'), DEFAULT_LIMITS.partial);
  await filesOf('readiness');
  const store = await openStore(
    settings.databaseUrl === undefined
      ? { path: join(dataDir, 'store.sqlite') }
      : { url: settings.databaseUrl, connections: settings.databaseConnections },
    new Date(now()).toISOString(),
  );
  const limits = {
    ...DEFAULT_LIMITS,
    fileBytes: settings.fileMib * 1024 * 1024,
    perMinute: settings.rateLimits ? DEFAULT_LIMITS.perMinute : null,
  };
  const pool = await openFilePool({
    limits: { bytes: limits.fileBytes },
    onWarning: (what) => logger.warn({ what }, 'trouble reading files'),
  });
  try {
    const ownerKey = settings.demo ? await seedDemo(store, join(root, 'demo/catalog.json'), now) : undefined;
    await deleteOldAnswers(store, now());
    const app = createApp({
      store,
      pool,
      filesOf,
      partialsOf,
      now,
      randomBytes,
      requestId: randomUUID,
      logger,
      limits,
      origins: settings.allowedOrigins,
      ownerOrigins: settings.ownerOrigins,
      trustedProxies: settings.trustProxy,
      publicUrl: settings.publicUrl ?? '',
      pages: { widget: join(root, 'dist/widget'), demo: settings.demo ? join(root, 'demo') : null },
    });
    const server = await listen(app.fetch, settings);
    const sweep = async (): Promise<void> => {
      for (const shop of await store.shops.ids()) await partialsOf(shop).sweep(now());
    };
    const sweeping = setInterval(
      () => void sweep().catch((error: unknown) => logger.warn({ error }, 'partial uploads were not swept')),
      SWEEP_MS,
    );
    sweeping.unref();
    const { port } = server.address() as AddressInfo;
    const host = settings.host.includes(':') ? `[${settings.host}]` : settings.host;
    let closing: Promise<void> | undefined;
    return {
      url: `http://${host}:${port}`,
      ownerKey,
      close() {
        closing ??= (async () => {
          clearInterval(sweeping);
          await shutDown(server);
          await pool.close();
          await store.close();
        })();
        return closing;
      },
    };
  } catch (error) {
    await pool.close();
    await store.close();
    throw error;
  }
}

function defaults(): ServerSettings {
  const read = readSettings({});
  if ('message' in read) throw new Error(read.message);
  return read.settings;
}

/** The folder that holds `demo/` and, once built, `dist/`, whether we run from source or from `dist/`. */
async function packageRoot(): Promise<string> {
  const above = resolve(import.meta.dirname, '..');
  return basename(above) === 'dist' ? resolve(above, '..') : above;
}

/** Each shop's files are in a folder of its own, so that nothing of one is ever found by another. */
function fileStores(folder: string): (shop: string) => Promise<FileStore> {
  const open = new Map<string, Promise<FileStore>>();
  return (shop) => {
    let store = open.get(shop);
    if (store === undefined) {
      store = openFileStore(join(folder, shop));
      store.catch(() => open.delete(shop));
      open.set(shop, store);
    }
    return store;
  };
}

/** @returns the first owner's key, when the store was empty */
async function seedDemo(store: Store, catalogFile: string, now: () => number): Promise<string | undefined> {
  if ((await store.shops.ids()).length > 0) return undefined;
  const opened = await createShop(store, DEMO_SHOP, JSON.parse(await readFile(catalogFile, 'utf8')), {
    now,
    randomBytes,
  });
  if (opened.kind === 'faulty')
    throw new Error(`the demo's catalog has faults: ${JSON.stringify(opened.faults.slice(0, 5))}`);
  return opened.kind === 'opened' ? opened.key : undefined;
}

/** A shop's own lock is not needed: what is that old is asked for by nobody. */
async function deleteOldAnswers(store: Store, now: number): Promise<void> {
  const before = new Date(now - IDEMPOTENCY_DAYS * 86_400_000).toISOString();
  await store.write('', (parts) => parts.idempotency.deleteBefore(before));
}

function listen(fetch: Parameters<typeof serve>[0]['fetch'], settings: ServerSettings): Promise<Server> {
  return new Promise((done, fail) => {
    const server = serve(
      // What is left of a refused body is drained by the route that refused it, without cutting the sender off.
      { fetch, port: settings.port, hostname: settings.host, autoCleanupIncoming: false },
      () => done(server),
    ) as Server;
    server.once('error', fail);
    server.on('clientError', refuseMalformed);
  });
}

/** What cannot even be read as a request gets a problem, too, and its sender time to read it. */
function refuseMalformed(error: NodeJS.ErrnoException, socket: Duplex): void {
  if (error.code === 'ECONNRESET' || !socket.writable) {
    socket.destroy();
    return;
  }
  const body = problemBody('invalid-input', 'this is not a request by HTTP/1.1', undefined);
  const head = [
    'HTTP/1.1 400 Bad Request',
    'Content-Type: application/problem+json; charset=utf-8',
    `Content-Length: ${Buffer.byteLength(body)}`,
    'Connection: close',
  ];
  socket.end(`${head.join('\r\n')}\r\n\r\n${body}`);
  // Were it closed while the other side still sends, that side might never read the answer.
  socket.removeAllListeners('data');
  socket.on('error', () => {});
  socket.resume();
  const late = setTimeout(() => socket.destroy(), MALFORMED_DRAIN_MS);
  late.unref();
  socket.once('close', () => clearTimeout(late));
}

async function shutDown(server: Server): Promise<void> {
  await waitForQuiet(server);
  const closed = new Promise<void>((done) => server.close(() => done()));
  // A connection kept open by its client ends once it is idle.
  const idle = setInterval(() => server.closeIdleConnections(), 50);
  const late = setTimeout(() => server.closeAllConnections(), SHUTDOWN_MS);
  await closed;
  clearInterval(idle);
  clearTimeout(late);
}

/**
 * Requests may have been sent and not yet been read: their connections wait to be accepted, or were and look idle. To
 * stop listening would cut them off, so it waits until nothing comes any more, and asks whoever is answered meanwhile to
 * use the connection no further.
 */
async function waitForQuiet(server: Server): Promise<void> {
  const began = performance.now();
  let last = began;
  const came = (): void => {
    last = performance.now();
  };
  const lastOne = (_: IncomingMessage, answer: ServerResponse): void => {
    came();
    answer.shouldKeepAlive = false;
  };
  server.on('connection', came);
  server.prependListener('request', lastOne);
  while (performance.now() - last < QUIET_MS && performance.now() - began < QUIET_WAIT_MS) {
    await sleep(QUIET_MS / 5);
    // past the turn in which sockets are read, however long the work before it took
    await nextTurn();
  }
  server.off('connection', came);
}

async function main(): Promise<void> {
  const read = readSettings(process.env);
  if ('message' in read) {
    process.stderr.write(`${read.message}\n`);
    process.exitCode = 1;
    return;
  }
  const server = await startServer(read.settings);
  const lines = [
    `Peel & Platen listens on ${server.url}/`,
    `  the API's description: ${server.url}/v1/openapi.json`,
    ...(server.ownerKey === undefined
      ? []
      : [
          `  a made-up shop was opened: ${DEMO_SHOP}`,
          `  its owner's key, shown this once: ${server.ownerKey}`,
        ]),
  ];
  process.stderr.write(`${lines.join('\n')}\n`);
  for (const signal of ['SIGINT', 'SIGTERM'] as const)
    process.once(signal, () => {
      void server.close().then(() => process.exit(0));
    });
}

/** Whether this file was started, not imported. */
async function isMain(): Promise<boolean> {
  const started = process.argv[1];
  if (started === undefined) return false;
  return (await realpath(started).catch(() => '')) === (await realpath(fileURLToPath(import.meta.url)));
}

if (await isMain()) await main();
