import type {
  Charge,
  FindingCode,
  LateCode,
  OrderState,
  ProblemCode,
  ReasonCode,
  Remedy,
  SourceNote,
} from '../../src/contract/index.ts';
import type { DetailKey, UiKey } from './en.ts';
import type { MessageFormat, Sentence, Values } from './say.ts';

/** A message: words as they are, or a sentence built from figures. */
export type Line = string | Sentence;

/** Where an artwork's ink lies, for the words that say so. */
export type SpokenPlace = {
  readonly widthMm: number;
  readonly xMm: number;
  readonly yMm: number;
  readonly angleDeg: number;
};

/** Words of the drawing. */
export type StageWords = {
  readonly drawing: (say: MessageFormat, view: string) => string;
  readonly artworks: string;
  readonly keys: string;
  readonly artwork: (
    say: MessageFormat,
    p: SpokenPlace & { readonly name: string; readonly face: string; readonly heightMm: number },
  ) => string;
  readonly moved: (say: MessageFormat, p: SpokenPlace) => string;
  readonly wide: (say: MessageFormat, widthMm: number) => string;
  readonly outside: string;
  readonly inKeepOut: (say: MessageFormat, name: string) => string;
  readonly loading: string;
  readonly failed: string;
  readonly dropHere: string;
  readonly chooseFile: string;
};

/** What is said from the first sight of the slip on. */
export type FirstMessages = {
  /** which way the language is written. */
  readonly direction: 'ltr' | 'rtl';
  readonly ui: Readonly<Record<UiKey, Line>>;
};

/** What is said of an order that does not keep its day. */
export type LateWord = LateCode | 'not-kept' | 'no-day-yet';

/** What is said once there is something to say it of. */
export type LaterMessages = {
  /** of the interface, where it unfolds once the customer has begun. */
  readonly details: Readonly<Record<DetailKey, Line>>;
  readonly reasons: Readonly<Record<ReasonCode, Line>>;
  readonly findings: Readonly<Record<FindingCode, Line>>;
  readonly remedies: Readonly<Record<Remedy['kind'], string>>;
  readonly notes: Readonly<Record<SourceNote['code'], Line>>;
  readonly charges: Readonly<Record<Charge['code'], Line>>;
  readonly problems: Readonly<Record<ProblemCode, Line>>;
  readonly states: Readonly<Record<OrderState, string>>;
  readonly late: Readonly<Record<LateWord, string>>;
  readonly stage: StageWords;
};

/** Everything the widget can say, in one language: what a language's file exports. The build makes two of it. */
export type Messages = FirstMessages & LaterMessages;

/** The words of a message with its figures. */
export function spoken(line: Line, values: Values, say: MessageFormat): string {
  return typeof line === 'string' ? line : line(values, say);
}

/** The sentence of a note of reading the file, as a finding carries it: `values.note` is its code. */
export function spokenNote(notes: Messages['notes'], values: Values, say: MessageFormat): string {
  const code = values['note'];
  if (typeof code !== 'string' || !Object.hasOwn(notes, code)) return say.text(code);
  return spoken(notes[code as keyof Messages['notes']], values, say);
}
