import type { EpochS } from '../types.ts';

/** [from, to) in epoch seconds. */
export type Span = {
  readonly from: EpochS;
  readonly to: EpochS;
};

/** Sorts spans, drops empty ones and joins those that touch or overlap. */
export function mergeSpans(spans: readonly Span[]): Span[] {
  const sorted = spans.filter((span) => span.to > span.from).sort((a, b) => a.from - b.from);
  const merged: { from: EpochS; to: EpochS }[] = [];
  for (const span of sorted) {
    const last = merged.at(-1);
    if (last && span.from <= last.to) last.to = Math.max(last.to, span.to);
    else merged.push({ from: span.from, to: span.to });
  }
  return merged;
}

/** What two merged lists have in common. */
export function commonSpans(a: readonly Span[], b: readonly Span[]): Span[] {
  const common: Span[] = [];
  let i = 0;
  let j = 0;
  while (i < a.length && j < b.length) {
    const x = a[i]!;
    const y = b[j]!;
    const from = Math.max(x.from, y.from);
    const to = Math.min(x.to, y.to);
    if (to > from) common.push({ from, to });
    if (x.to < y.to) i++;
    else j++;
  }
  return common;
}

/** What is left of a merged list without another merged list. */
export function spansWithout(a: readonly Span[], out: readonly Span[]): Span[] {
  const left: Span[] = [];
  let j = 0;
  for (const span of a) {
    let from = span.from;
    while (j < out.length && out[j]!.to <= from) j++;
    for (let k = j; k < out.length && out[k]!.from < span.to; k++) {
      const hole = out[k]!;
      if (hole.from > from) left.push({ from, to: hole.from });
      from = Math.max(from, hole.to);
    }
    if (from < span.to) left.push({ from, to: span.to });
  }
  return left;
}

/**
 * Open hours laid end to end. `workAt` maps an instant to the open seconds that lie before it, and `startAt`, `endAt`
 * map back, so that on this scale closed hours do not exist and a step that pauses over them is one plain interval.
 */
export class OpenHours {
  readonly count: number;
  readonly opens: Float64Array;
  readonly closes: Float64Array;
  /** open seconds before `opens[i]`. */
  readonly #before: Float64Array;
  /** all open seconds. */
  readonly totalS: number;
  readonly #origin: number;
  /** for each whole day after the first opening: the last span that opened by its start. */
  readonly #hint: Int32Array;

  /** @param spans merged, ascending */
  constructor(spans: readonly Span[]) {
    this.count = spans.length;
    this.opens = new Float64Array(spans.length);
    this.closes = new Float64Array(spans.length);
    this.#before = new Float64Array(spans.length);
    let total = 0;
    spans.forEach((span, i) => {
      this.opens[i] = span.from;
      this.closes[i] = span.to;
      this.#before[i] = total;
      total += span.to - span.from;
    });
    this.totalS = total;
    this.#origin = spans[0]?.from ?? 0;
    const lastOpen = spans.at(-1)?.from ?? 0;
    this.#hint = new Int32Array(spans.length === 0 ? 0 : Math.floor((lastOpen - this.#origin) / 86_400) + 1);
    for (let day = 0, i = 0; day < this.#hint.length; day++) {
      while (i + 1 < spans.length && spans[i + 1]!.from <= this.#origin + day * 86_400) i++;
      this.#hint[day] = i;
    }
  }

  get spans(): Span[] {
    return Array.from(this.opens, (from, i) => ({ from, to: this.closes[i]! }));
  }

  /** Open seconds before an instant. */
  workAt(at: EpochS): number {
    if (this.count === 0 || at <= this.#origin) return 0;
    const i = this.spanAt(at);
    const close = this.closes[i]!;
    return this.#before[i]! + (at < close ? at : close) - this.opens[i]!;
  }

  /** The instant at which work begins that has `work` open seconds before it; Infinity past the end. */
  startAt(work: number): EpochS {
    if (work >= this.totalS) return Number.POSITIVE_INFINITY;
    const i = this.#spanOfWork(work);
    return this.opens[i]! + work - this.#before[i]!;
  }

  /** The instant at which work is over that has `work` open seconds before its end; Infinity past the end. */
  endAt(work: number): EpochS {
    if (work > this.totalS || this.count === 0) return Number.POSITIVE_INFINITY;
    let i = this.#spanOfWork(work);
    if (i > 0 && this.#before[i] === work) i--;
    return this.opens[i]! + work - this.#before[i]!;
  }

  /** Index of the last span that opens at or before an instant; 0 before the first. */
  spanAt(at: EpochS): number {
    const day = Math.floor((at - this.#origin) / 86_400);
    if (day < 0) return 0;
    let i = day < this.#hint.length ? this.#hint[day]! : this.#hint[this.#hint.length - 1]!;
    while (i + 1 < this.count && this.opens[i + 1]! <= at) i++;
    return i;
  }

  /** The open stretches between two instants. */
  between(from: EpochS, to: EpochS): Span[] {
    const spans: Span[] = [];
    if (this.count === 0) return spans;
    for (let i = this.spanAt(from); i < this.count && this.opens[i]! < to; i++) {
      const a = Math.max(from, this.opens[i]!);
      const b = Math.min(to, this.closes[i]!);
      if (b > a) spans.push({ from: a, to: b });
    }
    return spans;
  }

  #spanOfWork(work: number): number {
    const before = this.#before;
    let low = 0;
    let high = this.count - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (before[middle]! <= work) low = middle;
      else high = middle - 1;
    }
    return low;
  }
}
