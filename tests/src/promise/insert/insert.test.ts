import { describe, expect, it } from 'vitest';
import {
  type Booking,
  buildPlan,
  commit,
  completionTime,
  type Insertion,
  insert,
  type Job,
  type Plan,
  PlanInputError,
  type Refusal,
} from '../../../../src/promise/index.ts';
import { at, chain, iso, shopOf, week, windows, work } from '../shops.ts';

const MONDAY_8 = at('2026-03-02T08:00:00Z');

function placed(result: Insertion | Refusal): Insertion {
  if (result.kind === 'refused') throw new Error(JSON.stringify(result.reasons));
  return result;
}

function times(bookings: readonly Booking[]): string[] {
  return bookings.map(
    (booking) =>
      `${booking.station} ${booking.unit}: ${iso(booking.start).slice(5, 16)} ${iso(booking.runStart).slice(5, 16)} ${iso(booking.end).slice(5, 16)}`,
  );
}

/** Inserts jobs one after another. */
function filled(plan: Plan, ...jobs: Job[]): Plan {
  return jobs.reduce((now, job) => commit(now, placed(insert(now, job, MONDAY_8)).bookings), plan);
}

describe('the steps of a job, worked by hand', () => {
  const empty = buildPlan(shopOf(), []);

  it('pause at noon and overnight', () => {
    // Monday has 8 h of open time, so 10 h end on Tuesday at 10:00
    const result = placed(insert(empty, chain('a', work('press', 600)), MONDAY_8));
    expect(times(result.bookings)).toEqual(['press 0: 03-02T08:00 03-02T08:00 03-03T10:00']);
    expect(result.earliest).toBe(true);
  });

  it('do not begin in closed hours, and end at closing time, not at the next opening', () => {
    const noon = at('2026-03-02T12:00:00Z');
    expect(times(placed(insert(empty, chain('a', work('press', 60)), noon)).bookings)).toEqual([
      'press 0: 03-02T13:00 03-02T13:00 03-02T14:00',
    ]);
    const friday = at('2026-03-06T16:00:00Z');
    expect(times(placed(insert(empty, chain('a', work('press', 60)), friday)).bookings)).toEqual([
      'press 0: 03-06T16:00 03-06T16:00 03-06T17:00',
    ]);
  });

  it('overlap where batches flow on: the last press batch follows the last print', () => {
    const job = chain(
      'a',
      work('printer', 10, { batches: 6, crewShare: 0.5 }),
      work('press', 2, { batches: 6, crewShare: 0.5 }),
    );
    // prints end at 10, 20 .. 60 min; of 6 presses of 2 min in a row the last starts at 60, so the first at 50
    expect(times(placed(insert(empty, job, MONDAY_8)).bookings)).toEqual([
      'printer 0: 03-02T08:00 03-02T08:00 03-02T09:00',
      'press 0: 03-02T08:50 03-02T08:50 03-02T09:02',
    ]);
  });

  it('overlap where the second step is slower: pressing starts as soon as one batch is printed', () => {
    const job = chain(
      'a',
      work('printer', 2, { batches: 6, crewShare: 0.5 }),
      work('press', 10, { batches: 6, crewShare: 0.5 }),
    );
    expect(times(placed(insert(empty, job, MONDAY_8)).bookings)).toEqual([
      'printer 0: 03-02T08:00 03-02T08:00 03-02T08:12',
      'press 0: 03-02T08:02 03-02T08:02 03-02T09:02',
    ]);
  });

  it('count pieces where batch sizes differ: ten pieces, printed by fours and pressed by sixes', () => {
    const job = chain(
      'a',
      work('printer', 10, { batches: 3, batchPieces: 4, crewShare: 0.5 }),
      work('press', 10, { batches: 2, batchPieces: 6, crewShare: 0.5 }),
    );
    // the first six need two prints (20 min), the rest all three (30 min)
    expect(times(placed(insert(empty, job, MONDAY_8)).bookings)[1]).toBe(
      'press 0: 03-02T08:20 03-02T08:20 03-02T08:40',
    );
  });

  it('hand over everything at once where the recipe says so', () => {
    const job = chain(
      'a',
      work('printer', 10, { batches: 6, flow: 'whole' }),
      work('press', 10, { batches: 6 }),
    );
    expect(times(placed(insert(empty, job, MONDAY_8)).bookings)[1]).toBe(
      'press 0: 03-02T09:00 03-02T09:00 03-02T10:00',
    );
  });

  it('are set up during the first batches of the previous step, never before it', () => {
    const job = chain(
      'a',
      work('printer', 30, { batches: 2, crewShare: 0 }),
      work('press', 10, { batches: 2, setUpS: 20 * 60 }),
    );
    // prints at 08:30 and 09:00; two presses of 10 in a row end at 09:10, so set-up is from 08:30 to 08:50
    expect(times(placed(insert(empty, job, MONDAY_8)).bookings)[1]).toBe(
      'press 0: 03-02T08:30 03-02T08:50 03-02T09:10',
    );
  });

  it('dry overnight: a wait goes on in closed hours', () => {
    const job = chain(
      'a',
      work('printer', 60),
      { kind: 'wait', key: 'dry', waitS: 14 * 3600 },
      work('press', 30),
    );
    const late = at('2026-03-02T16:00:00Z');
    const result = placed(insert(empty, job, late));
    // printed at 17:00, dry at 07:00, the press opens at 08:00
    expect(times(result.bookings)[1]).toBe('press 0: 03-03T08:00 03-03T08:00 03-03T08:30');
    expect(result.steps.map((step) => step.station)).toEqual(['printer', undefined, 'press']);
  });

  it('end during closed hours when the last step is a wait', () => {
    const job = chain('a', work('press', 60), { kind: 'wait', key: 'cool', waitS: 7200 });
    expect(iso(placed(insert(empty, job, at('2026-03-06T16:00:00Z'))).endsAt)).toBe('2026-03-06T19:00:00Z');
  });

  it('start no earlier than the blanks arrive', () => {
    const job = chain('a', work('press', 60, { notBefore: at('2026-03-04T10:15:00Z'), setUpS: 600 }));
    expect(times(placed(insert(empty, job, MONDAY_8)).bookings)).toEqual([
      'press 0: 03-04T10:05 03-04T10:15 03-04T11:15',
    ]);
  });

  it('use another unit when one is busy, or a gap that is wide enough', () => {
    const shop = shopOf({ stations: [{ id: 'press', count: 2 }], crew: { count: 9 } });
    const plan = filled(buildPlan(shop, []), chain('a', work('press', 120)));
    expect(times(placed(insert(plan, chain('b', work('press', 60)), MONDAY_8)).bookings)).toEqual([
      'press 1: 03-02T08:00 03-02T08:00 03-02T09:00',
    ]);
    const single = shopOf({ stations: [{ id: 'press', count: 1 }], crew: { count: 9 } });
    const gaps = filled(
      buildPlan(single, []),
      chain('a', work('press', 60)),
      chain('b', work('press', 60, { notBefore: at('2026-03-02T09:30:00Z') })),
      chain('c', work('press', 60, { notBefore: at('2026-03-02T11:30:00Z') })),
    );
    // free: 09:00-09:30, 10:30-11:30, from 13:30 on (the third runs 11:30-12:00 and 13:00-13:30)
    expect(times(placed(insert(gaps, chain('d', work('press', 30)), MONDAY_8)).bookings)).toEqual([
      'press 0: 03-02T09:00 03-02T09:00 03-02T09:30',
    ]);
    expect(times(placed(insert(gaps, chain('d', work('press', 45)), MONDAY_8)).bookings)).toEqual([
      'press 0: 03-02T10:30 03-02T10:30 03-02T11:15',
    ]);
    expect(times(placed(insert(gaps, chain('d', work('press', 90)), MONDAY_8)).bookings)).toEqual([
      'press 0: 03-02T13:30 03-02T13:30 03-02T15:00',
    ]);
  });
});

