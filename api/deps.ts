import type { Logger } from 'pino';
import type { FilePool, FileStore, PartialLimits, PartialUploads } from './files/index.ts';
import type { loadHolidays } from './services/holidays.ts';
import type { Store } from './store/store.ts';

/** Bounds on what a request may bring, and how often. */
export type Limits = {
  /** an artwork's file, bytes. */
  readonly fileBytes: number;
  /** any JSON body but a catalog, bytes. */
  readonly jsonBytes: number;
  /** an owner's catalog, bytes. */
  readonly catalogBytes: number;
  /** files being received or waiting to be read at once; each is held in memory. */
  readonly uploadsAtOnce: number;
  /** files that come in several parts. */
  readonly partial: PartialLimits;
  /** requests a minute from one address; null: no bound. */
  readonly perMinute: {
    readonly files: number;
    readonly orders: number;
    readonly others: number;
  } | null;
};

const MIB = 1024 * 1024;
const HOUR_MS = 3_600_000;

export const DEFAULT_LIMITS: Limits = {
  fileBytes: 25 * MIB,
  jsonBytes: 4 * MIB,
  catalogBytes: 32 * MIB,
  uploadsAtOnce: 12,
  partial: {
    count: 200,
    bytes: 4 * 1024 * MIB,
    ageMs: 24 * HOUR_MS,
    idleAgeMs: HOUR_MS,
    parts: 1000,
  },
  perMinute: { files: 300, orders: 300, others: 6000 },
};

/** Everything the app stands on; nothing is taken from its surroundings. */
export type AppDeps = {
  readonly store: Store;
  readonly pool: FilePool;
  /** the files of one shop. */
  readonly filesOf: (shop: string) => Promise<FileStore>;
  /** files of one shop that are still on their way. */
  readonly partialsOf: (shop: string) => PartialUploads;
  /** epoch ms. */
  readonly now: () => number;
  readonly randomBytes: (count: number) => Buffer;
  readonly requestId: () => string;
  /** left out: from the optional package. */
  readonly loadHolidays?: typeof loadHolidays;
  readonly logger: Logger;
  readonly limits: Limits;
  /** origins whose pages may use a shop's public routes; `*`: any. */
  readonly origins: '*' | readonly string[];
  /** origins whose pages may use owners' routes. */
  readonly ownerOrigins: readonly string[];
  /** proxies before us whose X-Forwarded-For is believed. */
  readonly trustedProxies: number;
  /** address at which we are reached, without a slash at its end; empty: addresses in answers are relative. */
  readonly publicUrl: string;
  /** folders of the built widget and of the demo's page; null: not served. */
  readonly pages: { readonly widget: string; readonly demo: string | null } | null;
};
