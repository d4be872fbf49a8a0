import type { PublicCatalog } from '../../src/catalog/index.ts';
import { pickText } from '../../src/pick-text.ts';
import { Formatter, type Units } from '../format/index.ts';
import {
  directionOf,
  type Line,
  loadMessages,
  type Messages,
  type NameKind,
  Say,
  spoken,
  type Values,
} from '../locales/index.ts';
import type { Words } from '../parts/context.ts';

/** A language ready to speak: its words, and how it writes figures. */
export type LoadedWords = {
  readonly language: string;
  readonly direction: 'ltr' | 'rtl';
  readonly messages: Messages;
  readonly words: Words;
  readonly say: Say;
  /** the same, for amounts of another currency. */
  readonly forCurrency: (currency: string) => Say;
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
  for (const method of catalog?.methods ?? []) put('method', method.id, method.name);
  for (const finish of catalog?.finishes ?? []) put('finish', finish.id, finish.name);
  for (const way of catalog?.deliveries ?? []) put('delivery', way.id, way.name);
  for (const blank of catalog?.blanks ?? []) {
    for (const face of blank.faces) {
      put('face', face.id, face.name);
      for (const keepOut of face.keepOuts) put('keep-out', keepOut.id, keepOut.name);
    }
    for (const color of blank.colors) put('color', color.id, color.name);
    for (const size of blank.sizes) put('size', size.id, size.name);
  }
  return (kind, id) => found.get(`${kind} ${id}`);
}

/** Loads a language's messages (once; each is a file of its own) and binds them to a catalog. */
export async function loadWords(
  language: string,
  units: Units,
  catalog: PublicCatalog | null,
): Promise<LoadedWords> {
  const { messages, language: loaded } = await loadMessages(language);
  const formatter = new Formatter(language.startsWith(loaded) ? language : loaded);
  const lookUp = namesIn(catalog, loaded);
  const forCurrency = (currency: string): Say => new Say(formatter, units, currency, lookUp);
  const say = forCurrency(catalog?.shop.currency ?? 'USD');
  const sentence = (table: Readonly<Record<string, Line>>, key: string, values: Values): string =>
    Object.hasOwn(table, key) ? spoken(table[key] as Line, values, say) : key;
  return {
    language: loaded,
    direction: directionOf(loaded),
    messages,
    say,
    forCurrency,
    words: {
      ui: (key, values = {}) => sentence(messages.ui, key, values),
      reason: (reason) => sentence(messages.reasons, reason.code, reason.params),
      finding: (finding) => sentence(messages.findings, finding.code, finding.params),
      remedy: (kind) => sentence(messages.remedies, kind, {}),
      charge: (code, values) => sentence(messages.charges, code, values),
      problem: (code) =>
        code === 'offline' ? sentence(messages.ui, code, {}) : sentence(messages.problems, code, {}),
      state: (state) => sentence(messages.states, state, {}),
      note: (code, values) => sentence(messages.notes, code, values),
    },
  };
}
