import type { ShopHead } from '../store/shops.ts';
import { BoundedMap } from './lru-map.ts';

/** Answers kept, and how long one and its question may be together: 32 MiB at most. Three lines are answered in 10 KB. */
const MAX_RESPONSES = 256;
const MAX_ENTRY_BYTES = 128 * 1024;
/** How long an answer is told again. Ordering looks at artwork, plan and cut-off anew, whatever was told. */
const TOLD_AGAIN_MS = 10_000;

/**
 * Answers told a moment ago, for whoever asks the very same: another tab, another visitor, a slip changed and changed back.
 * A question is the body as it came, letter by letter, so that one known needs not be read again. A new booking, catalog
 * or signing key makes it another question, whichever process made it: their versions are part of it.
 */
export class QuoteAnswerCache {
  readonly #answers = new BoundedMap<
    string,
    { readonly atMs: number; readonly body: Uint8Array<ArrayBuffer> }
  >(MAX_RESPONSES);

  /** @param nowMs epoch ms */
  get(key: string, nowMs: number): Uint8Array<ArrayBuffer> | undefined {
    const told = this.#answers.get(key);
    return told !== undefined && nowMs - told.atMs >= 0 && nowMs - told.atMs < TOLD_AGAIN_MS
      ? told.body
      : undefined;
  }

  set(question: string, body: Uint8Array<ArrayBuffer>, nowMs: number): void {
    // Two bytes a letter, at worst.
    if (2 * question.length + body.length <= MAX_ENTRY_BYTES)
      this.#answers.set(question, { atMs: nowMs, body });
  }

  /**
   * The same for the same question.
   * @param text the body as it came
   */
  static question(head: ShopHead, text: string): string {
    return `${head.shop} ${head.catalogVersion} ${head.planVersion} ${head.signingKey} ${text}`;
  }
}
