import type { Alternative } from '../../../src/contract/index.ts';
import type { SlipContext } from '../context.ts';

/** An alternative in words: method, hand, wash life and the change of day; or the reasons it is not possible. */
export function describeChange(ctx: SlipContext, other: Omit<Alternative, 'change'>): string {
  const { ui, reason } = ctx.words;
  if (!other.possible) return other.reasons.map(reason).join(' ');
  const { dayShift } = other;
  const parts = describeMethod(ctx, other);
  if (dayShift === 0) parts.push(ui('same-day'));
  else if (dayShift !== undefined)
    parts.push(ui(dayShift > 0 ? 'days-later' : 'days-earlier', { count: Math.abs(dayShift) }));
  return parts.join(' · ');
}

/** The method, its hand and its wash life, as far as they are known. */
export function describeMethod(
  ctx: SlipContext,
  { method, qualities }: Pick<Alternative, 'method' | 'qualities'>,
): string[] {
  const { ui } = ctx.words;
  const parts: string[] = [];
  if (method) parts.push(ctx.format.name('method', method));
  if (qualities)
    parts.push(ui('hand-and-wash', { hand: ui(handKey(qualities.hand)), washes: qualities.washLifeCycles }));
  return parts;
}

/** The message for a hand of 0 (nothing felt) to 4. */
function handKey(hand: number): 'hand-0' | 'hand-1' | 'hand-2' | 'hand-3' {
  if (hand < 0.75) return 'hand-0';
  if (hand < 1.5) return 'hand-1';
  if (hand < 2.5) return 'hand-2';
  return 'hand-3';
}
