import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CatalogInput } from '../../../../src/catalog/index.ts';
import type { ArtworkFacts, Reason, SourceInfo } from '../../../../src/contract/index.ts';
import { candidatesOf } from '../../../../src/routing/fit/candidates.ts';
import { plainLettering } from '../../../../src/routing/fit/print.ts';
import { resolveSlip } from '../../../../src/routing/fit/resolve-slip.ts';
import { caps, compiled, factsWith, type LineInput, quoted, slipOf, tees } from '../shop.ts';

type Given = {
  readonly change?: (catalog: CatalogInput) => void;
  readonly facts?: ArtworkFacts;
  readonly source?: SourceInfo;
};

const usual = compiled();

/** Reasons against each method for the first print of a line; null where it fits. */
function reasonsFor(
  line: LineInput,
  given: Given = {},
): Record<string, Reason[] | null> & { place: Reason[] } {
  const catalog = given.change === undefined ? usual : compiled(given.change);
  const artwork = { facts: given.facts ?? factsWith(), source: given.source };
  const resolved = resolveSlip(catalog, slipOf([line]), () => artwork, plainLettering);
  if (!('lines' in resolved)) throw new Error(JSON.stringify(resolved.faults));
  const [print] = candidatesOf(catalog, resolved.lines[0]!);
  const found = Object.fromEntries(
    print!.byMethod.map(({ method, reasons }) => [
      catalog.methods[method]!.id,
      reasons ? [...reasons] : null,
    ]),
  );
  return { ...found, place: [...print!.reasons] } as ReturnType<typeof reasonsFor>;
}

const at = 'lines.0.placements.0';
const print = (change: object) => [
  { id: 'p', face: 'front', artwork: 'a'.repeat(64), xMm: 0, yMm: 180, widthMm: 200, ...change },
];

