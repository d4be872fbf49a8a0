import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { costOf } from '../../../src/pricing/index.ts';
import {
  CAUTION_DEFERS,
  careCard,
  cautionsOf,
  eachSheet,
  planSheets,
  ticketOf,
} from '../../../src/production/index.ts';
import type { RoutedSlip } from '../../../src/routing/routed.ts';
import type { PlacedPrint } from '../../../src/routing/work.ts';
import { billShop } from '../../fixtures/bill-shop.ts';
import { anyOrder } from '../../fixtures/orders.ts';
import { type RoutedLineInput, routedOf } from '../../fixtures/routed.ts';

const HEAD = { number: 'B-104', packedDay: '2026-03-05', promisedDay: '2026-03-06' };

/** The fixture shop with hazards, settings and uses. */
function shop() {
  const { catalog } = billShop();
  const methods = structuredClone(catalog.methods);
  const [ink, sheet] = methods;
  ink!.chokeMm = 0.3;
  ink!.steps[0]!.hazards = ['moving-parts'];
  ink!.steps[2]!.hazards = ['hot-surface', 'curing-fumes'];
  ink!.steps[2]!.settings = { temperatureC: 160, timeS: 180 };
  sheet!.steps[0]!.settings = { mirrored: true };
  sheet!.steps[1]!.hazards = ['hot-surface'];
  sheet!.steps[1]!.settings = { temperatureC: 150, timeS: 25, pressure: 'firm', peel: 'cold' };
  const blanks = structuredClone(catalog.blanks);
  blanks[0]!.care = [{ en: 'Wash at 30 °C.', de: 'Bei 30 °C waschen.' }];
  blanks[0]!.use = ['childrens'];
  return billShop({}, {}, { methods, blanks });
}

const catalog = shop();
const ticket = (lines: readonly RoutedLineInput[]) => ticketOf(routedOf(catalog, lines), HEAD);

describe('a ticket', () => {
  const both = ticket([
    {
      color: 'black',
      counts: { s: 2, xl: 1 },
      prints: [{ method: 'sheet', widthMm: 90, heightMm: 90, design: 'chest' }, { method: 'ink' }],
    },
  ]);

  it('lists the prints of a piece in working order', () => {
    expect(both).toMatchObject({ ...HEAD, delivery: 'pick-up', pieces: 3 });
    const [line] = both.lines;
    expect(line).toMatchObject({
      blank: { id: 'tee' },
      color: { id: 'black', hex: '#101010' },
      counts: [
        { size: { id: 's', name: 'S' }, count: 2 },
        { size: { id: 'xl', name: 'XL' }, count: 1 },
      ],
    });
    // Ink before sheets, by the work order of the methods; the slip has the opposite order.
    expect(line!.placements.map(({ method, id }) => [method.id, id])).toEqual([
      ['ink', 'p1'],
      ['sheet', 'p0'],
    ]);
    expect(line!.placements[0]).toMatchObject({
      white: true,
      chokeMm: 0.3,
      xMm: 0,
      yMm: 150,
      widthMm: 200,
      heightMm: 300,
    });
  });

  it('has every step with its settings, station and amounts', () => {
    expect(both.work.map(({ method, steps }) => [method.id, ...steps.map(({ id }) => id)])).toEqual([
      ['ink', 'jet', 'dry', 'bake'],
      ['sheet', 'print-sheet'],
      ['sheet', 'press-on'],
    ]);
    const steps = new Map(both.work.flatMap((work) => work.steps.map((step) => [step.id, step])));
    // 60 s + 120 s; 3 × 12 s + 3 × 600 cm² × 0.06 s = 144 s
    expect(steps.get('jet')).toMatchObject({ station: { id: 'jet' }, units: 3, setUpS: 180 });
    expect(steps.get('jet')!.runS).toBeCloseTo(144, 9);
    expect(steps.get('dry')).toMatchObject({ station: undefined, waitS: 60 });
    expect(steps.get('bake')).toMatchObject({
      batches: 1,
      batchSize: 10,
      settings: { temperatureC: 160, timeS: 180 },
    });
    expect(steps.get('print-sheet')).toMatchObject({ units: 1, settings: { mirrored: true } });
    expect(steps.get('press-on')).toMatchObject({
      settings: { temperatureC: 150, timeS: 25, pressure: 'firm', peel: 'cold' },
      hazards: ['hot-surface'],
    });
  });

  it('lays out the sheets and identifies every name', () => {
    const names = ['Ada', 'Bo', 'Cy'];
    const { sheets, lines } = ticket([
      { counts: { s: 3 }, prints: [{ method: 'sheet', names, widthMm: 150, heightMm: 40 }] },
    ]);
    expect(lines[0]!.placements[0]!.names).toEqual(names.map((text) => ({ size: 's', text })));
    expect(sheets).toHaveLength(1);
    expect(sheets[0]).toMatchObject({ consumable: { id: 'film' }, widthMm: 320, heightMm: 450, sheets: 1 });
    const [layout] = sheets[0]!.layouts;
    expect(layout!.times).toBe(1);
    expect(layout!.prints.map(({ text }) => text)).toEqual(names);
    expect(new Set(layout!.prints.map(({ xMm, yMm }) => `${xMm} ${yMm}`)).size).toBe(3);
  });

  it('lists equal sheets once', () => {
    const { sheets } = ticket([
      { counts: { s: 5000 }, prints: [{ method: 'sheet', widthMm: 90, heightMm: 90 }] },
    ]);
    // 12 on a sheet: 416 full ones and one of 8
    expect(sheets[0]!.sheets).toBe(417);
    expect(sheets[0]!.layouts.map(({ times, prints }) => [times, prints.length])).toEqual([
      [416, 12],
      [1, 8],
    ]);
  });
});

