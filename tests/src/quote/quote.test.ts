import { describe, expect, it } from 'vitest';
import { canonicalJson } from '../../../src/canonical-json.ts';
import {
  COUNT_MAX,
  type QuoteAnswer,
  type QuoteRefusal,
  QuoteResponse,
} from '../../../src/contract/index.ts';
import type { QuoteResult } from '../../../src/quote/quote.ts';
import {
  ART,
  caps,
  factsWith,
  hash,
  type LineInput,
  NOW,
  planOf,
  quoted,
  slipOf,
  tees,
} from '../../fixtures/quotes.ts';
import { addTeeOf, compiled } from '../../fixtures/shop.ts';

function answer(result: QuoteResult): QuoteAnswer {
  if (result.answer?.kind !== 'quote') throw new Error(JSON.stringify(result.answer ?? result.faults));
  return result.answer;
}

function refusal(result: QuoteResult): QuoteRefusal {
  if (result.answer?.kind !== 'refusal') throw new Error(JSON.stringify(result.answer ?? result.faults));
  return result.answer;
}

const codes = (reasons: readonly { code: string }[]) => reasons.map(({ code }) => code);
const mugs: LineInput = {
  id: 'mugs',
  blank: 'mug',
  color: 'white',
  counts: [{ size: 'one', count: 4 }],
  placements: [{ id: 'p', face: 'wrap', artwork: ART, xMm: 0, yMm: 36, widthMm: 60 }],
  finish: 'matte',
};