describe('limits', () => {
  it('a curved brim is not for a method that needs it flat', () => {
    const { spray, sheet } = reasonsFor(
      caps({ placements: print({ face: 'brim', widthMm: 20, yMm: 13 }) as never }),
    );
    expect(spray).toEqual([{ code: 'surface-unfit', at, params: { surface: 'curved', allowed: ['flat'] } }]);
    expect(sheet).toBeNull();
  });

  it('names the size whose printable area is tightest', () => {
    const { place } = reasonsFor(
      tees({
        counts: [
          { size: 'm', count: 1 },
          { size: 's', count: 1 },
        ],
        placements: print({ widthMm: 320, yMm: 190 }) as never,
      }),
    );
    expect(place).toEqual([
      {
        code: 'off-the-face',
        at,
        params: { widthMm: 320, heightMm: 320, areaWidthMm: 300, areaHeightMm: 380, size: 's' },
      },
    ]);
  });

  it('leaves a size without pieces out of it', () => {
    const { place } = reasonsFor(
      tees({ counts: [{ size: 'm', count: 1 }], placements: print({ widthMm: 320, yMm: 190 }) as never }),
    );
    expect(place).toEqual([]);
  });

  it('a hem is kept free, whichever corner comes near', () => {
    expect(reasonsFor(tees({ placements: print({ yMm: 329, widthMm: 200 }) as never })).place).toEqual([]);
    expect(reasonsFor(tees({ placements: print({ yMm: 331, widthMm: 200 }) as never })).place).toEqual([
      { code: 'in-keep-out', at, params: { keepOut: 'hem' } },
    ]);
    // Turned by 45 degrees the corner reaches 141 mm down: 289 + 141.4 = 430.4.
    expect(reasonsFor(tees({ placements: print({ yMm: 289, angleDeg: 45 }) as never })).place).toEqual([
      { code: 'in-keep-out', at, params: { keepOut: 'hem' } },
    ]);
  });

  it('a bed bounds a print, by size of blank', () => {
    const wide = print({ widthMm: 300, yMm: 160 });
    expect(reasonsFor(tees({ placements: wide as never })).spray).toBeNull();
    expect(reasonsFor(tees({ counts: [{ size: 's', count: 1 }], placements: wide as never })).spray).toEqual([
      {
        code: 'too-large-for-bed',
        at,
        params: { widthMm: 300, heightMm: 300, bedWidthMm: 280, bedHeightMm: 360, station: 'sprayer' },
      },
    ]);
  });

  it('a sheet may be laid either way, its margins kept', () => {
    const tall = { ...factsWith(), inkBox: { left: 0, top: 0, width: 1000, height: 2000 } };
    const wideFacts = { ...factsWith(), inkBox: { left: 0, top: 0, width: 2000, height: 1000 } };
    // the sheet is 310 x 440 mm within its margins
    expect(
      reasonsFor(tees({ placements: print({ widthMm: 205, yMm: 215 }) as never }), { facts: tall }).sheet,
    ).toBeNull();
    expect(
      reasonsFor(tees({ placements: print({ widthMm: 330, yMm: 190 }) as never }), { facts: wideFacts })
        .sheet,
    ).toBeNull();
    expect(reasonsFor(tees({ placements: print({ widthMm: 330, yMm: 190 }) as never })).sheet).toEqual([
      {
        code: 'too-large-for-sheet',
        at,
        params: { widthMm: 330, heightMm: 330, sheetWidthMm: 310, sheetHeightMm: 440 },
      },
    ]);
  });

  it('asks for fibers, all those named taken together', () => {
    const blend = (cotton: string, linen: string) => (c: CatalogInput) => {
      c.blanks[0]!.fibers = [
        { fiber: 'cotton', share: cotton },
        { fiber: 'linen', share: linen },
        { fiber: 'polyester', share: '0.4' },
      ];
      c.methods[0]!.limits.fibers = { anyOf: ['cotton', 'linen'], leastShare: '0.6' };
    };
    // 0.3 + 0.3 and 0.2 + 0.4 are 0.6 only when sums of decimals are kept to their digits
    expect(reasonsFor(tees(), { change: blend('0.3', '0.3') }).spray).toBeNull();
    expect(reasonsFor(tees(), { change: blend('0.2', '0.4') }).spray).toBeNull();
    const short = reasonsFor(tees(), {
      change: (c) => {
        blend('0.3', '0.3')(c);
        c.methods[0]!.limits.fibers!.leastShare = '0.600001';
      },
    });
    expect(short.spray).toEqual([
      { code: 'fiber-unfit', at, params: { fibers: ['cotton', 'linen'], share: 0.6, leastShare: 0.600001 } },
    ]);
  });

  it('bounds the lightness of the cloth on both sides', () => {
    const change = (c: CatalogInput) => {
      c.methods[0]!.limits.clothLightness = { least: 30, most: 80 };
    };
    const of = (color: string) => reasonsFor(tees({ color }), { change }).spray;
    // L* of #111111 is 5.1, of white 100: CIE 1976, from memory, checked in tests/reference/color/color-srgb-lab.test.ts
    expect(of('black')).toEqual([
      { code: 'cloth-too-dark', at, params: { lightness: 5.1, least: 30, most: 80 } },
    ]);
    expect(of('gray')).toBeNull();
    expect(of('white')).toEqual([
      { code: 'cloth-too-light', at, params: { lightness: 100, least: 30, most: 80 } },
    ]);
  });

  it('measures the thinnest line and gap at the printed size', () => {
    // 2000 px on 200 mm: 0.1 mm a pixel
    const thin = (px: number) => [{ px, box: { left: 0, top: 0, width: 1, height: 1 } }];
    const found = reasonsFor(tees(), { facts: factsWith({ thinLines: thin(4), thinGaps: thin(2) }) });
    expect(found['spray']).toEqual([{ code: 'gap-too-thin', at, params: { gapMm: 0.2, leastMm: 0.3 } }]);
    expect(found['sheet']).toEqual([
      { code: 'line-too-thin', at, params: { lineMm: 0.4, leastMm: 0.5 } },
      { code: 'gap-too-thin', at, params: { gapMm: 0.2, leastMm: 0.5 } },
    ]);
  });

  it('asks for pixels by the ink, and of drawings for none', () => {
    const few = factsWith({}, 560);
    // 560 px on 200 mm: 71.1 dpi
    expect(reasonsFor(tees(), { facts: few }).spray).toEqual([
      { code: 'too-few-pixels', at, params: { dpi: 71, leastDpi: 72 } },
    ]);
    const source: SourceInfo = { kind: 'svg', bytes: 10, naturalMm: null, notes: [] };
    expect(reasonsFor(tees(), { facts: few, source }).spray).toBeNull();
  });

  it('loses soft alpha only as far as the owner lets it', () => {
    const soft = factsWith({ deepSoftShare: 0.3 });
    expect(reasonsFor(tees(), { facts: soft }).sheet).toBeNull();
    const strict = (c: CatalogInput) => {
      c.methods[1]!.limits.softShareMost = 0.2;
    };
    const found = reasonsFor(tees(), { facts: soft, change: strict });
    expect(found['sheet']).toEqual([{ code: 'soft-alpha-lost', at, params: { share: 0.3, most: 0.2 } }]);
    expect(found['spray']).toBeNull();
  });

  it('bounds the count of pieces', () => {
    const change = (c: CatalogInput) => {
      c.methods[0]!.limits.pieces = { least: 12, most: 100 };
    };
    const of = (count: number) => reasonsFor(tees({ counts: [{ size: 'm', count }] }), { change }).spray?.[0];
    expect(of(11)).toEqual({ code: 'too-few-pieces', at, params: { pieces: 11, least: 12 } });
    expect(of(12)).toBeUndefined();
    expect(of(101)).toEqual({ code: 'too-many-pieces', at, params: { pieces: 101, most: 100 } });
  });

  it.each([
    ['hand', { handMost: 1 }, 'sheet', 'hand-too-thick', { hand: 3, most: 1 }],
    ['gloss from above', { glossMost: 1 }, 'sheet', 'gloss-out-of-bounds', { gloss: 3, least: 0, most: 1 }],
    ['gloss from below', { glossLeast: 2 }, 'spray', 'gloss-out-of-bounds', { gloss: 0, least: 2, most: 4 }],
    ['wash life', { washLifeLeast: 40 }, 'sheet', 'wash-life-too-short', { washLife: 35, least: 40 }],
    [
      'breathability',
      { breathabilityLeast: 3 },
      'sheet',
      'breathability-too-low',
      { breathability: 1, least: 3 },
    ],
  ])('a finish bounds %s', (_, bounds, method, code, params) => {
    const change = (c: CatalogInput) => {
      c.methods[1]!.treatments = [];
      c.finishes.find(({ id }) => id === 'soft')!.bounds = bounds;
    };
    const found = reasonsFor(tees({ finish: 'soft' }), { change });
    expect(found[method]).toEqual([{ code, at, params }]);
    expect(found[method === 'sheet' ? 'spray' : 'sheet']).toBeNull();
  });

  it('prints nothing where there is no ink', () => {
    const { place } = reasonsFor(tees(), { facts: factsWith({ inkBox: null, colors: [] }) });
    expect(place).toEqual([{ code: 'nothing-to-print', at, params: {} }]);
  });

  it('has methods apart told when no pair is left', () => {
    const catalog = compiled((c) => {
      c.methods[0]!.notWith = ['sheet'];
      c.methods[0]!.limits.softAlpha = 'lost';
      c.methods[0]!.limits.softShareMost = 0;
      c.methods[1]!.limits.leastDpi = 300;
      c.methods[1]!.limits.goodDpi = 300;
    });
    // One print only fits the first method, the other only the second.
    const { answer } = quoted(
      [
        tees({
          placements: [
            ...print({}),
            { ...print({})[0]!, id: 'q', face: 'back', artwork: 'b'.repeat(64) },
          ] as never,
        }),
      ],
      {
        catalog,
        artwork: (id) => ({
          facts: id.startsWith('a') ? factsWith() : factsWith({ deepSoftShare: 0.5 }, 4000),
        }),
      },
    );
    expect(answer!.kind).toBe('refusal');
    expect((answer as { reasons: Reason[] }).reasons.map(({ code }) => code)).toEqual([
      'not-together-on-a-piece',
    ]);
  });

  it('never fits larger what does not fit smaller, at the same place: face, hem, bed and sheet', () => {
    const SIZE = new Set([
      'off-the-face',
      'in-keep-out',
      'too-large-for-bed',
      'too-large-for-sheet',
      'too-few-pixels',
    ]);
    const against = (line: LineInput) => {
      const { place, ...methods } = reasonsFor(line);
      return Object.values(methods).map(
        (reasons) => [...place, ...(reasons ?? [])].filter(({ code }) => SIZE.has(code)).length,
      );
    };
    fc.assert(
      fc.property(
        fc.double({ min: -100, max: 100, noNaN: true }),
        fc.double({ min: 20, max: 400, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.double({ min: 10, max: 400, noNaN: true }),
        fc.double({ min: 0, max: 100, noNaN: true }),
        fc.constantFrom('s', 'm'),
        (xMm, yMm, angleDeg, widthMm, more, size) => {
          const line = (width: number) =>
            tees({
              counts: [{ size, count: 1 }],
              placements: print({ xMm, yMm, angleDeg, widthMm: width }) as never,
            });
          const small = against(line(widthMm));
          const large = against(line(widthMm + more));
          small.forEach((count, method) => {
            if (count > 0) expect(large[method]).toBeGreaterThan(0);
          });
        },
      ),
      { numRuns: 300 },
    );
  });
});
