import type { Formatter, PluralForms, Units } from '../format/index.ts';
import { MISSING } from '../format/index.ts';

/** Values that fill a sentence, as the API sends them. */
export type Values = Readonly<Record<string, unknown>>;

/** What an id in a sentence identifies; its name is looked up in the catalog. */
export type NameKind =
  | 'blank'
  | 'method'
  | 'finish'
  | 'face'
  | 'station'
  | 'treatment'
  | 'color'
  | 'size'
  | 'delivery'
  | 'keep-out'
  | 'step';

/**
 * Formats the values in messages: in one language, the customer's units, one currency, and the catalog's names. Every
 * method takes unknown values and returns a dash for a missing one, so that no sentence ever says "undefined".
 */
export class MessageFormat {
  readonly formatter: Formatter;
  readonly units: Units;
  readonly currency: string;
  readonly #lookUp: (kind: NameKind, id: string) => string | undefined;

  constructor(
    formatter: Formatter,
    units: Units,
    currency: string,
    lookUp: (kind: NameKind, id: string) => string | undefined = () => undefined,
  ) {
    this.formatter = formatter;
    this.units = units;
    this.currency = currency;
    this.#lookUp = lookUp;
  }

  n = (value: unknown): string => this.formatter.number(value);
  len = (mm: unknown): string => this.formatter.length(mm, this.units);
  fine = (mm: unknown): string => this.formatter.fineLength(mm, this.units);
  size = (widthMm: unknown, heightMm: unknown): string => this.formatter.size(widthMm, heightMm, this.units);
  angle = (deg: unknown): string => this.formatter.angle(deg);
  money = (amount: unknown): string => this.formatter.money(amount, this.currency);
  moreOrLess = (amount: unknown): string => this.formatter.money(amount, this.currency, 'always');
  day = (iso: unknown): string => this.formatter.day(iso);
  /** @param clock `14:00` */
  time = (clock: unknown): string => this.formatter.time(clock);
  percent = (share: unknown): string => this.formatter.percent(share);
  plural = (count: unknown, forms: PluralForms): string => this.formatter.plural(count, forms);
  bytes = (value: unknown): string => this.formatter.bytes(value);

  /** A text as it is; a dash when there is none. */
  text = (value: unknown): string =>
    typeof value === 'string' && value !== '' ? value : typeof value === 'number' ? this.n(value) : MISSING;

  /** The catalog's name of an id, or the id itself. */
  name = (kind: NameKind, id: unknown): string =>
    typeof id === 'string' && id !== '' ? (this.#lookUp(kind, id) ?? id) : MISSING;

  /** A list of names, each looked up. */
  names = (kind: NameKind, ids: unknown, join: 'and' | 'or' = 'and'): string =>
    this.formatter.list(Array.isArray(ids) ? ids.map((id) => this.name(kind, id)) : ids, join);

  /** The entry of a table for a fixed word of the API; the word itself where the table has none. */
  word = (table: Readonly<Record<string, string>>, key: unknown): string =>
    typeof key === 'string' && Object.hasOwn(table, key) ? (table[key] ?? key) : this.text(key);

  /** The entries for several fixed words, joined by "or". */
  anyOf = (table: Readonly<Record<string, string>>, keys: unknown): string =>
    this.list(Array.isArray(keys) ? keys.map((key) => this.word(table, key)) : keys, 'or');

  list = (words: unknown, join: 'and' | 'or' = 'and'): string => this.formatter.list(words, join);
}

/** A sentence built from the values of a code. */
export type Sentence = (values: Values, say: MessageFormat) => string;

/** A message: fixed text, or a sentence built from values. */
export type Line = string | Sentence;

/** The text of a message with its values filled in. */
export function formatMessage(line: Line, values: Values, say: MessageFormat): string {
  return typeof line === 'string' ? line : line(values, say);
}

/** The sentence for a note made while reading a file; a finding carries the note's code as `values.note`. */
export function formatNote(
  notes: Readonly<Record<string, Line>>,
  values: Values,
  say: MessageFormat,
): string {
  const code = values['note'];
  const line = typeof code === 'string' && Object.hasOwn(notes, code) ? notes[code] : undefined;
  return line === undefined ? say.text(code) : formatMessage(line, values, say);
}
