import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mergeIntervals, subtractIntervals } from '../../../../src/promise/calendar/intervals.ts';
import { OpenHours } from '../../../../src/promise/calendar/open-hours.ts';
import { CrewOverlay } from '../../../../src/promise/plan/crew-overlay.ts';
import { CrewProfile } from '../../../../src/promise/plan/crew-profile.ts';

type Load = {
  readonly from: number;
  readonly to: number;
  readonly parts: number;
};

const SECONDS = 6_000;

/** The load in every second, added up second by second. */
function loadBySecond(loads: readonly Load[]): Int32Array {
  const load = new Int32Array(SECONDS);
  for (const { from, to, parts } of loads) for (let at = from; at < to; at++) load[at]! += parts;
  return load;
}

/** The load in every second according to a profile. */
function asSeconds(profile: CrewProfile): Int32Array {
  const bySecond = new Int32Array(SECONDS);
  for (const { from, to, parts } of profile.segments()) bySecond.fill(parts, Math.max(0, from), to);
  return bySecond;
}

/** The first second in which two loads differ, or -1. `toEqual` is slow on arrays this long. */
function firstDifference(a: Int32Array, b: Int32Array): number {
  return a.findIndex((level, second) => level !== b[second]);
}

const load = fc
  .tuple(
    fc.nat({ max: SECONDS - 1 }),
    fc.oneof(fc.nat({ max: 5 }), fc.nat({ max: 3_000 })),
    fc.integer({ min: 1, max: 9 }),
  )
  .map(([from, length, parts]): Load => ({ from, to: Math.min(SECONDS, from + length), parts }));

function of(loads: readonly Load[]): CrewProfile {
  return CrewProfile.of(
    loads.map((each) => each.from),
    loads.map((each) => each.to),
    loads.map((each) => each.parts),
  );
}

/** Enough loads for many chunks (256 segments each), some of which are split. */
const manyLoads = fc.array(load, { minLength: 800, maxLength: 1_500, size: 'max' });

