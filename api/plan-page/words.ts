import { ar } from './words/ar.ts';
import { de } from './words/de.ts';
import { en } from './words/en.ts';
import { es } from './words/es.ts';
import { ja } from './words/ja.ts';

import type { PlanWords } from './words/plan-words.ts';

const LANGUAGES: Readonly<Record<string, PlanWords>> = { ar, de, en, es, ja };
const RIGHT_TO_LEFT: ReadonlySet<string> = new Set(['ar', 'fa', 'he', 'ur']);

/** The words for a shop's language; English if it is not supported. */
export function planWords(language: string): {
  readonly words: PlanWords;
  /** the language of the words. */
  readonly language: string;
  readonly rightToLeft: boolean;
} {
  const base = language.split('-')[0]!.toLowerCase();
  const known = Object.hasOwn(LANGUAGES, base);
  return {
    words: known ? LANGUAGES[base]! : en,
    language: known ? language : 'en',
    rightToLeft: known && RIGHT_TO_LEFT.has(base),
  };
}

/** Replaces `{name}` by values. */
export function fillTemplate(
  text: string,
  values: Readonly<Record<string, string | number | undefined>>,
): string {
  return text.replace(/\{(\w+)\}/g, (_, name: string) => String(values[name] ?? '–'));
}