describe('quote', () => {
  it('answers shirts, caps and mugs on one slip, in the documented shape', () => {
    const found = answer(quoted([tees(), caps(), mugs]));
    expect(QuoteResponse.parse(found)).toEqual(found);
    expect(found.lines.map(({ placements }) => placements[0]!.method.id)).toEqual([
      expect.stringMatching(/spray|sheet/),
      'sheet',
      'sheet',
    ]);
    expect(found.lines[2]!.placements[0]!.treatments).toEqual(['matting']);
    expect(found.at).toBe('2026-09-02T08:00:00.000Z');
    expect(found.validUntil).toBe('2026-09-02T09:00:00.000Z');
    expect(found.promise.planVersion).toBe(7);
    expect(found.promise.day >= '2026-09-02').toBe(true);
  });

  it('adds up as shown', () => {
    const found = answer(
      quoted([
        tees({
          counts: [
            { size: 'm', count: 7 },
            { size: 'xl', count: 3 },
          ],
        }),
        caps(),
        mugs,
      ]),
    );
    const cents = (amount: string): bigint => BigInt(amount.replace('.', ''));
    for (const line of found.lines) {
      const parts = [...line.sizes, ...line.charges].reduce((sum, { amount }) => sum + cents(amount), 0n);
      expect(parts).toBe(cents(line.total));
    }
    const subtotal = [...found.lines.map(({ total }) => total), ...found.fees.map(({ amount }) => amount)];
    expect(subtotal.reduce((sum, amount) => sum + cents(amount), 0n)).toBe(cents(found.subtotal));
    expect(cents(found.subtotal) + cents(found.tax.amount)).toBe(cents(found.total));
  });

  it('gives reasons with figures: what leaves no choice first, then what decides', () => {
    const found = answer(quoted([caps()]));
    expect(codes(found.because).slice(0, 2)).toEqual(['only-fit', 'surface-unfit']);
    expect(found.because[0]!.params).toEqual({ method: 'sheet' });
    expect(found.because[1]!.params).toEqual({ surface: 'curved', allowed: ['flat'], method: 'spray' });
    const many = answer(quoted([tees({ counts: [{ size: 'm', count: 60 }], finish: 'soft' })]));
    expect(codes(many.because)).toContain('only-fit');
    const asks = many.because.find(({ code }) => code === 'finish-asks');
    expect(asks!.params).toEqual({
      finish: 'soft',
      quality: 'hand',
      value: 1,
      other: 'sheet',
      otherValue: 1.5,
    });
    expect(codes(many.because)).toContain('many-alike');
    expect(codes(many.because)).toContain('underbase-needed');
  });

  it('offers every other finish and method, the next counts and rush, or says what rules them out', () => {
    const found = answer(quoted([tees(), caps()]));
    const of = (kind: string, line: string) =>
      found.instead.filter(({ change }) => change.kind === kind && 'line' in change && change.line === line);
    expect(of('finish', 'tees')).toHaveLength(3);
    expect(of('finish', 'caps')).toHaveLength(3);
    expect(of('method', 'tees').every(({ possible }) => possible)).toBe(true);
    const [capSpray] = of('method', 'caps');
    expect(capSpray!.possible).toBe(false);
    expect(codes(capSpray!.reasons)).toEqual(['surface-unfit']);
    const [soft] = of('finish', 'caps');
    expect(soft!.possible).toBe(false);
    expect(codes(soft!.reasons)).toContain('hand-too-thick');
    expect(of('count', 'tees').map(({ change }) => 'count' in change && change.count)).toEqual([12, 48]);
    expect(found.instead.some(({ change }) => change.kind === 'rush')).toBe(true);
  });

  it('includes the pieces of like lines in the next counts, as the ladder does', () => {
    const five = { counts: [{ size: 'm', count: 5 }] };
    const found = answer(quoted([tees(five), { ...tees(five), id: 'more-tees', color: 'black' }]));
    for (const { id, ladder } of found.lines) {
      const steps = found.instead.flatMap(({ change }) =>
        change.kind === 'count' && change.line === id ? [change.count] : [],
      );
      expect(steps.length).toBeGreaterThan(0);
      const rungs = ladder.map(({ count }) => count);
      expect(steps.filter((count) => !rungs.includes(count))).toEqual([]);
    }
  });

  it('offers rush where it brings an earlier day, and says so where it does not', () => {
    // Work for days; with rush it ends one day after the clock starts.
    const lines = [tees({ counts: [{ size: 'm', count: 2000 }] })];
    const rushOf = (given: Parameters<typeof quoted>[1]) =>
      answer(quoted(lines, given)).instead.find(({ change }) => change.kind === 'rush')!;
    const dear = rushOf({});
    expect(dear.possible).toBe(false);
    expect(dear.reasons).toEqual([
      { code: 'rush-brings-nothing-earlier', params: { day: answer(quoted(lines)).promise.day } },
    ]);
    expect(rushOf({ rushEnd: () => undefined }).possible).toBe(false);
    const quick = rushOf({ rushEnd: (_, notBefore) => (notBefore + 86_400) as typeof notBefore });
    expect(quick.possible).toBe(true);
    expect(quick.dayShift).toBeLessThan(0);
    // Without rush the day is the same and the price lower, so that is offered.
    const without = rushOf({ slip: { rush: true } });
    expect(without).toMatchObject({ change: { rush: false }, possible: true, dayShift: 0 });
    expect(Number(without.difference)).toBeLessThan(0);
  });

  it('gives for each alternative what its quote gives', () => {
    const lines = [
      tees({
        counts: [
          { size: 'm', count: 5 },
          { size: 'xl', count: 5 },
        ],
      }),
      caps(),
    ];
    const now = answer(quoted(lines));
    for (const alternative of now.instead.filter(({ possible }) => possible)) {
      const { change } = alternative;
      const changed = lines.map((line) => {
        if (!('line' in change) || change.line !== line.id) return line;
        if (change.kind === 'finish') return { ...line, finish: change.finish };
        if (change.kind === 'method') return { ...line, method: change.method };
        const share = change.count / line.counts.reduce((sum, { count }) => sum + count, 0);
        return { ...line, counts: line.counts.map(({ size, count }) => ({ size, count: count * share })) };
      });
      const slip = change.kind === 'rush' ? { rush: change.rush } : {};
      const then = answer(quoted(changed, { slip }));
      expect(alternative.total, JSON.stringify(change)).toBe(then.total);
      expect(alternative.day, JSON.stringify(change)).toBe(then.promise.day);
      expect(Number(alternative.difference)).toBeCloseTo(Number(then.total) - Number(now.total), 6);
      if ('line' in change) {
        const index = lines.findIndex(({ id }) => id === change.line);
        expect(alternative.unit).toBe(then.lines[index]!.unit);
        expect(alternative.method).toBe(then.lines[index]!.placements[0]!.method.id);
        expect(alternative.qualities).toEqual(then.lines[index]!.placements[0]!.qualities);
      }
    }
  });

  it('gives the exact count at which the method changes', () => {
    const at = (count: number) => answer(quoted([tees({ counts: [{ size: 'm', count }] })]));
    const one = at(1);
    const flip = one.because.find(({ code }) => code === 'method-flips-at');
    expect(flip).toBeDefined();
    const count = flip!.params['count'] as number;
    const method = (found: QuoteAnswer) => found.lines[0]!.placements[0]!.method.id;
    expect(method(at(count))).toBe(flip!.params['method']);
    expect(method(at(count - 1))).toBe(method(one));
    // The same from above.
    const many = at(count + 7);
    const back = many.because.find(({ code }) => code === 'method-flips-below')!.params;
    expect(back).toEqual({ count: count - 1, method: method(one) });
  });

  it('gives for every print of a line the count at which its method changes', () => {
    const [placement] = tees().placements!;
    // Little ink on the front, much on the back: set-ups pay off at different counts.
    const line = (count: number) =>
      tees({
        counts: [{ size: 'm', count }],
        placements: [
          { ...placement!, widthMm: 60 },
          { ...placement!, id: 'q', face: 'back', artwork: 'b'.repeat(64), widthMm: 250 },
        ],
      });
    const methodsAt = (count: number) =>
      answer(quoted([line(count)], { brief: true })).lines[0]!.placements.map(({ method }) => method.id);
    let apart = 0;
    for (const count of [1, 3, 8, 20, 60]) {
      const { because } = answer(quoted([line(count)]));
      for (const { code, at, params } of because) {
        if (!code.startsWith('method-flips')) continue;
        const places = at === 'lines.0' ? [0, 1] : [Number(at!.split('.')[3])];
        if (places.length === 1) {
          apart++;
          expect(params['on']).toBe(['front', 'back'][places[0]!]);
        }
        const there = params['count'] as number;
        for (const place of places) {
          expect(methodsAt(there)[place]).toBe(params['method']);
          expect(methodsAt(there + (code === 'method-flips-at' ? -1 : 1))[place]).toBe(
            methodsAt(count)[place],
          );
        }
      }
    }
    expect(apart).toBeGreaterThan(0);
  });

  it('leaves out alternatives and ladders when brief, and changes nothing else', () => {
    const full = answer(quoted([tees(), caps()]));
    const brief = answer(quoted([tees(), caps()], { brief: true }));
    expect(brief.instead).toEqual([]);
    expect(brief.lines.every(({ ladder }) => ladder.length === 0)).toBe(true);
    expect(full.lines.every(({ ladder }) => ladder.length > 2)).toBe(true);
    const strip = ({ lines, instead, because, ...rest }: QuoteAnswer) => ({
      ...rest,
      lines: lines.map(({ ladder, ...line }) => line),
      because: because.filter(({ code }) => code !== 'method-flips-at'),
    });
    expect(strip(brief)).toEqual(strip(full));
  });

  it('is the same every time, and for another order of members', () => {
    const one = quoted([tees(), caps(), mugs]);
    expect(quoted([tees(), caps(), mugs])).toEqual({ ...one, internal: expect.anything() });
    expect(one.answer!.slipHash).toBe(hash(canonicalJson(slipOf([tees(), caps(), mugs]))));
    const turned = Object.fromEntries(Object.entries(slipOf([tees(), caps(), mugs])).reverse());
    expect(hash(canonicalJson(turned))).toBe(one.answer!.slipHash);
  });
});

