import { describe, expect, it } from 'vitest';
import { buildPlan, commit, insert } from '../../../src/promise/index.ts';
import { flowJob, machineShop, makespan, permutations } from './flow-shops.ts';

describe('two machines: S. M. Johnson, Optimal two- and three-stage production schedules with setup times included, Naval Research Logistics Quarterly 1, 1954, the example of five items as commonly quoted', () => {
  const times = [
    [4, 5],
    [4, 1],
    [30, 4],
    [6, 30],
    [2, 3],
  ];
  const shop = machineShop([1, 1]);

  it('in Johnson’s order 5 1 4 3 2 the makespan is 47', () => {
    expect(makespan(shop, times, [5, 1, 4, 3, 2])).toBe(47);
    expect(makespan(shop, times, [5, 1, 4, 3, 2], true)).toBe(47);
  });

  it('the second machine is idle for 4 in total', () => {
    let plan = buildPlan(shop, []);
    let busy = 0;
    for (const number of [5, 1, 4, 3, 2]) {
      const placed = insert(plan, flowJob(`${number}`, times[number - 1]!), 0);
      if (placed.kind === 'refused') throw new Error('refused');
      plan = commit(plan, placed.bookings);
      const second = placed.bookings[1]!;
      busy += second.end - second.start;
    }
    expect(47 - busy).toBe(4);
  });

  it('no order of the 120 does better, and the worst permutation schedule takes 78', () => {
    const all = [...permutations(5)];
    expect(all).toHaveLength(120);
    expect(Math.min(...all.map((order) => makespan(shop, times, order)))).toBe(47);
    expect(Math.max(...all.map((order) => makespan(shop, times, order, true)))).toBe(78);
  });
});

/** Processing times by job and machine, from the generator printed in the paper: x <- 16807 x mod (2^31 - 1). */
function taillard(seed: number, jobs: number, machines: number): number[][] {
  let x = seed;
  const byMachine = Array.from({ length: machines }, () =>
    Array.from({ length: jobs }, () => {
      x = (16_807 * x) % 2_147_483_647;
      return 1 + Math.floor((99 * x) / 2_147_483_647);
    }),
  );
  return Array.from({ length: jobs }, (_, job) => byMachine.map((row) => row[job]!));
}

describe('20 jobs on 5 machines: E. Taillard, Benchmarks for basic scheduling problems, European J. Operational Research 64, 1993, first problem (seed 873654221)', () => {
  const times = taillard(873_654_221, 20, 5);
  const shop = machineShop([1, 1, 1, 1, 1]);
  const order = [17, 3, 15, 1, 9, 6, 16, 13, 18, 14, 2, 7, 11, 8, 5, 4, 19, 10, 20, 12];

  it('the generator gives the published times', () => {
    expect(times[0]).toEqual([54, 79, 16, 66, 58]);
    expect(times[19]).toEqual([94, 77, 40, 31, 28]);
  });

  it('an order known to reach the published upper bound has a makespan of 1278', () => {
    expect(makespan(shop, times, order, true)).toBe(1278);
    expect(makespan(shop, times, order)).toBe(1278);
  });

  it('the listed order gives 1448 as a permutation schedule, and with gaps used no less than the published lower bound 1232', () => {
    const listed = times.map((_, i) => i + 1);
    expect(makespan(shop, times, listed, true)).toBe(1448);
    const free = makespan(shop, times, listed);
    expect(free).toBeLessThanOrEqual(1448);
    expect(free).toBeGreaterThanOrEqual(1232);
  });
});

