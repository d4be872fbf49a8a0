import type { Alternative } from '../../../src/contract/index.ts';
import type { SlipContext } from '../context.ts';

/** In words: the method, its hand and wash life, and a later, earlier or the same day; or what rules it out. */
export function whatChanges(ctx: SlipContext, other: Omit<Alternative, 'change'>): string {
  const { ui, reason } = ctx.words;
  if (!other.possible) return other.reasons.map(reason).join(' ');
  const { dayShift } = other;
  const parts = howMade(ctx, other);
  if (dayShift === 0) parts.push(ui('same-day'));
  else if (dayShift !== undefined)
    parts.push(ui(dayShift > 0 ? 'days-later' : 'days-earlier', { count: Math.abs(dayShift) }));
  return parts.join(' · ');
}

/** What is known of how it is made: the method, its hand and wash life. */
export function howMade(
  ctx: SlipContext,
  { method, qualities }: Pick<Alternative, 'method' | 'qualities'>,
): string[] {
  const { ui } = ctx.words;
  const parts: string[] = [];
  if (method) parts.push(ctx.say.name('method', method));
  if (qualities)
    parts.push(ui('hand-and-wash', { hand: ui(handWord(qualities.hand)), washes: qualities.washLifeCycles }));
  return parts;
}

/** The word for a hand of 0 to 4. */
function handWord(hand: number): 'hand-0' | 'hand-1' | 'hand-2' | 'hand-3' {
  if (hand < 0.75) return 'hand-0';
  if (hand < 1.5) return 'hand-1';
  if (hand < 2.5) return 'hand-2';
  return 'hand-3';
}