describe('quote: what cannot be made', () => {
  it('suggests a width that fits', () => {
    const wide = (widthMm: number) =>
      quoted([tees({ placements: [{ id: 'p', face: 'front', artwork: ART, xMm: 40, yMm: 200, widthMm }] })]);
    const found = refusal(wide(340));
    expect(codes(found.reasons).slice(0, 2)).toEqual(['no-method-fits', 'off-the-face']);
    const smaller = found.nearest.find(({ code }) => code === 'make-smaller');
    // 40 mm off the center line of a face 350 mm wide: 2 x (175 - 40)
    expect(smaller!.params['widthMm']).toBe(270);
    expect(wide(270).answer!.kind).toBe('quote');
    expect(wide(270.3).answer!.kind).toBe('refusal');
  });

  it('suggests a face, finish, color, count or change of the file that helps', () => {
    const soft = refusal(quoted([caps({ finish: 'soft' })]));
    expect(soft.nearest).toContainEqual(
      expect.objectContaining({ code: 'use-other-finish', params: { finish: 'standard' } }),
    );
    const flatOnly = compiled((c) => {
      c.methods.pop();
      c.finishes = c.finishes.slice(0, 2);
      c.prices.list = c.prices.list!.filter(({ finish }) => finish === 'standard' || finish === 'soft');
      c.methods[0]!.limits.clothLightness = { least: 30, most: 100 };
      c.methods[0]!.limits.pieces = { least: 12, most: null };
      c.blanks[1]!.faces.push({
        id: 'strap',
        name: 'Strap',
        surface: 'flat',
        widthMm: 100,
        heightMm: 50,
        onView: { view: 'front', xMm: 120, yMm: 10 },
      });
      c.blanks[1]!.colors[0]!.hex = '#eeeeee';
    });
    const cap = refusal(quoted([caps({ counts: [{ size: 'one', count: 20 }] })], { catalog: flatOnly }));
    expect(cap.nearest).toContainEqual(
      expect.objectContaining({ code: 'use-other-face', params: { face: 'strap' } }),
    );
    const tee = refusal(quoted([tees()], { catalog: flatOnly }));
    expect(tee.nearest).toContainEqual(
      expect.objectContaining({ code: 'use-other-color', params: { color: 'gray' } }),
    );
    expect(tee.nearest).toContainEqual(
      expect.objectContaining({ code: 'more-pieces', params: { pieces: 12 } }),
    );
    const thin = factsWith({ thinLines: [{ px: 2, box: { left: 0, top: 0, width: 1, height: 1 } }] });
    const lines = refusal(quoted([tees()], { artwork: () => ({ facts: thin }) }));
    expect(lines.nearest).toContainEqual(
      expect.objectContaining({ code: 'thicken-lines', params: { toMm: 0.3 } }),
    );
    expect(lines.findings[0]!.findings.map(({ code }) => code)).toContain('thin-lines');
    const tight = factsWith({ thinGaps: [{ px: 2, box: { left: 0, top: 0, width: 1, height: 1 } }] });
    const gaps = refusal(quoted([tees()], { artwork: () => ({ facts: tight }) }));
    expect(gaps.nearest).toContainEqual(
      expect.objectContaining({ code: 'widen-gaps', params: { toMm: 0.3 } }),
    );
  });

  it('suggests a place on the face that fits', () => {
    const [placement] = tees().placements!;
    const off = tees({ placements: [{ ...placement!, xMm: 2000, yMm: -50 }] });
    const { nearest } = refusal(quoted([off]));
    expect(nearest[0]!.code).toBe('move-onto-face');
    const { xMm, yMm } = nearest[0]!.params as { xMm: number; yMm: number };
    expect(answer(quoted([tees({ placements: [{ ...placement!, xMm, yMm }] })])).kind).toBe('quote');
  });

  it('suggests a blank of other fibers', () => {
    const pickyAboutFibers = compiled((c) => {
      c.methods = c.methods.slice(0, 1);
      c.blanks[0]!.fibers = [{ fiber: 'polyester', share: '1' }];
      addTeeOf(c, 'cotton-tee', 'cotton');
    });
    const { nearest } = refusal(quoted([tees()], { catalog: pickyAboutFibers }));
    expect(nearest).toContainEqual(
      expect.objectContaining({ code: 'use-other-blank', params: { blank: 'cotton-tee' } }),
    );
  });

  it('suggests a size of letters whose strokes are wide enough', () => {
    const named = (capHeightMm: number, widthMm: number) =>
      tees({
        counts: [{ size: 'm', count: 1 }],
        placements: [],
        names: {
          id: 'n',
          face: 'back',
          font: 'plain',
          hex: '#ffffff',
          xMm: 0,
          yMm: 100,
          capHeightMm,
          widthMm,
          entries: [{ size: 'm', text: 'BARTHOLOMEW' }],
        },
      });
    const small = refusal(quoted([named(3, 10)]));
    expect(codes(small.reasons)).toContain('line-too-thin');
    const larger = small.nearest.find(({ code }) => code === 'larger-letters')!.params;
    expect(answer(quoted([named(larger['capHeightMm'] as number, larger['widthMm'] as number)])).kind).toBe(
      'quote',
    );
  });

  it('refuses a line with nothing to print', () => {
    expect(codes(refusal(quoted([tees({ placements: [] })])).reasons)).toEqual(['no-placement']);
  });

  it('does not promise a past day, and suggests the first possible one', () => {
    const found = refusal(quoted([tees()], { slip: { neededBy: '2026-09-01' } }));
    expect(codes(found.reasons)).toEqual(['needed-by-too-early']);
    const { earliest } = found.reasons[0]!.params as { earliest: string };
    expect(found.nearest).toEqual([{ code: 'choose-later-day', params: { day: earliest } }]);
    expect(answer(quoted([tees()], { slip: { neededBy: earliest } })).promise.day <= earliest).toBe(true);
  });

  it('answers the largest order that the contract allows', () => {
    const all = tees({
      counts: ['s', 'm', 'xl'].map((size) => ({ size, count: COUNT_MAX })),
      placements: [{ id: 'p', face: 'front', artwork: ART, xMm: 0, yMm: 150, widthMm: 200 }],
    });
    const lines = Array.from({ length: 50 }, (_, index) => ({ ...all, id: `l${index}` }));
    const found = quoted(lines, { brief: true });
    expect(found.answer!.kind).toBe('refusal');
    expect(codes((found.answer as QuoteRefusal).reasons)).toEqual(['plan-full']);
  });
});