describe('the crew, shared by all stations', () => {
  const shop = shopOf({ crew: { count: 1 } });

  it('works on two half-person steps at once, a third waits', () => {
    const stations = [
      { id: 'printer', count: 1 },
      { id: 'press', count: 1 },
      { id: 'oven', count: 1 },
    ];
    const half = { crewShare: 0.5 };
    const plan = filled(
      buildPlan(shopOf({ stations, crew: { count: 1 } }), []),
      chain('a', work('printer', 60, half)),
      chain('b', work('press', 90, half)),
    );
    expect(times(placed(insert(plan, chain('c', work('oven', 60, half)), MONDAY_8)).bookings)).toEqual([
      'oven 0: 03-02T09:00 03-02T09:00 03-02T10:00',
    ]);
  });

  it('is needed only to load a press that cures alone', () => {
    const alone = { setUpS: 600, setUpCrewShare: 1, crewShare: 0 };
    const plan = filled(buildPlan(shop, []), chain('a', work('press', 60, alone)));
    // the only person is busy until 08:10, then free while the press runs on
    expect(times(placed(insert(plan, chain('b', work('printer', 60)), MONDAY_8)).bookings)).toEqual([
      'printer 0: 03-02T08:10 03-02T08:10 03-02T09:10',
    ]);
  });

  it('can do three third-person steps per person', () => {
    const stations = [{ id: 'press', count: 4 }];
    const third = { crewShare: 1 / 3 };
    const plan = filled(
      buildPlan(shopOf({ stations, crew: { count: 1 } }), []),
      ...['a', 'b', 'c'].map((id) => chain(id, work('press', 60, third))),
    );
    expect(
      new Set(
        times(plan.schedules.flatMap((schedule) => [...schedule.bookings()])).map((text) => text.slice(9)),
      ),
    ).toEqual(new Set(['03-02T08:00 03-02T08:00 03-02T09:00']));
    expect(times(placed(insert(plan, chain('d', work('press', 60, third)), MONDAY_8)).bookings)).toEqual([
      'press 0: 03-02T09:00 03-02T09:00 03-02T10:00',
    ]);
  });

  it('can do seventeen steps of 1/17, which is not a whole number of CREW_PARTS', () => {
    const share = { crewShare: 1 / 17 };
    const plan = filled(
      buildPlan(shopOf({ stations: [{ id: 'press', count: 18 }], crew: { count: 1 } }), []),
      ...Array.from({ length: 17 }, (_, i) => chain(`a${i}`, work('press', 60, share))),
    );
    for (const schedule of plan.schedules.slice(0, 17))
      expect([...schedule.bookings()][0]!.start).toBe(MONDAY_8);
    const next = placed(insert(plan, chain('b', work('press', 60, share)), MONDAY_8));
    expect(iso(next.endsAt)).toBe('2026-03-02T10:00:00Z');
  });

  it('is not needed for a step without people, which runs after hours', () => {
    const night = shopOf({
      stations: [{ id: 'printer', count: 1, hours: week({ mon: windows('08:00-20:00') }) }],
    });
    const plan = buildPlan(night, []);
    const evening = at('2026-03-02T16:30:00Z');
    const nobody = chain('a', work('printer', 60, { crewShare: 0, setUpCrewShare: 0 }));
    expect(times(placed(insert(plan, nobody, evening)).bookings)).toEqual([
      'printer 0: 03-02T16:30 03-02T16:30 03-02T17:30',
    ]);
    expect(times(placed(insert(plan, chain('a', work('printer', 60)), evening)).bookings)).toEqual([
      'printer 0: 03-02T16:30 03-02T16:30 03-09T08:30',
    ]);
  });

  it('is smaller while people are on leave', () => {
    const away = shopOf({
      crew: {
        count: 2,
        away: [{ from: at('2026-03-02T00:00:00Z'), to: at('2026-03-03T00:00:00Z'), count: 1 }],
      },
    });
    const two = chain('a', work('press', 60, { crewShare: 2 }));
    expect(times(placed(insert(buildPlan(away, []), two, MONDAY_8)).bookings)).toEqual([
      'press 0: 03-03T08:00 03-03T08:00 03-03T09:00',
    ]);
  });

  it('may all be busy elsewhere while a step pauses for lunch', () => {
    const plan = filled(
      buildPlan(
        shopOf({
          stations: [
            { id: 'press', count: 1 },
            { id: 'oven', count: 1, hours: week({ mon: windows('12:00-13:00') }) },
          ],
          crew: { count: 1, hours: week({ mon: windows('08:00-17:00') }) },
        }),
        [],
      ),
      chain('a', work('oven', 60)),
    );
    expect(times(placed(insert(plan, chain('b', work('press', 360)), MONDAY_8)).bookings)).toEqual([
      'press 0: 03-02T08:00 03-02T08:00 03-02T15:00',
    ]);
  });
});

