import type { FirstMessages, LaterMessages } from './messages.ts';

export type { LateWord } from './code-messages.ts';
export type { UiKey } from './first/en.ts';
export type { DetailKey } from './later/en.ts';
export {
  formatMessage,
  type Line,
  MessageFormat,
  type NameKind,
  type Sentence,
  type Values,
} from './message-format.ts';
export type { LaterMessages } from './messages.ts';
export type { StageWords } from './stage-words.ts';

type Files<Part> = Readonly<Record<string, () => Promise<Part>>>;

// A language is its two files, named by its BCP 47 tag. They are found by name, so adding them is all it takes. The two
// import no values of each other: what both need is written in both, or the browser would have a third file to fetch.
const firstFiles: Files<FirstMessages> = import.meta.glob('./first/*.ts', { import: 'messages' });
const laterFiles: Files<LaterMessages> = import.meta.glob('./later/*.ts', { import: 'messages' });

/** The languages the widget speaks, as BCP 47 tags, English first. */
export const LANGUAGES: readonly string[] = [
  'en',
  ...Object.keys(firstFiles)
    .map((path) => path.slice('./first/'.length, -'.ts'.length))
    .filter((tag) => tag !== 'en')
    .sort(),
];

/** The available language closest to a wanted tag: the tag itself, its primary language, or English. */
export function nearestLanguage(wanted: string): string {
  const lower = wanted.toLowerCase();
  const primary = lower.split('-')[0] ?? '';
  return (
    LANGUAGES.find((tag) => tag.toLowerCase() === lower) ?? LANGUAGES.find((tag) => tag === primary) ?? 'en'
  );
}

/**
 * The first messages of the nearest language, and which language that is; English where its file does not arrive.
 *
 * @throws Error when no language arrives, English included
 */
export async function loadMessages(
  wanted: string,
): Promise<{ readonly messages: FirstMessages; readonly language: string }> {
  for (const language of new Set([nearestLanguage(wanted), 'en'])) {
    const messages = await firstFiles[`./first/${language}.ts`]?.().catch(() => undefined);
    if (messages) return { messages, language };
  }
  throw new Error(`no messages for "${wanted}", nor English ones`);
}

/** The later messages of a language of `LANGUAGES`. @throws Error when its file does not arrive */
export async function loadLaterMessages(language: string): Promise<LaterMessages> {
  const messages = await laterFiles[`./later/${language}.ts`]?.();
  if (!messages) throw new Error(`no messages for "${language}"`);
  return messages;
}
