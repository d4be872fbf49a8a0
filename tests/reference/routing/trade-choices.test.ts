import { describe, expect, it } from 'vitest';
import { demoCatalog } from '../../../demo/catalog.ts';
import { checkCatalog } from '../../../src/catalog/check.ts';
import { compileCatalog } from '../../../src/catalog/compile.ts';
import type { QuoteAnswer } from '../../../src/contract/index.ts';
import { ART, factsWith, type LineInput, planOf, quoted } from '../../src/routing/shop.ts';

/**
 * Which process a shop would choose, at the made-up shop's ordinary rates. Every expectation: common practice, no source.
 */

const checked = checkCatalog(demoCatalog);
if (checked.catalog === undefined) throw new Error(JSON.stringify(checked.faults));
const catalog = compileCatalog(checked.catalog, 1);
const plan = planOf(catalog);
const DIRECT = 'garment-print';
const TRANSFER = 'white-toner-transfer';

function answered(line: Partial<LineInput> & Pick<LineInput, 'blank' | 'color' | 'counts'>): QuoteAnswer {
  const face = line.blank === 'cap' ? 'front-panel' : line.blank === 'mug' ? 'wrap' : 'front';
  const [yMm, widthMm] = line.blank === 'cap' ? [29, 45] : line.blank === 'mug' ? [36, 60] : [190, 280];
  const { answer } = quoted(
    [
      {
        id: 'l',
        finish: 'standard',
        placements: [{ id: 'p', face, artwork: ART, xMm: 0, yMm, widthMm }],
        ...line,
      },
    ],
    { catalog, plan, artwork: () => ({ facts: factsWith({}, 3000) }), brief: true },
  );
  if (answer?.kind !== 'quote') throw new Error(JSON.stringify(answer));
  return answer;
}

const methodOf = (answer: QuoteAnswer) => answer.lines[0]!.placements[0]!.method.id;
const tees = (count: number) => [{ size: 'l', count }];

describe('the process chosen', () => {
  it('bulk on flat garments goes direct, light or dark', () => {
    for (const color of ['white', 'heather', 'black'])
      expect(methodOf(answered({ blank: 'cotton-tee', color, counts: tees(100) })), color).toBe(DIRECT);
  });

  it('whoever is picky about the hand gets direct print, from one piece on', () => {
    for (const count of [1, 100])
      expect(
        methodOf(answered({ blank: 'cotton-tee', color: 'black', counts: tees(count), finish: 'soft-hand' })),
      ).toBe(DIRECT);
  });

  it('both take light and dark, cotton and polyester, when asked for', () => {
    for (const method of [DIRECT, TRANSFER])
      for (const [blank, color] of [
        ['cotton-tee', 'white'],
        ['cotton-tee', 'black'],
        ['sport-tee', 'white'],
        ['sport-tee', 'black'],
      ] as const)
        expect(methodOf(answered({ blank, color, counts: tees(10), method }))).toBe(method);
  });

  it('curved caps, brims and mugs go by transfer alone', () => {
    expect(methodOf(answered({ blank: 'cap', color: 'navy', counts: [{ size: 'one', count: 50 }] }))).toBe(
      TRANSFER,
    );
    expect(methodOf(answered({ blank: 'mug', color: 'white', counts: [{ size: '330', count: 50 }] }))).toBe(
      TRANSFER,
    );
    for (const [blank, face, yMm] of [
      ['cap', 'front-panel', 29],
      ['cap', 'brim', 13],
      ['mug', 'wrap', 36],
    ] as const) {
      const { answer } = quoted(
        [
          {
            id: 'l',
            blank,
            color: blank === 'cap' ? 'navy' : 'white',
            counts: [{ size: blank === 'cap' ? 'one' : '330', count: 5 }],
            finish: 'standard',
            method: DIRECT,
            placements: [{ id: 'p', face, artwork: ART, xMm: 0, yMm, widthMm: 20 }],
          },
        ],
        { catalog, plan, artwork: () => ({ facts: factsWith() }) },
      );
      expect(answer!.kind).toBe('refusal');
      expect((answer as { reasons: { code: string }[] }).reasons.map(({ code }) => code)).toContain(
        'surface-unfit',
      );
    }
  });

  it('a small run of names, each a print of its own, goes by transfer', () => {
    const texts = ['ADA', 'BO', 'CY', 'DEE', 'EVE', 'FLO', 'GUS', 'HAL'];
    const named = answered({
      blank: 'cotton-tee',
      color: 'navy',
      counts: tees(texts.length),
      placements: [],
      names: {
        id: 'n',
        face: 'back',
        font: 'plain',
        hex: '#ffffff',
        xMm: 0,
        yMm: 60,
        capHeightMm: 40,
        widthMm: 250,
        entries: texts.map((text) => ({ size: 'l', text })),
      },
    });
    expect(methodOf(named)).toBe(TRANSFER);
    expect(named.because.map(({ code }) => code)).toContain('each-different');
  });

  it('one soft tee sells at about 25, one by transfer at about 20', () => {
    const soft = answered({ blank: 'cotton-tee', color: 'black', counts: tees(1), finish: 'soft-hand' });
    const felt = answered({ blank: 'cotton-tee', color: 'black', counts: tees(1), method: TRANSFER });
    expect(Number(soft.lines[0]!.unit)).toBeCloseTo(25, 0);
    expect(Number(felt.lines[0]!.unit)).toBeCloseTo(20, 0);
  });

  it('direct print outlasts a transfer in the wash, by a little; a screened design more than a solid one', () => {
    const direct = answered({ blank: 'cotton-tee', color: 'black', counts: tees(10), method: DIRECT });
    const solid = answered({ blank: 'cotton-tee', color: 'black', counts: tees(10), method: TRANSFER });
    const screened = answered({
      blank: 'cotton-tee',
      color: 'black',
      counts: tees(10),
      method: TRANSFER,
      finish: 'airy',
    });
    const washes = (answer: QuoteAnswer) => answer.lines[0]!.placements[0]!.qualities.washLifeCycles;
    expect(washes(direct)).toBeGreaterThanOrEqual(40);
    expect(washes(direct)).toBeLessThanOrEqual(50);
    expect(washes(solid)).toBeLessThan(washes(direct));
    expect(washes(screened)).toBeGreaterThan(washes(solid));
  });
});
