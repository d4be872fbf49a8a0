/** Every word in every language: complete, with its figures, in the right plural. */
import { describe, expect, it } from 'vitest';
import { SourceNote } from '../../../src/contract/facts.ts';
import { ReasonCode } from '../../../src/contract/reason.ts';
import { Formatter, type PluralForms } from '../../../widget/format/index.ts';
import { messages as arFirst } from '../../../widget/locales/first/ar.ts';
import { messages as deFirst } from '../../../widget/locales/first/de.ts';
import { messages as enFirst } from '../../../widget/locales/first/en.ts';
import { messages as esFirst } from '../../../widget/locales/first/es.ts';
import { messages as jaFirst } from '../../../widget/locales/first/ja.ts';
import {
  LANGUAGES,
  loadLaterMessages,
  loadMessages,
  nearestLanguage,
} from '../../../widget/locales/index.ts';
import { messages as arLater } from '../../../widget/locales/later/ar.ts';
import { messages as deLater } from '../../../widget/locales/later/de.ts';
import { messages as enLater } from '../../../widget/locales/later/en.ts';
import { messages as esLater } from '../../../widget/locales/later/es.ts';
import { messages as jaLater } from '../../../widget/locales/later/ja.ts';
import { formatMessage, type Line, MessageFormat } from '../../../widget/locales/message-format.ts';
import type { FirstMessages, LaterMessages } from '../../../widget/locales/messages.ts';

type Messages = FirstMessages & LaterMessages;

const en: Messages = { ...enFirst, ...enLater };
const de: Messages = { ...deFirst, ...deLater };
const es: Messages = { ...esFirst, ...esLater };
const ja: Messages = { ...jaFirst, ...jaLater };
const ar: Messages = { ...arFirst, ...arLater };
const languages: Readonly<Record<string, Messages>> = { en, de, es, ja, ar };
const TABLES = [
  'ui',
  'details',
  'reasons',
  'findings',
  'remedies',
  'notes',
  'charges',
  'problems',
  'states',
  'late',
] as const;

/** Figures of every name any sentence reads, in the shape the wire has them. */
const FIGURES: Readonly<Record<string, unknown>> = {
  // lengths, mm
  ...Object.fromEntries(
    ['widthMm', 'heightMm', 'areaWidthMm', 'areaHeightMm', 'bedWidthMm', 'bedHeightMm', 'sheetWidthMm'].map(
      (key, i) => [key, 100.5 + i],
    ),
  ),
  ...{
    sheetHeightMm: 420,
    capHeightMm: 12.5,
    lineMm: 0.21,
    gapMm: 0.18,
    leastMm: 0.35,
    toMm: 0.4,
    goodWidthMm: 180,
    diameterMm: 90.5,
  },
  // counts and plain numbers
  ...{
    count: 24,
    names: 11,
    pieces: 12,
    least: 6,
    most: 500,
    number: 2,
    row: 3,
    column: 4,
    places: 4,
    washes: 50,
    washLife: 25,
  },
  ...{
    dpi: 71,
    leastDpi: 100,
    goodDpi: 150,
    widthPx: 1200,
    neededWidthPx: 2400,
    ratio: 21.5,
    frames: 8,
    pages: 3,
  },
  ...{
    horizonDays: 60,
    fromWidthPx: 9000,
    fromHeightPx: 8000,
    orientation: 6,
    hand: 3,
    gloss: 2,
    breathability: 1,
  },
  ...{ lightness: 18, mostMm: 80 },
  // shares
  ...{ share: 0.63, leastShare: '0.5', gap: 0.015, rate: '0.0825' },
  // money
  ...{ unit: '12.50', total: '300.00', difference: '4.20', fee: '15.00', amount: '3.00' },
  // days and hours
  ...{
    day: '2026-03-29',
    otherDay: '2026-04-02',
    neededBy: '2026-03-27',
    earliest: '2026-03-30',
    cutoff: '14:00',
  },
  until: '15:30',
  bytes: 1_048_576,
  // names and words
  ...{
    name: 'kettle.png',
    text: 'XXL',
    method: 'm-one',
    other: 'm-two',
    asked: 'm-two',
    finish: 'soft',
    face: 'back',
    blank: 'tee',
  },
  ...{
    color: 'navy',
    size: 'xl',
    treatment: 'second-cure',
    station: 'press',
    keepOut: 'hem',
  },
  ...{ surface: 'curved', quality: 'hand', step: 'print', hex: '#ffffff', clothHex: '#102030', named: 'png' },
  ...{
    found: 'jpeg',
    leastText: '1 mm',
    mostText: '300 mm',
    note: 'first-page-only',
    profile: 'P3',
    rush: true,
  },
  // lists
  ...{
    allowed: ['flat', 'cylinder'],
    fibers: ['cotton', 'linen'],
    fonts: ['A', 'B'],
    methods: ['m-one', 'm-two'],
    colors: ['#39ff14', '#ff10f0'],
  },
  prints: ['#30a020'],
};

