import { describe, expect, it } from 'vitest';
import { costOf } from '../../../src/pricing/index.ts';
import { buildModel } from '../../../src/routing/build-model.ts';
import { outcomeOf } from '../../../src/routing/choice/model.ts';
import { candidatesOf } from '../../../src/routing/fit/candidates.ts';
import { plainLettering } from '../../../src/routing/fit/print.ts';
import { resolveSlip } from '../../../src/routing/fit/resolve-slip.ts';
import { jobOf } from '../../../src/routing/job.ts';
import { perSheet } from '../../../src/routing/option-costs.ts';
import type { RoutedSlip } from '../../../src/routing/routed.ts';
import { ART, caps, factsWith, type LineInput, slipOf, tees } from '../../fixtures/quotes.ts';
import { compiled } from '../../fixtures/shop.ts';

const catalog = compiled();

/** Lines with their candidates, and the slip routed by naming a method for every print. */
function routed(lines: LineInput[], methods: string[], shop = catalog) {
  const slip = slipOf(lines);
  const resolved = resolveSlip(shop, slip, () => ({ facts: factsWith() }), plainLettering);
  if (!('lines' in resolved)) throw new Error(JSON.stringify(resolved.faults));
  const candidates = resolved.lines.map((line) => ({ line, prints: candidatesOf(shop, line) }));
  let next = 0;
  const route: RoutedSlip = {
    slip,
    lines: candidates.map(({ line, prints }) => ({
      line: line.line,
      blank: line.blank.blank,
      color: line.cloth.color,
      finish: line.finish.finish,
      pieces: line.pieces,
      placements: prints.map(({ byMethod }) => {
        const method = shop.methodIndex.get(methods[next++]!)!;
        return byMethod[method]!.routed!;
      }),
    })),
  };
  return { candidates, route };
}

const job = (route: RoutedSlip, sheets = 3) => jobOf(route, 'j', () => sheets);
const front = { id: 'p', face: 'front', artwork: ART, xMm: 0, yMm: 180, widthMm: 200 };

describe('jobOf', () => {
  it('follows the recipe step by step, in seconds', () => {
    const { chains } = job(routed([tees()], ['spray']).route);
    expect(chains).toHaveLength(1);
    // 10 prints of 20 x 20 cm on black, 2 % spoiled: 18 s each; (7 + 400 * 0.02 + 400 * 0.05) = 35 s each; 1 batch of 12
    expect(chains[0]!.steps).toEqual([
      {
        kind: 'work',
        key: 'prime',
        station: 'cabinet',
        setUpS: 120,
        batches: 10,
        batchS: expect.closeTo(18.36, 9),
        setUpCrewShare: 1,
        crewShare: 0.6,
        like: { key: 'method=spray', sharedSetUpS: 0 },
      },
      {
        kind: 'work',
        key: 'print',
        station: 'sprayer',
        setUpS: 300,
        batches: 10,
        batchS: expect.closeTo(35.7, 9),
        setUpCrewShare: 1,
        crewShare: 0.4,
      },
      {
        kind: 'work',
        key: 'cure',
        station: 'tunnel',
        setUpS: 0,
        batches: 1,
        batchS: expect.closeTo(367.2, 9),
        setUpCrewShare: 1,
        crewShare: 0.15,
      },
    ]);
  });

  it('leaves out the time for white on white cloth', () => {
    const [chain] = job(routed([tees({ color: 'white' })], ['spray']).route).chains;
    expect(chain!.steps[1]).toMatchObject({ batchS: expect.closeTo((7 + 8) * 1.02, 9) });
  });

  it('prints sheets first and presses them as they get ready; a wait has no station', () => {
    const { chains } = job(routed([tees()], ['sheet']).route);
    expect(chains.map(({ steps }) => steps.map(({ key }) => key))).toEqual([
      ['print-sheet'],
      ['press-on', 'cool'],
    ]);
    expect(chains[0]!.steps[0]).toMatchObject({ batches: 3, batchS: expect.closeTo(55 * 1.03, 9) });
    expect(chains[1]!.after).toEqual([{ chain: 0, flow: 'on' }]);
    expect(chains[1]!.steps[1]).toEqual({ kind: 'wait', key: 'cool', waitS: 120 });
  });

  it('gangs the sheets of caps and tees, which have different presses', () => {
    const { chains } = job(routed([tees(), caps()], ['sheet', 'sheet']).route);
    expect(chains).toHaveLength(3);
    expect(chains[1]!.steps[0]).toMatchObject({ station: 'press' });
    expect(chains[2]!.steps[0]).toMatchObject({ station: 'cap-press' });
    expect(chains.slice(1).map(({ after }) => after)).toEqual([
      [{ chain: 0, flow: 'whole' }],
      [{ chain: 0, flow: 'whole' }],
    ]);
  });

  it('does two methods on a piece in work order; other pieces do not wait', () => {
    const both = tees({ placements: [front, { ...front, id: 'q', face: 'back' }] });
    const { chains } = job(routed([both], ['sheet', 'spray']).route);
    // spray (work order 10), sheets, pressing (20) after both
    expect(chains.map(({ steps }) => steps[0]!.key)).toEqual(['prime', 'print-sheet', 'press-on']);
    expect(chains[1]!.after).toBeUndefined();
    expect(chains[2]!.after).toEqual([
      { chain: 1, flow: 'on' },
      { chain: 0, flow: 'whole' },
    ]);
    const apart = job(routed([tees(), caps()], ['spray', 'sheet']).route);
    expect(apart.chains[2]!.after).toEqual([{ chain: 1, flow: 'on' }]);
  });

  it('sets up once for each design, even when it is on several lines', () => {
    const two = [tees(), tees({ id: 'more', color: 'gray' })];
    expect(job(routed(two, ['spray', 'spray']).route).chains[0]!.steps[1]).toMatchObject({
      setUpS: 60 + 240,
    });
    const wider = tees({ id: 'more', placements: [{ ...front, widthMm: 210 }] });
    expect(job(routed([tees(), wider], ['spray', 'spray']).route).chains[0]!.steps[1]).toMatchObject({
      setUpS: 60 + 480,
    });
  });

  it('cures a piece once, however many prints are on it', () => {
    const both = tees({
      counts: [{ size: 'm', count: 13 }],
      placements: [front, { ...front, id: 'q', face: 'back' }],
    });
    const [chain] = job(routed([both], ['spray', 'spray']).route).chains;
    expect(chain!.steps[0]).toMatchObject({ batches: 26 });
    expect(chain!.steps[2]).toMatchObject({ batches: 2 });
  });
});

