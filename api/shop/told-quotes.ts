import type { ShopHead } from '../store/shops.ts';
import { BoundedMap } from './bounded-map.ts';
import { sha256 } from './quote-desk.ts';

/** Answers kept, and how long each may be: 32 MiB at most. Three lines are answered in 10 KB, and longer slips are rare. */
const KEPT_MOST = 256;
const BYTES_MOST = 128 * 1024;
/** How long an answer is told again. Ordering looks at artwork, plan and cut-off anew, whatever was told. */
const TOLD_AGAIN_MS = 10_000;

/** All an answer depends on but the clock. */
export type Asked = {
  readonly head: ShopHead;
  /** as parsed by the contract's `Slip`. */
  readonly slip: unknown;
  readonly brief: boolean;
};

/**
 * Answers told a moment ago, for whoever asks the very same: another tab, another visitor, a slip changed and changed back.
 * A new booking, catalog or signing key is another question, whichever process made it: their versions are part of it.
 */
export class ToldQuotes {
  readonly #answers = new BoundedMap<
    string,
    { readonly atMs: number; readonly body: Uint8Array<ArrayBuffer> }
  >(KEPT_MOST);

  /** @param nowMs epoch ms */
  get(key: string, nowMs: number): Uint8Array<ArrayBuffer> | undefined {
    const told = this.#answers.get(key);
    return told !== undefined && nowMs - told.atMs >= 0 && nowMs - told.atMs < TOLD_AGAIN_MS
      ? told.body
      : undefined;
  }

  set(key: string, body: Uint8Array<ArrayBuffer>, nowMs: number): void {
    if (body.length <= BYTES_MOST) this.#answers.set(key, { atMs: nowMs, body });
  }

  /** The same for the same question. */
  static key({ head, slip, brief }: Asked): string {
    const { shop, catalogVersion, planVersion, signingKey } = head;
    // Parsed slips have their keys in the order of the schema.
    return sha256(JSON.stringify([shop, catalogVersion, planVersion, signingKey, brief, slip]));
  }
}
