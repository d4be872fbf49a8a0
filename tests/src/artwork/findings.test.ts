import { describe, expect, it } from 'vitest';
import { measureArtwork } from '../../../src/artwork/facts.ts';
import { type FindingInput, findFindings } from '../../../src/artwork/findings.ts';
import type { ArtworkLimits } from '../../../src/artwork/limits.ts';
import type { Raster } from '../../../src/artwork/raster.ts';
import { applyRemedies } from '../../../src/artwork/remedies/apply.ts';
import { Finding, type SourceInfo } from '../../../src/contract/facts.ts';
import { any, canvas, disc, lettering, paint, photo, rect, ring } from './drawing.ts';

/** Made-up limits: one method prints fine detail and soft ink, the other neither. */
const FINE: ArtworkLimits = {
  id: 'fine',
  thinnestLineMm: 0.2,
  thinnestGapMm: 0.2,
  leastDpi: 72,
  goodDpi: 150,
  softAlpha: 'prints',
};
const COARSE: ArtworkLimits = {
  id: 'coarse',
  thinnestLineMm: 0.35,
  thinnestGapMm: 0.4,
  leastDpi: 100,
  goodDpi: 200,
  softAlpha: 'lost',
  largestSolidMm: 60,
};
const WHITE = '#FFFFFF';
const BLACK = '#1A1A1A';
const NAVY = '#1B2A49';

function find(raster: Raster, placedWidthMm: number, more: Partial<FindingInput> = {}): Finding[] {
  const found = findFindings({
    facts: measureArtwork(raster),
    clothHex: WHITE,
    placedWidthMm,
    methods: [FINE, COARSE],
    ...more,
  });
  for (const one of found) expect(Finding.parse(one)).toEqual(one);
  return found;
}

function codes(found: readonly Finding[]): string[] {
  return found.map(({ code }) => code);
}

function one(found: readonly Finding[], code: Finding['code']): Finding {
  const matching = found.filter((finding) => finding.code === code);
  expect(matching, code).toHaveLength(1);
  return matching[0]!;
}

const hairlines = paint(
  canvas(2000, 500),
  any(...[2, 5, 5, 10, 20].map((width, index) => rect(160 + 240 * index, 80, width, 340))),
  NAVY,
);
/** 20 px/mm, as if the whole of 2000 px were 100 mm wide. */
const HAIRLINES_MM = 980 / 20;

describe('an artwork without problems', () => {
  it.each<[string, Raster, number]>([
    ['smooth lettering', paint(canvas(420, 140), lettering(0, 10, 14), NAVY, 4), 40],
    [
      'thick lines',
      paint(
        canvas(800, 400),
        any(rect(50, 50, 40, 300), rect(300, 50, 30, 300), rect(600, 50, 60, 300)),
        NAVY,
      ),
      60,
    ],
    ['a logo', paint(canvas(480, 480), any(ring(240, 240, 200, 40), disc(240, 240, 100)), '#C8102E', 4), 50],
  ])('has no findings: %s', (_, raster, widthMm) => {
    expect(find(raster, widthMm)).toEqual([]);
  });

  it('has no findings for a photo except colors out of gamut', () => {
    expect(codes(find(photo(900, 600), 50)).filter((code) => code !== 'out-of-gamut')).toEqual([]);
  });
});

describe('too few pixels', () => {
  const square = (side: number): Raster => canvas(side, side, '#C8102E');

  it('depends on the ink and the printed size: 100 px at 100 mm are 25 dpi, wherever on the canvas they are', () => {
    const sheet = paint(canvas(1000, 1000), rect(700, 120, 100, 100), '#C8102E');
    const finding = one(find(sheet, 100), 'too-few-pixels');
    expect(finding.severity).toEqual({ fine: 'stops', coarse: 'stops' });
    expect(finding.params).toMatchObject({
      dpi: 25,
      goodDpi: 200,
      widthPx: 100,
      goodWidthMm: 12.7,
      neededWidthPx: 788,
    });
    expect(finding.box).toEqual({ left: 700, top: 120, width: 100, height: 100 });
  });

  it.each([
    // 1500 px over 100 mm: 1500 / 3.937 = 381 dpi.
    [1500, 100, undefined],
    // 500 px over 100 mm: 127 dpi.
    [500, 100, { fine: 'warning', coarse: 'warning' }],
    // 700 px over 100 mm: 178 dpi.
    [700, 100, { coarse: 'warning' }],
    // 350 px over 100 mm: 89 dpi.
    [350, 100, { fine: 'warning', coarse: 'stops' }],
    // 200 px over 250 mm: 20.3 dpi.
    [200, 250, { fine: 'stops', coarse: 'stops' }],
    // 1 px over 50 mm: half a dot an inch.
    [1, 50, { fine: 'stops', coarse: 'stops' }],
  ])('%i px over %i mm', (side, widthMm, severity) => {
    const found = find(square(side), widthMm, { breathes: false }).find(
      ({ code }) => code === 'too-few-pixels',
    );
    expect(found?.severity).toEqual(severity);
  });

  it('is never found in a drawing', () => {
    const source: SourceInfo = { kind: 'svg', bytes: 300, naturalMm: null, notes: [] };
    expect(codes(find(square(100), 300, { source, breathes: false }))).not.toContain('too-few-pixels');
  });
});