describe('like work', () => {
  const shop = shopOf({ stations: [{ id: 'press', count: 1 }], crew: { count: 9 } });
  const pressed = (id: string, key: string, more = {}): Job =>
    chain(id, work('press', 30, { setUpS: 1200, like: { key, sharedSetUpS: 300 }, ...more }));

  it('needs the short set-up directly after the same key, the full one after another', () => {
    const plan = filled(buildPlan(shop, []), pressed('a', '160 C'));
    expect(times(placed(insert(plan, pressed('b', '160 C'), MONDAY_8)).bookings)).toEqual([
      'press 0: 03-02T08:50 03-02T08:55 03-02T09:25',
    ]);
    expect(times(placed(insert(plan, pressed('b', '150 C'), MONDAY_8)).bookings)).toEqual([
      'press 0: 03-02T08:50 03-02T09:10 03-02T09:40',
    ]);
  });

  it('has the unit held for it as long as that saves set-up, and no other work comes between', () => {
    let plan = filled(buildPlan(shop, []), pressed('a', '160 C'));
    const later = pressed('b', '160 C', { notBefore: at('2026-03-02T09:05:00Z') });
    const second = placed(insert(plan, later, MONDAY_8));
    expect(times(second.bookings)).toEqual(['press 0: 03-02T09:00 03-02T09:05 03-02T09:35']);
    expect(second.bookings[0]).toMatchObject({ joined: true, setUpS: 300, fullSetUpS: 1200 });
    expect(iso(second.bookings[0]!.heldFrom)).toBe('2026-03-02T08:50:00Z');
    plan = commit(plan, second.bookings);
    const small = chain('c', work('press', 5));
    expect(times(placed(insert(plan, small, MONDAY_8)).bookings)).toEqual([
      'press 0: 03-02T09:35 03-02T09:35 03-02T09:40',
    ]);
  });

  it('is set up in full when holding the unit costs more than the set-up saves', () => {
    const plan = filled(buildPlan(shop, []), pressed('a', '160 C'));
    const later = pressed('b', '160 C', { notBefore: at('2026-03-02T10:00:00Z') });
    const second = placed(insert(plan, later, MONDAY_8));
    expect(second.bookings[0]).toMatchObject({ joined: false, setUpS: 1200 });
    expect(times(second.bookings)).toEqual(['press 0: 03-02T09:40 03-02T10:00 03-02T10:30']);
  });

  it('is the only way in which more bookings make a job end earlier', () => {
    const empty = buildPlan(shop, []);
    const other = filled(empty, chain('z', work('press', 15)));
    const alike = filled(empty, chain('z', work('press', 15, { like: { key: '160 C', sharedSetUpS: 0 } })));
    const ends = [empty, other, alike].map((plan) =>
      iso(completionTime(plan, pressed('b', '160 C'), MONDAY_8)),
    );
    expect(ends).toEqual(['2026-03-02T08:50:00Z', '2026-03-02T09:05:00Z', '2026-03-02T08:50:00Z']);
  });
});