describe('buildModel', () => {
  /** Sheets as the choice counts them. */
  const sheetsLaid = (prints: number, side: number): number =>
    Math.ceil(prints / perSheet({ widthMm: 310, heightMm: 440, gapMm: 6 }, side, side) - 1e-9);

  it('lays prints in rows, turned either way', () => {
    const sheet = { widthMm: 310, heightMm: 440, gapMm: 6 };
    expect(perSheet(sheet, 310, 440)).toBe(1);
    expect(perSheet(sheet, 440, 310)).toBe(1);
    expect(perSheet(sheet, 152, 217)).toBe(4);
    expect(perSheet(sheet, 217, 152)).toBe(4);
    expect(perSheet(sheet, 45, 45)).toBe(6 * 8);
  });

  it('costs what the bill costs, except for blanks and packing', () => {
    const cases: [LineInput[], string[]][] = [
      [[tees()], ['spray']],
      [[tees({ color: 'white' })], ['spray']],
      [[tees({ placements: [front, { ...front, id: 'q', face: 'back' }] })], ['spray', 'spray']],
      [
        [tees(), tees({ id: 'more', color: 'gray', counts: [{ size: 's', count: 17 }] })],
        ['spray', 'spray'],
      ],
      [[caps({ counts: [{ size: 'one', count: 40 }] })], ['sheet']],
      [
        [tees(), caps()],
        ['spray', 'sheet'],
      ],
    ];
    for (const [lines, methods] of cases) {
      const { candidates, route } = routed(lines, methods);
      const model = buildModel(catalog, candidates);
      let slot = 0;
      const chosen = candidates.flatMap(({ prints }) =>
        prints.map(({ fit }) => fit.indexOf(catalog.methodIndex.get(methods[slot++]!)!)),
      );
      const costed = costOf(catalog, route);
      const bill = costed.written();
      const rest = bill.lines.filter(({ what }) => what === 'blank' || what === 'packing');
      const made = Number(bill.total) - rest.reduce((sum, { amount }) => sum + Number(amount), 0);
      const { cost, loads } = outcomeOf(model, chosen);
      // A spoiled sheet is a fraction in the bill and may be a whole one in the choice: they differ by at most one sheet.
      const slack = methods.includes('sheet') ? 2.6 : 0.001;
      expect(Math.abs(cost / 1e6 - made), methods.join()).toBeLessThan(slack);
      if (methods.every((method) => method === 'spray'))
        for (const [id, minutes] of costed.stationMinutes)
          expect(loads[model.stations.indexOf(id)]! / 60_000, id).toBeCloseTo(minutes, 6);
    }
    expect(sheetsLaid(40 * 1.03, 45)).toBe(1);
  });
});