describe('thin lines and gaps', () => {
  it('are found in mm at the printed size, for the methods whose limit they violate', () => {
    const finding = one(find(hairlines, HAIRLINES_MM), 'thin-lines');
    expect(finding.params).toMatchObject({ lineMm: 0.1, leastMm: 0.35, places: 3 });
    expect(finding.severity).toEqual({ fine: 'stops', coarse: 'stops' });
    expect(finding.box).toMatchObject({ top: 80, width: 2, height: 340 });
    // 0.35 mm at 20 px/mm are 7 px; with as much added to the ink box of 980 px it takes 7.1.
    expect(finding.remedies).toEqual([{ kind: 'thicken', toPx: 7.1 }]);
  });

  it('depend on the size: four times as wide, nothing is too thin', () => {
    expect(codes(find(hairlines, 4 * HAIRLINES_MM))).not.toContain('thin-lines');
  });

  it('are fixed by the remedy that is offered', () => {
    const [remedy] = one(find(hairlines, HAIRLINES_MM), 'thin-lines').remedies;
    const fixed = applyRemedies(hairlines, [remedy!]);
    expect(measureArtwork(fixed).inkBox!.width).toBeGreaterThan(980);
    expect(codes(find(fixed, HAIRLINES_MM))).not.toContain('thin-lines');
  });

  it('have separate findings', () => {
    const raster = paint(canvas(900, 600), any(rect(20, 20, 400, 560), rect(424, 20, 400, 560)), NAVY);
    // 804 px over 134 mm: 6 px/mm, the gap of 4 px is 0.67 mm; over 67 mm it is 0.33 mm.
    expect(codes(find(raster, 134))).not.toContain('thin-gaps');
    expect(one(find(raster, 67), 'thin-gaps')).toMatchObject({
      severity: { coarse: 'stops' },
      params: { gapMm: 0.33 },
    });
  });
});

describe('soft alpha', () => {
  const shadow = canvas(600, 400);
  for (let y = 0; y < 400; y++)
    for (let x = 0; x < 600; x++)
      shadow.data[4 * (y * 600 + x) + 3] = Math.round(
        255 * Math.max(0, 0.6 - Math.hypot(x - 300, y - 200) / 300),
      );

  it('concerns only methods that lose it, and is fixed by screening or thresholding', () => {
    const finding = one(find(shadow, 50), 'soft-alpha');
    expect(finding.severity).toEqual({ coarse: 'warning' });
    expect(finding.params.share).toBeGreaterThan(0.9);
    expect(finding.remedies.map(({ kind }) => kind)).toEqual(['screen-soft', 'firm-up']);
    for (const remedy of finding.remedies)
      expect(codes(find(applyRemedies(shadow, [remedy]), 50))).not.toContain('soft-alpha');
  });

  it('stops a method beyond its limit', () => {
    const strict = { ...COARSE, softShareMost: 0.3 };
    expect(one(find(shadow, 50, { methods: [strict] }), 'soft-alpha').severity).toEqual({ coarse: 'stops' });
  });
});

describe('the background', () => {
  const boxed = paint(canvas(480, 360, WHITE), disc(240, 180, 130), NAVY, 4);

  it('is a warning on dark cloth, a note on cloth of its color', () => {
    expect(one(find(boxed, 40, { clothHex: BLACK }), 'background-box').worst).toBe('warning');
    const onWhite = find(boxed, 40);
    expect(codes(onWhite)).toEqual(['background-box']);
    expect(onWhite[0]!.worst).toBe('note');
  });

  it('is gone after the remedy, without a light rim', () => {
    const [remedy] = one(find(boxed, 40, { clothHex: BLACK }), 'background-box').remedies;
    const fixed = find(applyRemedies(boxed, [remedy!]), 22, { clothHex: '#C8102E' });
    expect(codes(fixed)).toEqual([]);
  });
});

