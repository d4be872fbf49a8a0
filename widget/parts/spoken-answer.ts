import type { QuoteResponse } from '../../src/contract/index.ts';
import type { Words } from '../locales/words.ts';

/** An answer as it is announced to screen readers: price and day, or the reasons of a refusal, and how many findings. */
export function spokenAnswer(answer: QuoteResponse, words: Words): string {
  const placements =
    answer.kind === 'refusal' ? answer.findings : answer.lines.flatMap((line) => line.placements);
  const findings = placements.flatMap((placement) => placement.findings).length;
  const result =
    answer.kind === 'refusal'
      ? answer.reasons.map((entry) => words.reason(entry)).join(' ')
      : words.ui('spoken-answer', {
          unit: answer.lines[0]?.unit,
          total: answer.total,
          day: answer.promise.day,
        });
  return [result, findings > 0 ? words.ui('noticed', { count: findings }) : ''].join(' ').trim();
}