describe('a crew profile, compared with counting every second', () => {
  it('is the sum of its loads when built at once, load by load, or with some removed again', () => {
    let largest = 0;
    fc.assert(
      fc.property(manyLoads, fc.nat({ max: 400 }), (loads, removed) => {
        const built = of(loads);
        const added = loads.reduce((now, each) => now.with(each.from, each.to, each.parts), of([]));
        largest = Math.max(largest, added.size);
        const expected = loadBySecond(loads);
        expect(firstDifference(asSeconds(built), expected)).toBe(-1);
        expect(firstDifference(asSeconds(added), expected)).toBe(-1);
        const rest = loads
          .slice(0, removed)
          .reduce((now, each) => now.with(each.from, each.to, -each.parts), built);
        expect(firstDifference(asSeconds(rest), loadBySecond(loads.slice(removed)))).toBe(-1);
        // the original has not changed
        expect(firstDifference(asSeconds(built), expected)).toBe(-1);
      }),
      { numRuns: 25 },
    );
    // a chunk holds at most 512 segments
    expect(largest).toBeGreaterThan(2 * 512);
  });

  it('finds the end of the last overload', () => {
    fc.assert(
      fc.property(
        manyLoads,
        fc.array(load, { maxLength: 300 }),
        fc.array(fc.tuple(fc.nat({ max: SECONDS }), fc.nat({ max: SECONDS }), fc.nat({ max: 60 })), {
          minLength: 200,
          maxLength: 200,
        }),
        (loads, more, questions) => {
          const profile = more.reduce((now, each) => now.with(each.from, each.to, each.parts), of(loads));
          const bySecond = loadBySecond([...loads, ...more]);
          // limits near the median, so that both answers occur
          const middle = [...bySecond].sort((a, b) => a - b)[SECONDS >> 1]!;
          for (const [a, b, spread] of questions) {
            const [from, to, limit] = [Math.min(a, b), Math.max(a, b), middle + spread - 30];
            let last = to - 1;
            while (last >= from && bySecond[last]! <= limit) last--;
            let end = last;
            while (end < SECONDS && bySecond[end]! > limit) end++;
            // past the last second the load is 0, which exceeds a negative limit for ever
            const expected =
              last < from
                ? Number.NEGATIVE_INFINITY
                : end === SECONDS && limit < 0
                  ? Number.POSITIVE_INFINITY
                  : end;
            expect([from, to, limit, profile.endOfLastOverload(from, to, limit)]).toEqual([
              from,
              to,
              limit,
              expected,
            ]);
            expect(profile.levelAt(Math.min(a, SECONDS - 1))).toBe(bySecond[Math.min(a, SECONDS - 1)]);
          }
        },
      ),
      { numRuns: 25 },
    );
  });

  it('finds the first open time long enough in which the load does not exceed a limit', () => {
    fc.assert(
      fc.property(
        manyLoads,
        fc.array(load, { maxLength: 300 }),
        fc.array(fc.tuple(fc.nat({ max: SECONDS }), fc.nat({ max: 200 })), { maxLength: 12 }),
        fc.array(fc.tuple(fc.nat({ max: SECONDS }), fc.integer({ min: 1, max: 400 }), fc.nat({ max: 120 })), {
          minLength: 60,
          maxLength: 60,
        }),
        (loads, more, closed, questions) => {
          const profile = more.reduce((now, each) => now.with(each.from, each.to, each.parts), of(loads));
          const bySecond = loadBySecond([...loads, ...more]);
          const closures = closed.map(([from, length]) => ({ from, to: from + length }));
          const hours = new OpenHours(
            subtractIntervals([{ from: 0, to: SECONDS }], mergeIntervals(closures)),
          );
          // the load in open seconds only
          const open = hours.between(0, SECONDS).flatMap(({ from, to }) => [...bySecond.subarray(from, to)]);
          const middle = [...bySecond].sort((a, b) => a - b)[SECONDS >> 1]!;
          for (const [from, length, spread] of questions) {
            const limit = middle + spread - 60;
            let first = from;
            for (let at = from; at < open.length && at < first + length; at++)
              if (open[at]! > limit) first = at + 1;
            const found = profile.firstFit(hours, from, length, limit);
            if (first + length > open.length) expect(found + length).toBeGreaterThan(open.length);
            else expect([from, length, limit, found]).toEqual([from, length, limit, first]);
          }
        },
      ),
      { numRuns: 25 },
    );
  });

  it('finds the same fit with loads in an overlay as with the same loads in the profile', () => {
    fc.assert(
      fc.property(
        manyLoads,
        fc.array(load, { minLength: 1, maxLength: 8 }),
        fc.array(fc.tuple(fc.nat({ max: SECONDS }), fc.nat({ max: 200 })), { maxLength: 12 }),
        fc.array(fc.tuple(fc.nat({ max: SECONDS }), fc.integer({ min: 1, max: 400 }), fc.nat({ max: 120 })), {
          minLength: 60,
          maxLength: 60,
        }),
        (loads, more, closed, questions) => {
          const profile = of(loads);
          const overlay = new CrewOverlay();
          for (const { from, to, parts } of more) overlay.add(from, to, parts);
          const all = more.reduce((now, each) => now.with(each.from, each.to, each.parts), profile);
          const closures = closed.map(([from, length]) => ({ from, to: from + length }));
          const hours = new OpenHours(
            subtractIntervals([{ from: 0, to: SECONDS }], mergeIntervals(closures)),
          );
          const middle = [...loadBySecond(loads)].sort((a, b) => a - b)[SECONDS >> 1]!;
          for (const [from, length, spread] of questions) {
            const limit = middle + spread - 60;
            const found = overlay.firstFit(profile, hours, from, length, limit);
            const expected = all.firstFit(hours, from, length, limit);
            if (expected + length > hours.totalS) expect(found + length).toBeGreaterThan(hours.totalS);
            else expect([from, length, limit, found]).toEqual([from, length, limit, expected]);
          }
        },
      ),
      { numRuns: 40 },
    );
  });

  it('without loads is empty', () => {
    expect([...of([]).segments()]).toEqual([]);
    expect(of([]).endOfLastOverload(0, 100, 0)).toBe(Number.NEGATIVE_INFINITY);
    expect([...of([]).with(5, 5, 1).segments()]).toEqual([]);
  });
});
