import { LRUCache } from 'lru-cache';
import type { ShopHead } from '../store/shops.ts';

/** Responses kept, and how long a key and its response may be together: 32 MiB at most. Three lines take 10 KB. */
const MAX_RESPONSES = 256;
const MAX_ENTRY_BYTES = 128 * 1024;
/** Ordering checks artwork, plan and cut-off again, so a response this old does no harm. */
const MAX_AGE_MS = 10_000;

type Entry = { readonly atMs: number; readonly body: Uint8Array<ArrayBuffer> };

/**
 * Caches responses for 10 s, keyed by shop versions and raw body, so that a repeated request is not even parsed. Other
 * tabs, other visitors and slips changed back and forth repeat requests often. A new booking, catalog or signing key
 * changes a version, whichever process wrote it.
 */
export class QuoteAnswerCache {
  readonly #entries = new LRUCache<string, Entry>({ max: MAX_RESPONSES });

  /** @param nowMs epoch ms */
  get(key: string, nowMs: number): Uint8Array<ArrayBuffer> | undefined {
    const entry = this.#entries.get(key);
    if (entry === undefined) return undefined;
    const ageMs = nowMs - entry.atMs;
    return ageMs >= 0 && ageMs < MAX_AGE_MS ? entry.body : undefined;
  }

  set(key: string, body: Uint8Array<ArrayBuffer>, nowMs: number): void {
    // A character takes up to two bytes.
    if (2 * key.length + body.length <= MAX_ENTRY_BYTES) this.#entries.set(key, { atMs: nowMs, body });
  }

  /** @param text the request body as received */
  static key(head: ShopHead, text: string): string {
    return `${head.shop} ${head.catalogVersion} ${head.planVersion} ${head.signingKey} ${text}`;
  }
}
