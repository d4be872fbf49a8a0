import type { PublicCatalog } from '../../src/catalog/index.ts';
import { pickText } from '../../src/pick-text.ts';
import { Formatter, type Units } from '../format/index.ts';
import { Lazy } from '../lazy.ts';
import {
  type LaterMessages,
  type Line,
  loadLaterMessages,
  loadMessages,
  MessageFormat,
  type NameKind,
  spoken,
  type Values,
} from './index.ts';
import type { Words } from './words.ts';

/** A language ready to speak: its words, and how it writes figures. */
export type LoadedWords = {
  readonly language: string;
  readonly direction: 'ltr' | 'rtl';
  /** what is said once the customer has begun. */
  readonly later: Lazy<LaterMessages>;
  readonly words: Words;
  readonly format: MessageFormat;
  /** the same, for amounts of another currency. */
  readonly forCurrency: (currency: string) => MessageFormat;
};

/** Names of a catalog by kind and id. */
function namesIn(
  catalog: PublicCatalog | null,
  language: string,
): (kind: NameKind, id: string) => string | undefined {
  const found = new Map<string, string>();
  const put = (kind: NameKind, id: string, name: Parameters<typeof pickText>[0]): void => {
    if (!found.has(`${kind} ${id}`)) found.set(`${kind} ${id}`, pickText(name, language));
  };
  for (const method of catalog?.methods ?? []) {
    put('method', method.id, method.name);
    for (const treatment of method.treatments) put('treatment', treatment.id, treatment.name);
  }
  for (const finish of catalog?.finishes ?? []) put('finish', finish.id, finish.name);
  for (const way of catalog?.deliveries ?? []) put('delivery', way.id, way.name);
  for (const blank of catalog?.blanks ?? []) {
    put('blank', blank.id, blank.name);
    for (const face of blank.faces) {
      put('face', face.id, face.name);
      for (const keepOut of face.keepOuts) put('keep-out', keepOut.id, keepOut.name);
    }
    for (const color of blank.colors) put('color', color.id, color.name);
    for (const size of blank.sizes) put('size', size.id, size.name);
  }
  return (kind, id) => found.get(`${kind} ${id}`);
}

/**
 * Loads a language's first messages and binds them to a catalog. The later ones are fetched when the first of them is
 * asked for; until then their sentences are empty. Where those of another language are already there, so are these.
 *
 * @param changed called when the later messages came.
 * @param before the words these take the place of.
 */
export async function loadWords(
  language: string,
  units: Units,
  catalog: PublicCatalog | null,
  changed: () => void,
  before: LoadedWords | null,
): Promise<LoadedWords> {
  const coming = loadMessages(language);
  const wanted = new Formatter(language);
  const ownCurrency = catalog?.shop.currency ?? 'USD';
  // the first amount a page writes takes the browser some 10 ms: spent while the words are on their way
  wanted.money('0', ownCurrency, 'always');
  const { messages, language: loaded } = await coming;
  const later = new Lazy<LaterMessages>(() => loadLaterMessages(loaded), changed);
  if (before?.later.isLoaded) await later.fetch().catch(() => {});
  const formatter = language.startsWith(loaded) ? wanted : new Formatter(loaded);
  const lookUp = namesIn(catalog, loaded);
  const forCurrency = (currency: string): MessageFormat =>
    new MessageFormat(formatter, units, currency, lookUp);
  const say = forCurrency(ownCurrency);
  const sentence = (table: Readonly<Record<string, Line>>, key: string, values: Values): string =>
    Object.hasOwn(table, key) ? spoken(table[key] as Line, values, say) : key;
  const laterSentence = (
    table: Exclude<keyof LaterMessages, 'stage'>,
    key: string,
    values: Values = {},
  ): string => (later.value ? sentence(later.value[table], key, values) : '');
  return {
    language: loaded,
    direction: messages.direction,
    later,
    format: say,
    forCurrency,
    words: {
      ui: (key, values = {}) =>
        Object.hasOwn(messages.ui, key)
          ? sentence(messages.ui, key, values)
          : laterSentence('details', key, values),
      reason: ({ code, params }) => {
        const text = laterSentence('reasons', code, params);
        return text === '' || params['on'] === undefined
          ? text
          : `${say.name('face', params['on'])}: ${text}`;
      },
      finding: (finding) => laterSentence('findings', finding.code, finding.params),
      remedy: (kind) => laterSentence('remedies', kind),
      charge: (code, values) => laterSentence('charges', code, values),
      problem: (code) =>
        code === 'offline' ? sentence(messages.ui, code, {}) : laterSentence('problems', code),
      state: (state) => laterSentence('states', state),
      late: (code) => laterSentence('late', code),
      note: (code, values) => laterSentence('notes', code, values),
    },
  };
}
