import type { LocalText } from './contract/ids.ts';

/** The text in a language, else its primary language, else English, else any. */
export function pickText(text: LocalText, language: string): string {
  if (typeof text === 'string') return text;
  const primary = language.split('-')[0] ?? language;
  return text[language] ?? text[primary] ?? text.en ?? Object.values(text)[0] ?? '';
}
