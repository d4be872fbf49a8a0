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

/** What is taken in every second, added up one by one. */
function naive(loads: readonly Load[]): Int32Array {
  const taken = new Int32Array(SECONDS);
  for (const { from, to, parts } of loads) for (let at = from; at < to; at++) taken[at]! += parts;
  return taken;
}

/** As the profile says it. */
function asSeconds(profile: CrewProfile): Int32Array {
  const taken = new Int32Array(SECONDS);
  for (const { from, to, parts } of profile.segments()) taken.fill(parts, Math.max(0, from), to);
  return taken;
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

/** Loads enough that chunks (256 segments) are many and are split. */
const manyLoads = fc.array(load, { minLength: 300, maxLength: 1_500, size: 'max' });

describe('the crew profile, against counting every second', () => {
  it('built at once or load by load, with some taken away again, holds what was added', () => {
    let most = 0;
    fc.assert(
      fc.property(manyLoads, fc.nat({ max: 400 }), (loads, gone) => {
        const built = of(loads);
        const added = loads.reduce((now, each) => now.with(each.from, each.to, each.parts), of([]));
        most = Math.max(most, added.size);
        expect(asSeconds(built)).toEqual(naive(loads));
        expect(asSeconds(added)).toEqual(naive(loads));
        const left = loads
          .slice(0, gone)
          .reduce((now, each) => now.with(each.from, each.to, -each.parts), built);
        expect(asSeconds(left)).toEqual(naive(loads.slice(gone)));
        // the one it came from is as it was
        expect(asSeconds(built)).toEqual(naive(loads));
      }),
      { numRuns: 25 },
    );
    expect(most).toBeGreaterThan(3 * 512);
  });

  it('finds the end of the last stretch over a limit', () => {
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
          const taken = naive([...loads, ...more]);
          // limits where the answer is not always yes or no
          const middle = [...taken].sort((a, b) => a - b)[SECONDS >> 1]!;
          for (const [a, b, spread] of questions) {
            const [from, to, limit] = [Math.min(a, b), Math.max(a, b), middle + spread - 30];
            let last = to - 1;
            while (last >= from && taken[last]! <= limit) last--;
            let end = last;
            while (end < SECONDS && taken[end]! > limit) end++;
            // past the last second nothing is taken, which is over a negative limit for ever
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
            expect(profile.levelAt(Math.min(a, SECONDS - 1))).toBe(taken[Math.min(a, SECONDS - 1)]);
          }
        },
      ),
      { numRuns: 25 },
    );
  });

  it('finds the first open stretch long enough with no more than a limit taken', () => {
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
          const taken = naive([...loads, ...more]);
          const shut = closed.map(([from, length]) => ({ from, to: from + length }));
          const hours = new OpenHours(subtractIntervals([{ from: 0, to: SECONDS }], mergeIntervals(shut)));
          // open seconds only, one after another
          const open = hours.intervals.flatMap(({ from, to }) => [...taken.subarray(from, to)]);
          const middle = [...taken].sort((a, b) => a - b)[SECONDS >> 1]!;
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

  it('finds the same with a few loads looked at beside it as with them worked in', () => {
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
          const ahead = new CrewOverlay();
          for (const { from, to, parts } of more) ahead.add(from, to, parts);
          const all = more.reduce((now, each) => now.with(each.from, each.to, each.parts), profile);
          const shut = closed.map(([from, length]) => ({ from, to: from + length }));
          const hours = new OpenHours(subtractIntervals([{ from: 0, to: SECONDS }], mergeIntervals(shut)));
          const middle = [...naive(loads)].sort((a, b) => a - b)[SECONDS >> 1]!;
          for (const [from, length, spread] of questions) {
            const limit = middle + spread - 60;
            const found = ahead.firstFit(profile, hours, from, length, limit);
            const worked = all.firstFit(hours, from, length, limit);
            if (worked + length > hours.totalS) expect(found + length).toBeGreaterThan(hours.totalS);
            else expect([from, length, limit, found]).toEqual([from, length, limit, worked]);
          }
        },
      ),
      { numRuns: 40 },
    );
  });

  it('is empty where nothing is', () => {
    expect([...of([]).segments()]).toEqual([]);
    expect(of([]).endOfLastOverload(0, 100, 0)).toBe(Number.NEGATIVE_INFINITY);
    expect([...of([]).with(5, 5, 1).segments()]).toEqual([]);
  });
});