describe('quote: faults', () => {
  it('names every unknown id with its place and the ids there are', () => {
    const found = quoted(
      [
        tees({ blank: 'sock' }),
        caps({
          color: 'pink',
          counts: [{ size: 'xxl', count: 1 }],
          finish: 'shiny',
          method: 'magic',
          placements: [{ id: 'p', face: 'roof', artwork: ART, xMm: 0, yMm: 0, widthMm: 10 }],
        }),
      ],
      { slip: { delivery: 'drone' } },
    );
    expect(found.faults!.map(({ at, value }) => [at, value])).toEqual([
      ['delivery', 'drone'],
      ['lines.0.blank', 'sock'],
      ['lines.1.finish', 'shiny'],
      ['lines.1.method', 'magic'],
      ['lines.1.color', 'pink'],
      ['lines.1.counts.0.size', 'xxl'],
      ['lines.1.placements.0.face', 'roof'],
    ]);
    for (const { allowed } of found.faults!) expect(allowed).toMatch(/^one of: \w/);
  });

  it('has a code of its own for unknown artwork', () => {
    const found = quoted([tees()], { artwork: () => undefined });
    expect('code' in found && found.code).toBe('unknown-artwork');
    expect(found.faults![0]!.at).toBe('lines.0.placements.0.artwork');
  });

  it('requires one name for every piece', () => {
    const names = {
      id: 'n',
      face: 'back',
      font: 'plain',
      hex: '#ffffff',
      xMm: 0,
      yMm: 60,
      capHeightMm: 40,
      widthMm: 250,
    };
    const line = tees({
      counts: [{ size: 'm', count: 2 }],
      names: {
        ...names,
        entries: [
          { size: 'm', text: 'ADA' },
          { size: 's', text: 'BO' },
        ],
      },
    });
    const found = quoted([line]);
    expect(found.faults!.map(({ at }) => at)).toEqual([
      'lines.0.names.entries.1.size',
      'lines.0.names.entries',
    ]);
    expect(found.faults![1]!.allowed).toBe('2 names of size "m", one for each piece');
  });
});