/** The figures, and which of them were read. */
function watched(): { values: Record<string, unknown>; read: Set<string> } {
  const read = new Set<string>();
  const values = new Proxy({} as Record<string, unknown>, {
    get: (_target, key) => {
      if (typeof key !== 'string') return undefined;
      read.add(key);
      return FIGURES[key];
    },
    has: (_target, key) => key in FIGURES,
  });
  return { values, read };
}

class ListeningSay extends MessageFormat {
  readonly forms: PluralForms[] = [];
  override plural = (count: unknown, forms: PluralForms): string => {
    this.forms.push(forms);
    return this.formatter.plural(count, forms);
  };
}
const sayIn = (language: string) => new ListeningSay(new Formatter(language), 'mm', 'EUR');

const lines = (messages: Messages): [string, Line][] =>
  TABLES.flatMap((table) =>
    Object.entries(messages[table]).map(([key, line]): [string, Line] => [`${table} ${key}`, line]),
  );

const place = {
  widthMm: 90,
  heightMm: 60,
  xMm: -12.5,
  yMm: 80,
  angleDeg: 7.5,
  name: 'mark.png',
  face: 'Back',
};
const stageLines = (messages: Messages, say: MessageFormat): string[] => {
  const { stage } = messages;
  return [
    stage.drawing(say, 'Front'),
    stage.artworks,
    stage.keys,
    stage.artwork(say, place),
    stage.artwork(say, { ...place, xMm: 0, angleDeg: 0 }),
    stage.moved(say, place),
    stage.moved(say, { ...place, xMm: 3, angleDeg: 0 }),
    stage.wide(say, 90),
    stage.outside,
    stage.inKeepOut(say, 'hem'),
    stage.loading,
    stage.failed,
    stage.dropHere,
    stage.chooseFile,
  ];
};