describe('several chains', () => {
  const shop = shopOf({ crew: { count: 9 } });

  it('run side by side unless one waits for another', () => {
    const independent: Job = {
      id: 'a',
      chains: [{ steps: [work('printer', 60)] }, { steps: [work('press', 60)] }],
    };
    expect(iso(placed(insert(buildPlan(shop, []), independent, MONDAY_8)).endsAt)).toBe(
      '2026-03-02T09:00:00Z',
    );
    const joined: Job = {
      id: 'a',
      chains: [{ steps: [work('printer', 60)] }, { steps: [work('press', 60)], after: [{ chain: 0 }] }],
    };
    const result = placed(insert(buildPlan(shop, []), joined, MONDAY_8));
    expect(iso(result.endsAt)).toBe('2026-03-02T10:00:00Z');
    expect(result.earliest).toBe(false);
  });

  it('may overlap batch by batch, and wait for a step that is not the last', () => {
    const steps = [work('printer', 10, { batches: 6 }), work('press', 60)];
    const job = (after: NonNullable<Job['chains'][number]['after']>): Job => ({
      id: 'a',
      chains: [{ steps }, { steps: [work('oven', 10, { batches: 6 })], after }],
    });
    const plan = buildPlan(
      shopOf({
        stations: ['printer', 'press', 'oven'].map((id) => ({ id, count: 1 })),
        crew: { count: 9 },
      }),
      [],
    );
    const ovenStart = (after: NonNullable<Job['chains'][number]['after']>): string =>
      iso(
        placed(insert(plan, job(after), MONDAY_8)).bookings.find((booking) => booking.station === 'oven')!
          .start,
      );
    expect(ovenStart([{ chain: 0, step: 0, flow: 'on' }])).toBe('2026-03-02T08:10:00Z');
    expect(ovenStart([{ chain: 0, step: 0 }])).toBe('2026-03-02T09:00:00Z');
    expect(ovenStart([{ chain: 0 }])).toBe('2026-03-02T10:00:00Z');
  });

  it('are placed by when they are ready, then in the order listed', () => {
    const job: Job = {
      id: 'a',
      chains: [
        { steps: [work('printer', 30), work('press', 60)] },
        { steps: [work('press', 60)] },
        { steps: [work('press', 60)] },
      ],
    };
    const order = placed(insert(buildPlan(shop, []), job, MONDAY_8)).bookings.map((booking) => booking.chain);
    expect(order).toEqual([0, 1, 2, 0]);
  });
});