describe('quote: secrets', () => {
  /** The same shop with every cost higher by a little: methods, prices and days stay. */
  const dearer = compiled((c) => {
    const more = (amount: string): string => (Number(amount) * 1.001).toFixed(6);
    for (const { sizes, colors } of c.blanks) {
      for (const size of sizes) size.cost = more(size.cost);
      for (const color of colors) color.extraCost = '0.001';
    }
    for (const { consumables } of c.methods) for (const each of consumables) each.price = more(each.price);
    for (const station of c.stations) station.ratePerHour = more(station.ratePerHour);
    c.crew.wagePerHour = more(c.crew.wagePerHour);
  });

  it('gives the same answer for shops that differ only in costs', () => {
    const lines = [
      tees(),
      caps(),
      mugs,
      tees({ id: 'more', counts: [{ size: 'xl', count: 30 }], finish: 'soft' }),
    ];
    const one = quoted(lines);
    const other = quoted(lines, { catalog: dearer });
    expect(other.internal!.bill.written().total).not.toBe(one.internal!.bill.written().total);
    // The count at which a method changes follows from costs, but is a whole number of pieces and no cost.
    expect(answer(other)).toEqual(answer(one));
  });

  it('has no figure of the bill in the answer', () => {
    const { answer: shown, internal } = quoted([tees(), caps()]);
    // The tax rate is set by law.
    const text = JSON.stringify({ ...shown, tax: undefined });
    const bill = internal!.bill.written();
    expect(bill.lines.length).toBeGreaterThan(10);
    expect(text).not.toContain(bill.total);
    for (const { amount } of bill.lines) if (amount.length > 6) expect(text).not.toContain(amount);
    for (const word of ['wage', '"rate"', 'cost', '"margin"', 'crew']) expect(text).not.toContain(word);
  });
});

