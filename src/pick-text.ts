import type { LocalText } from './contract/ids.ts';

/** The text in the wanted language, its primary language, English, or whatever there is. */
export function pickText(text: LocalText, language: string): string {
  if (typeof text === 'string') return text;
  const primary = language.split('-')[0] ?? language;
  return text[language] ?? text[primary] ?? text.en ?? Object.values(text)[0] ?? '';
}
