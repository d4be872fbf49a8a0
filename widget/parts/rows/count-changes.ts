import type { Alternative, QuoteAnswer, QuoteResponse } from '../../../src/contract/index.ts';
import { digitsOf } from '../../../src/figures.ts';
import { type DraftLine, toSlip, withLine } from '../../draft/draft.ts';
import { scaleCounts } from '../../draft/scale-counts.ts';
import type { SlipContext } from '../context.ts';

/** How long a slip must stay unchanged before other counts of it are quoted, ms: a drag is still going on. */
const SETTLED_MS = 250;
const DAY_MS = 86_400_000;

type CountChange = Omit<Alternative, 'change'>;

/** Changes by answer, then by line and count; null while the quote is on its way. */
const changesByAnswer = new WeakMap<QuoteAnswer, Map<string, CountChange | null>>();

/** What another count of a line would change; null until it is known. Quoted once for each answer. */
export function countChange(ctx: SlipContext, line: DraftLine, count: number): CountChange | null {
  const now = ctx.quote.answer;
  if (now?.kind !== 'quote' || !ctx.quote.isFresh) return null;
  const changes = changesByAnswer.get(now) ?? new Map<string, CountChange | null>();
  changesByAnswer.set(now, changes);
  const key = `${line.id} ${count}`;
  const known = changes.get(key);
  if (known !== undefined) return known;
  changes.set(key, null);
  const slip = toSlip(withLine(ctx.draft, line.id, (old) => scaleCounts(old, count)));
  if (slip)
    setTimeout(
      () =>
        ctx.quoteBriefly(now, slip, (other) => changes.set(key, other && changeBetween(now, other, line.id))),
      SETTLED_MS,
    );
  return null;
}

function changeBetween(now: QuoteAnswer, other: QuoteResponse, line: string): CountChange {
  if (other.kind === 'refusal') return { possible: false, reasons: other.reasons };
  const first = other.lines.find(({ id }) => id === line)?.placements[0];
  return {
    possible: true,
    difference: (Number(other.total) - Number(now.total)).toFixed(digitsOf(now.total)),
    dayShift: (Date.parse(other.promise.day) - Date.parse(now.promise.day)) / DAY_MS,
    ...(first ? { method: first.method.id, qualities: first.qualities } : {}),
    reasons: [],
  };
}