describe('quote: names', () => {
  const texts = ['ADA', 'BO', 'CY', 'DEE', 'EVE', 'FLO'];
  const named = (different: boolean) =>
    tees({
      counts: [{ size: 'm', count: texts.length }],
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
        entries: texts.map((text) => ({ size: 'm', text: different ? text : 'TEAM' })),
      },
    });

  it('prefers the method with little set-up when every piece is a different print', () => {
    const found = answer(quoted([named(true)]));
    expect(found.lines[0]!.placements[0]!.method.id).toBe('sheet');
    expect(codes(found.because)).toContain('each-different');
  });

  it('counts different texts as different prints', () => {
    const different = quoted([named(true)]).internal!.routed.lines[0]!.placements[0]!;
    const alike = quoted([named(false)]).internal!.routed.lines[0]!.placements[0]!;
    expect(different.distinct).toBe(6);
    expect(alike.distinct).toBe(1);
  });

  it('offers no other counts, since their names are unknown', () => {
    const found = answer(quoted([named(true)]));
    expect(found.instead.some(({ change }) => change.kind === 'count')).toBe(false);
  });
});

describe('quote: the needed-by date', () => {
  // A slow sprayer takes days for many pieces; the two presses finish sooner.
  const slow = compiled((c) => {
    c.methods[0]!.steps[1]!.perPrintS = 400;
    c.prices.floorMargin = '0';
    c.prices.choose = 'lowest-price';
    c.methods[0]!.consumables = [];
    c.methods[1]!.consumables[0]!.price = '9.00';
  });

  it('uses the faster method where it must, and gives the reason and the cost of the date', () => {
    const lines = [tees({ counts: [{ size: 'm', count: 150 }] })];
    const free = answer(quoted(lines, { catalog: slow }));
    const methodOf = (found: QuoteAnswer) => found.lines[0]!.placements[0]!.method.id;
    expect(methodOf(free)).toBe('spray');
    const sheetDay = answer(quoted([{ ...lines[0]!, method: 'sheet' }], { catalog: slow })).promise.day;
    expect(sheetDay < free.promise.day).toBe(true);
    const bound = answer(quoted(lines, { catalog: slow, slip: { neededBy: sheetDay } }));
    expect(methodOf(bound)).toBe('sheet');
    expect(bound.promise.day <= sheetDay).toBe(true);
    expect(bound.because[0]).toEqual({
      code: 'keeps-needed-by',
      at: 'lines.0.placements.0',
      params: { neededBy: sheetDay, method: 'sheet', other: 'spray', otherDay: free.promise.day },
    });
    const without = bound.instead.find(({ change }) => change.kind === 'needed-by');
    expect(without!.total).toBe(free.total);
    expect(without!.day).toBe(free.promise.day);
  });

  it('is never exceeded by the promise', () => {
    for (const neededBy of ['2026-09-02', '2026-09-03', '2026-09-04', '2026-09-07', '2026-09-10']) {
      const found = quoted([tees({ counts: [{ size: 'm', count: 120 }] }), caps()], {
        catalog: slow,
        slip: { neededBy },
      });
      if (found.answer!.kind === 'quote') expect(found.answer!.promise.day <= neededBy).toBe(true);
      else expect(codes(found.answer!.reasons)).toEqual(['needed-by-too-early']);
    }
  });

  it('uses the plan as it is', () => {
    const catalog = compiled();
    const found = quoted([tees()], { catalog, plan: planOf(catalog), now: NOW });
    expect(found.internal!.endsAt).toBeGreaterThan(NOW);
  });
});
