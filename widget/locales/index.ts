import type { FirstMessages, LaterMessages } from './messages.ts';

export type { DetailKey, UiKey } from './en.ts';
export { type LaterMessages, type LateWord, type Line, type StageWords, spoken } from './messages.ts';
export { MessageFormat, type NameKind, type Sentence, type Values } from './say.ts';

/** A language file: one named export, the language's primary tag (`zh-Hant` becomes `zhHant`). */
type LanguageFile<Part> = Readonly<Record<string, Part>>;
type LanguageFiles<Part> = Readonly<Record<string, () => Promise<LanguageFile<Part>>>>;

// Every file of this folder named by a language is a language: adding one is adding its file. The build makes two files
// of each, by the query; unbuilt, both hold everything.
const firstFiles: LanguageFiles<FirstMessages> = import.meta.glob(
  ['./??.ts', './???.ts', './??-*.ts', '!./say.ts'],
  { query: '?first' },
);
const laterFiles: LanguageFiles<LaterMessages> = import.meta.glob(
  ['./??.ts', './???.ts', './??-*.ts', '!./say.ts'],
  { query: '?later' },
);

const tagOf = (path: string): string => path.slice(2, -3);

/** The languages the widget speaks, as BCP 47 tags, English first. */
export const LANGUAGES: readonly string[] = [
  'en',
  ...Object.keys(firstFiles)
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
 * What the nearest language says first, and which language that is; English when its file does not arrive.
 *
 * @throws Error when no language arrives: the page is cut off, and there is nothing to say it with.
 */
export async function loadMessages(
  wanted: string,
): Promise<{ readonly messages: FirstMessages; readonly language: string }> {
  for (const language of new Set([nearestLanguage(wanted), 'en'])) {
    const messages = await partOf(firstFiles, language);
    if (messages) return { messages, language };
  }
  throw new Error(`no messages for "${wanted}", nor English ones`);
}

/** What a language of `LANGUAGES` says later. @throws Error when its file does not arrive. */
export async function loadLaterMessages(language: string): Promise<LaterMessages> {
  const messages = await partOf(laterFiles, language);
  if (!messages) throw new Error(`no messages for "${language}"`);
  return messages;
}

async function partOf<Part>(files: LanguageFiles<Part>, language: string): Promise<Part | null> {
  try {
    return Object.values((await files[`./${language}.ts`]?.()) ?? {})[0] ?? null;
  } catch {
    return null; // the file did not arrive
  }
}
