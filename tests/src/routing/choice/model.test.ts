import { describe, expect, it } from 'vitest';
import { amountText } from '../../../../src/pricing/amounts.ts';
import { costOf, money } from '../../../../src/pricing/index.ts';
import { buildModel } from '../../../../src/routing/build-model.ts';
import { outcomeOf } from '../../../../src/routing/choice/model.ts';
import { candidatesOf } from '../../../../src/routing/fit/candidates.ts';
import { plainLettering } from '../../../../src/routing/fit/print.ts';
import { resolveSlip } from '../../../../src/routing/fit/resolve-slip.ts';
import { factsWith, type LineInput, slipOf, tees } from '../../../fixtures/quotes.ts';
import { compiled } from '../../../fixtures/shop.ts';

const catalog = compiled();

/** For every choice of methods of some lines: its cost in the model, and the total of its bill. */
function choices(
  lines: LineInput[],
): { readonly counted: number; readonly billed: number; readonly minutes: number[][] }[] {
  const slip = slipOf(lines);
  const resolved = resolveSlip(catalog, slip, () => ({ facts: factsWith() }), plainLettering);
  if (!('lines' in resolved)) throw new Error(JSON.stringify(resolved));
  const candidates = resolved.lines.map((line) => ({ line, prints: candidatesOf(catalog, line) }));
  const model = buildModel(catalog, candidates);
  const slots = model.slots.length;
  const found: { counted: number; billed: number; minutes: number[][] }[] = [];
  const counts = model.slots.map(({ options }) => options.length);
  for (let code = 0; code < counts.reduce((product, count) => product * count, 1); code++) {
    const chosen: number[] = [];
    let rest = code;
    for (let slot = 0; slot < slots; slot++) {
      chosen.push(rest % counts[slot]!);
      rest = Math.floor(rest / counts[slot]!);
    }
    let slot = 0;
    const routed = {
      slip,
      lines: candidates.map(({ line, prints }) => ({
        line: line.line,
        blank: line.blank.blank,
        color: line.cloth.color,
        finish: line.finish.finish,
        pieces: line.pieces,
        placements: prints.map(({ fit, byMethod }) => byMethod[fit[chosen[slot++]!]!]!.routed!),
      })),
    };
    const bill = costOf(catalog, routed);
    // Blanks and packing are the same for every choice, so the model leaves them out.
    const same = bill
      .written()
      .lines.filter(({ what }) => what === 'blank' || what === 'packing')
      .reduce((sum, { amount }) => sum.plus(amount), money('0'));
    const outcome = outcomeOf(model, chosen);
    const stations = catalog.catalog.stations;
    found.push({
      counted: outcome.cost / 1e6,
      billed: money(amountText(bill.total)).minus(same).toNumber(),
      minutes: model.stations.map((id, index) => [
        (outcome.loads[index]! * stations.find((station) => station.id === id)!.count) / 60_000,
        bill.stationMinutes.get(id) ?? 0,
      ]),
    });
  }
  return found;
}

const two = (change: Partial<LineInput> = {}): LineInput =>
  tees({
    placements: [
      { id: 'p', face: 'front', artwork: 'a'.repeat(64), xMm: 0, yMm: 180, widthMm: 250 },
      { id: 'q', face: 'back', artwork: 'b'.repeat(64), xMm: 0, yMm: 180, widthMm: 220 },
    ],
    ...change,
  });

describe('the bill and the choice of methods', () => {
  // One print of these sizes to a sheet, so that the choice's estimate of sheets is what nesting finds; and no part of
  // a spoiled sheet is rounded up, since there the two differ by design.
  it.each([
    ['one line', [tees({ placements: two().placements!.slice(0, 1) })]],
    ['two prints a piece', [two()]],
    [
      'two lines of one design',
      [two(), two({ id: 'more', color: 'white', counts: [{ size: 'xl', count: 17 }] })],
    ],
  ])('count the same cost and time for %s', (_, lines) => {
    const found = choices(lines);
    expect(found.length).toBeGreaterThan(1);
    for (const { counted, billed, minutes } of found) {
      // They differ by at most one sheet and its printing per method: the model counts a spoiled part of a sheet whole.
      expect(Math.abs(counted - billed)).toBeLessThan(2.6);
      for (const [choice, bill] of minutes) expect(Math.abs(choice! - bill!)).toBeLessThan(1.1);
    }
    const inkAlone = found[0]!;
    expect(inkAlone.counted).toBeCloseTo(inkAlone.billed, 5);
  });
});