function printsOf(routed: RoutedSlip, method: string): PlacedPrint[] {
  return routed.lines.flatMap((line, lineIndex) =>
    line.placements
      .filter((placement) => placement.method.id === method)
      .map((placement) => ({ lineIndex, line, placement })),
  );
}

describe('any order’s sheets', () => {
  it('hold every copy of every print once, and their number is that of the bill', () => {
    fc.assert(
      fc.property(anyOrder, (lines) => {
        const routed = routedOf(catalog, lines);
        const prints = printsOf(routed, 'sheet');
        const { sheets } = costOf(catalog, routed).written();
        if (prints.length === 0) {
          expect(sheets).toEqual({});
          return;
        }
        const [plan] = planSheets(prints[0]!.placement.method, prints);
        const seen = new Set<string>();
        let count = 0;
        for (const sheet of eachSheet(plan!)) {
          count++;
          for (const { print, copy } of sheet) seen.add(`${print.lineIndex} ${print.placement.id} ${copy}`);
        }
        expect(count).toBe(plan!.sheets);
        expect(sheets).toEqual({ film: count });
        const wanted = prints.flatMap(({ lineIndex, line, placement }) =>
          Array.from({ length: line.pieces }, (_, copy) => `${lineIndex} ${placement.id} ${copy}`),
        );
        expect([...seen].sort()).toEqual(wanted.sort());
      }),
      { numRuns: 100 },
    );
  });
});

describe('cautions', () => {
  it('come from the steps and the goods, each once, and defer to data sheets and local codes', () => {
    const routed = routedOf(catalog, [
      { counts: { s: 1 } },
      { blank: 'tote', counts: { one: 1 }, prints: [{ method: 'sheet' }] },
    ]);
    const cautions = cautionsOf(routed);
    expect(cautions.map(({ code, stations, lines }) => [code, stations, lines])).toEqual([
      ['hot-surface', ['oven', 'press'], []],
      ['curing-fumes', ['oven'], []],
      ['moving-parts', ['jet'], []],
      ['childrens', [], ['l0']],
    ]);
    for (const { text } of cautions) expect(text.endsWith(CAUTION_DEFERS)).toBe(true);
    expect(CAUTION_DEFERS).toMatch(/data sheet.*local codes.*licensed practice/);
    expect(ticketOf(routed, HEAD).cautions).toEqual(cautions);
  });

  it('are empty if neither work nor goods need any', () => {
    const plain = billShop();
    expect(cautionsOf(routedOf(plain, [{ counts: { s: 1 } }]))).toEqual([]);
  });
});

describe('a care card', () => {
  it('begins with the blank’s label and ends with the washes of its shortest-lived print', () => {
    const methods = structuredClone(catalog.catalog.methods);
    methods[1]!.qualities.washLifeCycles = 33.5;
    const shorter = billShop({}, {}, { methods, blanks: catalog.catalog.blanks });
    const [line] = routedOf(shorter, [{ counts: { s: 1 }, prints: [{}, { method: 'sheet' }] }]).lines;
    expect(careCard(line!, 'de')).toEqual({
      line: 'l0',
      blank: 'Tee',
      label: ['Bei 30 °C waschen.'],
      notes: [
        { code: 'wash-inside-out' },
        { code: 'do-not-iron-print' },
        { code: 'expect-washes', cycles: 33 },
      ],
      text: [
        'Bei 30 °C waschen.',
        'Wash inside out; the print lasts longer.',
        'Do not iron on the print.',
        'Expect the print to look well for about 33 washes with such care.',
      ],
    });
  });

  it('consists of words: no character could be taken for a care symbol', () => {
    const [line] = routedOf(catalog, [{ counts: { s: 1 } }]).lines;
    // Letters, digits, the degree sign and plain punctuation.
    for (const text of careCard(line!, 'en').text) expect(text).toMatch(/^[\p{L}\p{N} .,;:'°()-]+$/u);
  });

  it('does not mention ironing or turning for a mug', () => {
    const [line] = routedOf(catalog, [{ counts: { s: 1 } }]).lines;
    const [placement] = line!.placements;
    const mug = {
      ...line!,
      placements: [{ ...placement!, face: { ...placement!.face, surface: 'cylinder' as const } }],
    };
    expect(careCard(mug, 'en').notes.map(({ code }) => code)).toEqual([
      'do-not-scrub-print',
      'expect-washes',
    ]);
  });
});