const BROKEN = /undefined|NaN|\[object|null|Infinity|function|=>/;

it('finds the languages by their files', async () => {
  expect([...LANGUAGES].sort()).toEqual(['ar', 'de', 'en', 'es', 'ja']);
  expect(LANGUAGES[0]).toBe('en');
  for (const [tag, messages] of Object.entries(languages))
    expect((await loadMessages(tag)).messages.ui.slip, tag).toBe(messages.ui.slip);
  expect((await loadMessages('de-AT')).language).toBe('de');
  expect((await loadMessages('tlh')).language).toBe('en');
  expect((await loadLaterMessages('de')).remedies).toEqual(de.remedies);
  await expect(loadLaterMessages('tlh')).rejects.toThrow('tlh');
  expect(nearestLanguage('ES-mx')).toBe('es');
  // CLDR's likely script of a language tells which way it is written
  for (const [tag, { direction }] of Object.entries(languages))
    expect([tag, direction]).toEqual([
      tag,
      new Intl.Locale(tag).maximize().script === 'Arab' ? 'rtl' : 'ltr',
    ]);
  expect((await loadMessages('ar-EG')).messages.direction).toBe('rtl');
});

it('has a sentence for every code of the contract', () => {
  expect(Object.keys(en.reasons).sort()).toEqual([...ReasonCode.options].sort());
  const noteCodes = SourceNote.options.map((option) => option.shape.code.value);
  expect(Object.keys(en.notes).sort()).toEqual([...noteCodes].sort());
});

describe.each(Object.entries(languages))('%s', (language, messages) => {
  it('has the same keys as English', () => {
    for (const table of TABLES)
      expect(Object.keys(messages[table]).sort()).toEqual(Object.keys(en[table]).sort());
  });

  it('says every message with its figures, and reads the same figures as English', () => {
    const english = new Map(lines(en));
    for (const [key, line] of lines(messages)) {
      const say = sayIn(language);
      const { values, read } = watched();
      const words = formatMessage(line, values, say);
      expect(words.trim(), key).not.toBe('');
      expect(words, key).not.toMatch(BROKEN);
      expect(words.includes('–'), `${key}: ${words}`).toBe(false); // the dash of a missing figure
      const asked = watched();
      formatMessage(english.get(key)!, asked.values, sayIn('en'));
      expect([...read].sort(), key).toEqual([...asked.read].sort());
      for (const name of read) expect(name in FIGURES, `${key} reads ${name}`).toBe(true);
    }
    for (const words of stageLines(messages, sayIn(language))) expect(words).not.toMatch(BROKEN);
  });

  it('never breaks when figures are missing or of the wrong kind', () => {
    for (const [key, line] of lines(messages)) {
      expect(formatMessage(line, {}, sayIn(language)), key).not.toMatch(BROKEN);
      const odd = new Proxy({}, { get: () => Number.NaN });
      expect(formatMessage(line, odd, sayIn(language)), key).not.toMatch(BROKEN);
    }
  });

  it('has every plural form its language has', () => {
    const categories = new Intl.PluralRules(language).resolvedOptions().pluralCategories;
    let seen = 0;
    for (const [key, line] of lines(messages)) {
      const say = sayIn(language);
      formatMessage(line, watched().values, say);
      for (const forms of say.forms) {
        seen++;
        expect(Object.keys(forms).sort(), key).toEqual([...categories].sort());
      }
    }
    expect(seen).toBeGreaterThan(10);
  });

  it('leaves nothing in English', () => {
    if (language === 'en') return expect(messages).toBe(en);
    const same = lines(messages).filter(([key, line]) => {
      const english = new Map(lines(en)).get(key)!;
      return formatMessage(line, FIGURES, sayIn('en')) === formatMessage(english, FIGURES, sayIn('en'));
    });
    // words the languages share
    const shared = new Set(['Name', 'Color', 'Total', 'Subtotal', 'Names']);
    expect(
      same.map(([, line]) => line).filter((line) => typeof line !== 'string' || !shared.has(line)),
    ).toEqual([]);
  });
});

describe('plurals', () => {
  const count = (language: string, messages: Messages) => (n: number) =>
    formatMessage(messages.ui.pieces, { count: n }, sayIn(language));

  it('of English, German and Spanish', () => {
    expect([1, 2, 0].map(count('en', en))).toEqual(['1 piece', '2 pieces', '0 pieces']);
    expect([1, 2].map(count('de', de))).toEqual(['1 Stück', '2 Stück']);
    expect([1, 2, 1_000_000].map(count('es', es))).toEqual(['1 pieza', '2 piezas', '1.000.000 de piezas']);
  });

  // CLDR plural rules of Arabic: zero 0, one 1, two 2, few n % 100 = 3..10, many n % 100 = 11..99, other
  it('of Arabic, all six', () => {
    expect([0, 1, 2, 3, 11, 100].map(count('ar-u-nu-latn', ar))).toEqual([
      'لا قطع',
      'قطعة واحدة',
      'قطعتان',
      '3 قطع',
      '11 قطعة',
      '100 قطعة',
    ]);
  });
});
