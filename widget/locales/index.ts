import type { Messages } from './messages.ts';

export type { UiKey } from './en.ts';
export { type Line, type Messages, type SpokenPlace, type StageWords, spoken } from './messages.ts';
export { type NameKind, Say, type Sentence, type Values } from './say.ts';

/** A language file: one named export, the language's primary tag (`zh-Hant` becomes `zhHant`). */
type LanguageFile = Readonly<Record<string, Messages>>;

// Every file of this folder named by a language is a language: adding one is adding its file.
const files = import.meta.glob<LanguageFile>(['./??.ts', './???.ts', './??-*.ts', '!./say.ts']);

const tagOf = (path: string): string => path.slice(2, -3);

/** The languages the widget speaks, as BCP 47 tags, English first. */
export const LANGUAGES: readonly string[] = [
  'en',
  ...Object.keys(files)
    .map(tagOf)
    .filter((tag) => tag !== 'en')
    .sort(),
];

/** The language of ours nearest to a wanted tag: the tag itself, its primary language, or English. */
export function nearestLanguage(wanted: string): string {
  const lower = wanted.toLowerCase();
  const primary = lower.split('-')[0] ?? '';
  return (
    LANGUAGES.find((tag) => tag.toLowerCase() === lower) ?? LANGUAGES.find((tag) => tag === primary) ?? 'en'
  );
}

/**
 * The messages of the nearest language, and which language that is; English when its file does not arrive.
 *
 * @throws Error when no language arrives: the page is cut off, and there is nothing to say it with.
 */
export async function loadMessages(
  wanted: string,
): Promise<{ readonly messages: Messages; readonly language: string }> {
  for (const language of new Set([nearestLanguage(wanted), 'en'])) {
    try {
      const messages = Object.values((await files[`./${language}.ts`]?.()) ?? {})[0];
      if (messages) return { messages, language };
    } catch {
      // the file did not arrive: better English than nothing
    }
  }
  throw new Error(`no messages for "${wanted}", nor English ones`);
}

/** Scripts written from right to left, by ISO 15924 code. */
const RTL_SCRIPTS = ['Arab', 'Hebr', 'Thaa', 'Syrc', 'Nkoo', 'Adlm'];

/** Which way a language is written. */
export function directionOf(language: string): 'ltr' | 'rtl' {
  const script = new Intl.Locale(language).maximize().script ?? 'Latn';
  return RTL_SCRIPTS.includes(script) ? 'rtl' : 'ltr';
}
