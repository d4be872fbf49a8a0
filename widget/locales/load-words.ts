import type { PublicCatalog } from '../../src/catalog/index.ts';
import { pickText } from '../../src/pick-text.ts';
import { Formatter, type Units } from '../format/index.ts';
import { Lazy } from '../lazy.ts';
import {
  formatMessage,
  type LaterMessages,
  type Line,
  loadLaterMessages,
  loadMessages,
  MessageFormat,
  type NameKind,
  type Values,
} from './index.ts';
import type { Words } from './words.ts';

/** A loaded language: its messages, bound to a catalog and units. */
export type LoadedWords = {
  readonly language: string;
  readonly direction: 'ltr' | 'rtl';
  /** messages that are not needed before the customer has begun. */
  readonly later: Lazy<LaterMessages>;
  readonly words: Words;
  readonly format: MessageFormat;
  /** `format` for amounts of another currency. */
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
 * Loads a language's first messages and binds them to a catalog. The later ones are loaded when the first of them is
 * used, and are empty until then; if `previous` has its own, they are loaded before this resolves.
 *
 * @param changed called when the later messages have arrived
 * @param previous the words these replace
 */
export async function loadWords(
  language: string,
  units: Units,
  catalog: PublicCatalog | null,
  changed: () => void,
  previous: LoadedWords | null,
): Promise<LoadedWords> {
  const loading = loadMessages(language);
  const requested = new Formatter(language);
  const ownCurrency = catalog?.shop.currency ?? 'USD';
  // A browser's first amount takes it some 10 ms, which pass while the messages load.
  requested.money('0', ownCurrency, 'always');
  const { messages, language: loaded } = await loading;
  const later = new Lazy<LaterMessages>(() => loadLaterMessages(loaded), changed);
  if (previous?.later.isLoaded) await later.fetch().catch(() => {});
  const formatter = language.startsWith(loaded) ? requested : new Formatter(loaded);
  const lookUp = namesIn(catalog, loaded);
  const forCurrency = (currency: string): MessageFormat =>
    new MessageFormat(formatter, units, currency, lookUp);
  const format = forCurrency(ownCurrency);
  const fromTable = (table: Readonly<Record<string, Line>>, key: string, values: Values): string =>
    Object.hasOwn(table, key) ? formatMessage(table[key] as Line, values, format) : key;
  const fromLater = (
    table: Exclude<keyof LaterMessages, 'stage'>,
    key: string,
    values: Values = {},
  ): string => (later.value ? fromTable(later.value[table], key, values) : '');
  return {
    language: loaded,
    direction: messages.direction,
    later,
    format,
    forCurrency,
    words: {
      ui: (key, values = {}) =>
        Object.hasOwn(messages.ui, key)
          ? fromTable(messages.ui, key, values)
          : fromLater('details', key, values),
      reason: ({ code, params }) => {
        const text = fromLater('reasons', code, params);
        return text === '' || params['on'] === undefined
          ? text
          : `${format.name('face', params['on'])}: ${text}`;
      },
      finding: (finding) => fromLater('findings', finding.code, finding.params),
      remedy: (kind) => fromLater('remedies', kind),
      charge: (code, values) => fromLater('charges', code, values),
      problem: (code) =>
        code === 'offline' ? fromTable(messages.ui, code, {}) : fromLater('problems', code),
      state: (state) => fromLater('states', state),
      late: (code) => fromLater('late', code),
      note: (code, values) => fromLater('notes', code, values),
    },
  };
}