/** Processing times by job, as kept for these instances in open benchmark collections. */
const CARLIER: readonly {
  name: string;
  best: number;
  anyOrder?: number;
  order: number[];
  times: number[][];
}[] = [
  {
    name: 'car1',
    best: 7038,
    order: [8, 1, 3, 11, 6, 5, 7, 2, 9, 4, 10],
    times: [
      [375, 12, 142, 245, 412],
      [632, 452, 758, 278, 398],
      [12, 876, 124, 534, 765],
      [460, 542, 523, 120, 499],
      [528, 101, 789, 124, 999],
      [796, 245, 632, 375, 123],
      [532, 230, 543, 896, 452],
      [14, 124, 214, 543, 785],
      [257, 527, 753, 210, 463],
      [896, 896, 214, 258, 259],
      [532, 302, 501, 765, 988],
    ],
  },
  {
    name: 'car5',
    best: 7720,
    anyOrder: 7702,
    order: [5, 2, 4, 1, 3, 8, 6, 10, 9, 7],
    times: [
      [333, 991, 996, 123, 145, 234],
      [333, 111, 663, 456, 785, 532],
      [252, 222, 222, 789, 214, 586],
      [222, 204, 114, 876, 752, 532],
      [255, 477, 123, 543, 143, 142],
      [555, 566, 456, 210, 698, 573],
      [558, 899, 789, 124, 532, 12],
      [888, 965, 876, 537, 145, 14],
      [889, 588, 543, 854, 247, 527],
      [999, 889, 210, 632, 451, 856],
    ],
  },
  {
    name: 'car6',
    best: 8505,
    anyOrder: 8313,
    order: [7, 1, 5, 6, 8, 3, 4, 2],
    times: [
      [887, 447, 234, 159, 201, 555, 463, 456, 753],
      [799, 779, 567, 267, 478, 444, 123, 789, 21],
      [999, 999, 852, 483, 520, 120, 456, 630, 427],
      [666, 666, 140, 753, 145, 142, 789, 258, 520],
      [663, 25, 222, 420, 699, 578, 876, 741, 142],
      [333, 558, 558, 159, 875, 965, 543, 36, 534],
      [222, 886, 965, 25, 633, 412, 210, 985, 157],
      [114, 541, 412, 863, 222, 25, 123, 214, 896],
    ],
  },
  {
    name: 'car7',
    best: 6590,
    anyOrder: 6558,
    order: [5, 4, 2, 6, 7, 3, 1],
    times: [
      [692, 310, 832, 630, 258, 147, 255],
      [581, 582, 14, 214, 147, 753, 806],
      [475, 475, 785, 578, 852, 2, 699],
      [23, 196, 696, 214, 586, 356, 877],
      [158, 325, 530, 785, 325, 565, 412],
      [796, 874, 214, 236, 896, 898, 302],
      [542, 205, 578, 963, 325, 800, 120],
    ],
  },
  {
    name: 'car8',
    best: 8366,
    anyOrder: 8264,
    order: [7, 3, 8, 5, 2, 1, 6, 4],
    times: [
      [456, 654, 852, 145, 632, 425, 214, 654],
      [789, 123, 369, 678, 581, 396, 123, 789],
      [654, 123, 632, 965, 475, 325, 456, 654],
      [321, 456, 581, 421, 32, 147, 789, 123],
      [456, 789, 472, 365, 536, 852, 654, 123],
      [789, 654, 586, 824, 325, 12, 321, 456],
      [654, 321, 320, 758, 863, 452, 456, 789],
      [789, 147, 120, 639, 21, 863, 789, 654],
    ],
  },
];

describe('small flow shops: J. Carlier, Ordonnancements à contraintes disjonctives, RAIRO Recherche opérationnelle 12, 1978', () => {
  for (const { name, best, anyOrder, order, times } of CARLIER) {
    it(`${name}: ${best} as a permutation schedule`, () => {
      const shop = machineShop(times[0]!.map(() => 1));
      expect(makespan(shop, times, order, true)).toBe(best);
      // when later jobs may use gaps, the same order can only improve, at best to the listed optimum of
      // schedules with a different order on each machine
      const free = makespan(shop, times, order);
      expect(free).toBeLessThanOrEqual(best);
      expect(free).toBeGreaterThanOrEqual(anyOrder ?? best);
    });
  }
});

describe('parallel machines: R. L. Graham, Bounds on multiprocessing timing anomalies, SIAM J. Applied Mathematics 17, 1969', () => {
  for (const { machines, jobs, longestFirst, best } of [
    { machines: 2, jobs: [3, 3, 2, 2, 2], longestFirst: 7, best: 6 },
    { machines: 3, jobs: [5, 5, 4, 4, 3, 3, 3], longestFirst: 11, best: 9 },
  ]) {
    it(`longest processing time first on ${machines} units ends at ${longestFirst}, 4/3 - 1/(3m) times the optimum ${best}`, () => {
      const shop = machineShop([machines]);
      const times = jobs.map((time) => [time]);
      const listed = jobs.map((_, i) => i + 1);
      expect(makespan(shop, times, listed)).toBe(longestFirst);
      expect(longestFirst / best).toBeCloseTo(4 / 3 - 1 / (3 * machines), 12);
      expect(Math.min(...[...permutations(jobs.length)].map((order) => makespan(shop, times, order)))).toBe(
        best,
      );
    });
  }
});

describe('hybrid flow shop: times of six jobs on three stages from a published set (Pan, Ruiz, Alfaro-Fernández, Computers & Operations Research 80, 2017, from memory); optima found by exhaustive search, not published', () => {
  const times = [
    [2, 3, 4],
    [6, 4, 8],
    [9, 1, 5],
    [4, 6, 3],
    [1, 5, 10],
    [4, 8, 12],
  ];
  for (const { machines, best } of [
    { machines: [2, 2, 2], best: 28 },
    { machines: [1, 2, 2], best: 32 },
    { machines: [1, 2, 1], best: 47 },
  ]) {
    it(`${machines.join(', ')} units: the best insertion order reaches the optimum ${best}`, () => {
      const shop = machineShop(machines);
      const ends = [...permutations(6)].map((order) => makespan(shop, times, order));
      expect(Math.min(...ends)).toBe(best);
    });
  }
});