describe('ink that vanishes', () => {
  const logo = paint(canvas(400, 400), any(ring(200, 200, 150, 40), disc(200, 200, 70)), '#0C0C0C', 4);

  it('is found for black on black, with a visible color or outline as remedies', () => {
    const finding = one(find(logo, 40, { clothHex: BLACK }), 'vanishes');
    expect(finding).toMatchObject({ worst: 'warning', params: { share: 1 } });
    expect(finding.remedies[0]).toEqual({ kind: 'recolor', hex: '#FFFFFF' });
    expect(finding.remedies.map(({ kind }) => kind)).toEqual(['recolor', 'outline']);
    const [recolored, outlined] = finding.remedies.map((remedy) =>
      find(applyRemedies(logo, [remedy]), 40, { clothHex: BLACK }),
    );
    expect(codes(recolored!)).not.toContain('vanishes');
    // The inside still has the color of the cloth, but its shape is now visible.
    expect(one(outlined!, 'vanishes')).toMatchObject({
      worst: 'note',
      remedies: [],
      params: { edgeShare: 0 },
    });
  });

  it('is not found on white', () => {
    expect(find(logo, 40)).toEqual([]);
  });
});

describe('large solids', () => {
  const slab = canvas(600, 600, '#C8102E');

  it('are found in mm if the cloth should breathe, and fixed by screening', () => {
    const finding = one(find(slab, 75), 'large-solid');
    expect(finding.severity).toEqual({ coarse: 'warning' });
    expect(finding.params).toMatchObject({ mostMm: 60, diameterMm: 74.9 });
    expect(codes(find(slab, 75, { breathes: false }))).toEqual([]);
    expect(codes(find(slab, 55))).toEqual([]);
    expect(codes(find(applyRemedies(slab, finding.remedies), 75))).not.toContain('large-solid');
  });
});

describe('shape and emptiness', () => {
  it('note a mostly empty canvas and an extreme shape', () => {
    const tiny = paint(canvas(1000, 1000), rect(700, 100, 100, 100), '#C8102E');
    expect(one(find(tiny, 10), 'mostly-empty')).toMatchObject({
      worst: 'note',
      remedies: [{ kind: 'trim' }],
    });
    const banner = canvas(2100, 100, '#C8102E');
    expect(one(find(banner, 200), 'extreme-shape').params).toEqual({ ratio: 21 });
    expect(codes(find(canvas(2000, 100, '#C8102E'), 200))).not.toContain('extreme-shape');
  });
});

describe('nothing to print', () => {
  it('stops every method, and is the only finding', () => {
    expect(find(canvas(256, 256), 100)).toEqual([
      {
        code: 'nothing-to-print',
        severity: { fine: 'stops', coarse: 'stops' },
        worst: 'stops',
        box: null,
        params: {},
        remedies: [],
      },
    ]);
  });
});

describe('colors out of gamut', () => {
  it('are a warning that lists only them', () => {
    const raster = paint(
      paint(canvas(400, 200), rect(0, 0, 200, 200), '#39FF14'),
      rect(200, 0, 200, 200),
      '#2E5A88',
    );
    const finding = one(find(raster, 40), 'out-of-gamut');
    expect(finding).toMatchObject({ worst: 'warning', params: { share: 0.5, colors: ['#39FF14'] } });
    expect(codes(find(canvas(400, 200, '#2E5A88'), 40))).toEqual([]);
  });
});

describe('notes about the file', () => {
  it('become findings, one for each', () => {
    const source: SourceInfo = {
      kind: 'jpeg',
      bytes: 1000,
      naturalMm: null,
      notes: [
        { code: 'turned-by-metadata', orientation: 6 },
        { code: 'cmyk-converted', profile: null },
      ],
    };
    const found = find(canvas(400, 400, '#2E5A88'), 40, { source });
    expect(found.map(({ code, worst, params }) => [code, worst, params])).toEqual([
      ['source-note', 'warning', { note: 'cmyk-converted' }],
      ['source-note', 'note', { note: 'turned-by-metadata', orientation: 6 }],
    ]);
  });
});

describe('order and input', () => {
  it('puts the worst first', () => {
    const found = find(hairlines, HAIRLINES_MM, { clothHex: NAVY });
    const ranks = found.map(({ worst }) => ['note', 'warning', 'stops'].indexOf(worst));
    expect(ranks).toEqual([...ranks].sort((a, b) => b - a));
    expect(found.length).toBeGreaterThan(1);
  });

  it.each([0, -1, Number.NaN])('refuses a width of %d mm', (placedWidthMm) => {
    expect(() => find(hairlines, placedWidthMm)).toThrow(
      `placedWidthMm is ${placedWidthMm}; it must be over 0`,
    );
  });
});
