import { randomBytes, randomUUID } from 'node:crypto';
import { readFile, realpath } from 'node:fs/promises';
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { basename, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { serve } from '@hono/node-server';
import { pino } from 'pino';
import { createApp } from './app.ts';
import { DEFAULT_LIMITS } from './deps.ts';
import { type FileStore, openFilePool, openFileStore, openPartialUploads } from './files/index.ts';
import { closeGracefully } from './http/graceful-close.ts';
import { answerMalformedRequest } from './http/malformed-request.ts';
import { createShop } from './services/create-shop.ts';
import { readSettings, type ServerSettings } from './settings.ts';
import { openStore, type Store } from './store/store.ts';

/** The demo shop that an empty store is seeded with. */
export const DEMO_SHOP = 'quill-and-kettle';
/** How long answers to requests with an Idempotency-Key are kept. */
const IDEMPOTENCY_DAYS = 30;
/** How often expired uploads are removed. */
const SWEEP_MS = 15 * 60_000;

/** A running server. */
export type RunningServer = {
  /** its address, without a trailing slash. */
  readonly url: string;
  /** the first owner's key of the demo shop, if the shop was just created. */
  readonly ownerKey: string | undefined;
  /** Stops taking requests, finishes running ones, and ends. */
  close(): Promise<void>;
};

/** Starts the server. @param options what differs from the defaults; the environment is not read */
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
    onWarning: (what) => logger.warn({ what }, 'a problem reading files'),
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
      () => void sweep().catch((err: unknown) => logger.warn({ err }, 'expired uploads were not removed')),
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
          await closeGracefully(server);
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

/** The folder that holds `demo/` and `dist/`, whether we run from source or from `dist/`. */
async function packageRoot(): Promise<string> {
  const above = resolve(import.meta.dirname, '..');
  return basename(above) === 'dist' ? resolve(above, '..') : above;
}

/** Each shop has its own folder, so that no shop can find another's files. */
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

/** Creates the demo shop in an empty store. @returns the first owner's key, if it was created */
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

/** Deletes expired answers of all shops; this needs no shop's lock. */
async function deleteOldAnswers(store: Store, now: number): Promise<void> {
  const before = new Date(now - IDEMPOTENCY_DAYS * 86_400_000).toISOString();
  await store.write('', (parts) => parts.idempotency.deleteBefore(before));
}

function listen(fetch: Parameters<typeof serve>[0]['fetch'], settings: ServerSettings): Promise<Server> {
  return new Promise((done, fail) => {
    const server = serve(
      // A route that refuses a body drains the rest itself, so that the sender is not cut off.
      { fetch, port: settings.port, hostname: settings.host, autoCleanupIncoming: false },
      () => done(server),
    ) as Server;
    server.once('error', fail);
    server.on('clientError', answerMalformedRequest);
  });
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

/** Whether this file was run, not imported. */
async function isMain(): Promise<boolean> {
  const started = process.argv[1];
  if (started === undefined) return false;
  return (await realpath(started).catch(() => '')) === (await realpath(fileURLToPath(import.meta.url)));
}

if (await isMain()) await main();
