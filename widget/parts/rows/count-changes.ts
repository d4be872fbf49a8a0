import type { Alternative, QuoteAnswer, QuoteResponse } from '../../../src/contract/index.ts';
import { digitsOf } from '../../../src/figures.ts';
import { type DraftLine, toSlip, withLine } from '../../draft/draft.ts';
import { scaleCounts } from '../../draft/scale-counts.ts';
import type { SlipContext } from '../context.ts';

/** How long a slip stays as it is before other counts of it are asked for: a hand that drags is not done, ms. */
const SETTLED_MS = 250;
const DAY_MS = 86_400_000;

type Step = Omit<Alternative, 'change'>;

/** What was asked beside each answer, by line and count; null while it is on its way. */
const asked = new WeakMap<QuoteAnswer, Map<string, Step | null>>();

/** What another count of a line would change; null until the shop has said so. Asked once beside each answer. */
export function countStep(ctx: SlipContext, line: DraftLine, count: number): Step | null {
  const now = ctx.quote.answer;
  if (now?.kind !== 'quote' || !ctx.quote.fresh) return null;
  const steps = asked.get(now) ?? new Map<string, Step | null>();
  asked.set(now, steps);
  const key = `${line.id} ${count}`;
  const known = steps.get(key);
  if (known !== undefined) return known;
  steps.set(key, null);
  const slip = toSlip(withLine(ctx.draft, line.id, (old) => scaleCounts(old, count)));
  if (slip)
    setTimeout(
      () => ctx.askBeside(now, slip, (then) => steps.set(key, then && stepBetween(now, then, line.id))),
      SETTLED_MS,
    );
  return null;
}

function stepBetween(now: QuoteAnswer, then: QuoteResponse, line: string): Step {
  if (then.kind === 'refusal') return { possible: false, reasons: then.reasons };
  const first = then.lines.find(({ id }) => id === line)?.placements[0];
  return {
    possible: true,
    difference: (Number(then.total) - Number(now.total)).toFixed(digitsOf(now.total)),
    dayShift: (Date.parse(then.promise.day) - Date.parse(now.promise.day)) / DAY_MS,
    ...(first ? { method: first.method.id, qualities: first.qualities } : {}),
    reasons: [],
  };
}
