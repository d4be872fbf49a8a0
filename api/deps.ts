import type { Logger } from 'pino';
import type { FilePool, FileStore, PartialLimits, PartialUploads } from './files/index.ts';
import type { loadHolidays } from './services/holidays.ts';
import type { Store } from './store/store.ts';

/** Bounds on the size and rate of requests. */
export type Limits = {
  /** an artwork's file, bytes. */
  readonly fileBytes: number;
  /** a JSON body other than a catalog, bytes. */
  readonly jsonBytes: number;
  /** an owner's catalog, bytes. */
  readonly catalogBytes: number;
  /** files received or waiting to be read at once; each is held in memory. */
  readonly uploadsAtOnce: number;
  /** resumable uploads. */
  readonly partial: PartialLimits;
  /** requests per minute from one address; null: unlimited. */
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

/** Everything the app depends on; it reads nothing from its environment. */
export type AppDeps = {
  readonly store: Store;
  readonly pool: FilePool;
  /** the files of one shop. */
  readonly filesOf: (shop: string) => Promise<FileStore>;
  /** resumable uploads of one shop. */
  readonly partialsOf: (shop: string) => PartialUploads;
  /** epoch ms. */
  readonly now: () => number;
  readonly randomBytes: (count: number) => Buffer;
  readonly requestId: () => string;
  /** absent: from the optional package, if it is installed. */
  readonly loadHolidays?: typeof loadHolidays;
  readonly logger: Logger;
  readonly limits: Limits;
  /** origins whose pages may use a shop's public routes; `*`: any. */
  readonly origins: '*' | readonly string[];
  /** origins whose pages may use owners' routes. */
  readonly ownerOrigins: readonly string[];
  /** number of proxies in front whose X-Forwarded-For is trusted. */
  readonly trustedProxies: number;
  /** our public address, without a trailing slash; empty: addresses in answers are relative. */
  readonly publicUrl: string;
  /** folders of the built widget and of the demo's page; null: not served. */
  readonly pages: { readonly widget: string; readonly demo: string | null } | null;
};