describe('refusals and wrong input', () => {
  const plan = buildPlan(
    shopOf(
      {
        stations: [
          { id: 'press', count: 1 },
          { id: 'idle', count: 1, hours: week({}) },
        ],
        crew: { count: 2 },
      },
      '2026-03-02',
      5,
    ),
    [],
  );
  const reasons = (job: Job): unknown => {
    const result = insert(plan, job, MONDAY_8);
    return result.kind === 'refused' ? result.reasons : result;
  };

  it('name a station that is missing or never open, and a step that needs too many people', () => {
    expect(reasons(chain('a', work('kiln', 1)))).toEqual([
      { code: 'no-station', params: { station: 'kiln', step: 'on kiln' } },
    ]);
    expect(reasons(chain('a', work('idle', 1)))).toEqual([
      { code: 'no-hours', params: { station: 'idle', step: 'on idle' } },
    ]);
    expect(reasons(chain('a', work('press', 1, { crewShare: 3 })))).toEqual([
      { code: 'crew-too-small', params: { station: 'press', step: 'on press', share: 3, crew: 2 } },
    ]);
  });

  it('say when the plan is full within the horizon', () => {
    expect(reasons(chain('a', work('press', 5 * 8 * 60)))).toMatchObject({ kind: 'placed' });
    expect(reasons(chain('a', work('press', 5 * 8 * 60 + 1)))).toEqual([
      { code: 'plan-full', params: { horizonDays: 5, station: 'press', step: 'on press' } },
    ]);
    expect(completionTime(plan, chain('a', work('press', 5 * 8 * 60 + 1)), MONDAY_8)).toBe(
      Number.POSITIVE_INFINITY,
    );
  });

  it('name the wrong value', () => {
    const wrong = (job: Job): (() => unknown) => {
      return () => insert(plan, job, MONDAY_8);
    };
    expect(wrong(chain('a', work('press', -1)))).toThrow(/job 'a', chains\[0\]\.steps\[0\]\.batchS is -60/);
    expect(wrong(chain('a', work('press', 1, { batches: 1.5 })))).toThrow(
      /batches is 1\.5; it must be a whole number/,
    );
    expect(wrong(chain('a', work('press', Number.NaN)))).toThrow(PlanInputError);
    expect(wrong(chain('a', { kind: 'wait', key: 'dry', waitS: -1 }))).toThrow(/waitS is -1/);
    expect(wrong(chain('a', work('press', 1, { batchPieces: 0 })))).toThrow(
      /batchPieces is 0; it must be over 0/,
    );
    expect(wrong({ id: 'a', chains: [{ steps: [], after: [{ chain: 0 }] }] })).toThrow(
      /after\[0\]\.chain is 0/,
    );
    expect(
      wrong({ id: 'a', chains: [{ steps: [] }, { steps: [], after: [{ chain: 0, step: 0 }] }] }),
    ).toThrow(/after\[0\]\.step is 0/);
    expect(
      wrong({
        id: 'a',
        chains: [
          { steps: [work('press', 1)], after: [{ chain: 1 }] },
          { steps: [], after: [{ chain: 0 }] },
        ],
      }),
    ).toThrow(/must not wait in a circle/);
    expect(() => buildPlan(plan.shop, [{ ...({} as Booking), job: 'x', station: 'press', unit: 7 }])).toThrow(
      /booking of job 'x' is on unit 7 of station 'press'; the shop has press \(1\), idle \(1\)/,
    );
  });

  it('do not occur for a job without work, which ends at its release time', () => {
    expect(placed(insert(plan, { id: 'a', chains: [] }, MONDAY_8)).endsAt).toBe(MONDAY_8);
    const nothing = chain('a', work('press', 0), { kind: 'wait', key: 'dry', waitS: 60 });
    expect(placed(insert(plan, nothing, MONDAY_8))).toMatchObject({ bookings: [], endsAt: MONDAY_8 + 60 });
  });
});
