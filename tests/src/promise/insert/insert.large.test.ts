import { describe, expect, it } from 'vitest';
import {
  type Booking,
  bookingsOf,
  buildPlan,
  commit,
  completionTime,
  insert,
  type Job,
  workPieces,
} from '../../../../src/promise/index.ts';
import { chain, shopOf, work } from '../shops.ts';

/** The minimal standard generator. */
function randomFrom(seed: number): () => number {
  let x = seed;
  return () => {
    x = (16_807 * x) % 2_147_483_647;
    return x / 2_147_483_647;
  };
}

function jobOf(id: string, random: () => number): Job {
  const batches = 1 + Math.floor(random() * 12);
  const like = { key: ['red', 'blue', 'black'][Math.floor(random() * 3)]!, sharedSetUpS: 60 };
  return chain(
    id,
    work('printer', 1.5, { batches, setUpS: 240, crewShare: 0.35, like }),
    { kind: 'wait', key: 'dry', waitS: 900 },
    work('press', 1, { batches: Math.ceil(batches / 2), setUpS: 120, crewShare: 0.5 }),
    { kind: 'wait', key: 'cool', waitS: 60 },
    work('press', 0.5, { batches, crewShare: 1 }),
  );
}

describe('a plan of thousands of bookings, large enough to split its indexes', () => {
  const shop = shopOf({
    stations: [
      { id: 'printer', count: 3 },
      { id: 'press', count: 2 },
    ],
    crew: { count: 3 },
    calendar: { timeZone: 'America/New_York' },
  });
  const random = randomFrom(1);
  const bookings: Booking[] = [];
  let plan = buildPlan(shop, []);
  for (let i = 0; i < 1_200; i++) {
    // half in order of time, half anywhere, so that gaps are filled as well
    const share = i % 2 === 0 ? i / 1_200 : random();
    const placed = insert(plan, jobOf(`order-${i}`, random), shop.from + Math.floor(share * 50 * 86_400));
    if (placed.kind === 'refused') throw new Error(`order ${i} was refused`);
    plan = commit(plan, placed.bookings);
    bookings.push(...placed.bookings);
  }

  it('never has two bookings on a unit at once, or more crew at work than there is', () => {
    expect(bookings).toHaveLength(3_600);
    const units = new Map<string, Booking[]>();
    for (const booking of bookings) {
      const unit = `${booking.station} ${booking.unit}`;
      units.set(unit, [...(units.get(unit) ?? []), booking]);
    }
    expect(units.size).toBe(5);
    for (const list of units.values()) {
      expect(list.length).toBeGreaterThan(256);
      list.sort((a, b) => a.heldFrom - b.heldFrom);
      list.forEach((booking, i) => {
        const before = list[i - 1];
        if (before) expect(booking.heldFrom).toBeGreaterThanOrEqual(before.end);
        if (booking.joined) expect(before!.likeKey).toBe(booking.likeKey);
      });
    }
    expect(bookings.filter((booking) => booking.joined).length).toBeGreaterThan(20);
    const changes = bookings
      .flatMap((booking) => workPieces(shop, booking))
      .flatMap((piece) => [
        { at: piece.from, by: piece.crewShare },
        { at: piece.to, by: -piece.crewShare },
      ])
      .sort((a, b) => a.at - b.at || a.by - b.by);
    let load = 0;
    let peak = 0;
    for (const { by } of changes) {
      load += by;
      peak = Math.max(peak, load);
    }
    expect(peak).toBeLessThanOrEqual(3 + 1e-9);
    // the crew really was the bottleneck
    expect(peak).toBeGreaterThan(2.8);
  });

  it('gives the same answers as one built from its bookings at once', () => {
    const rebuilt = buildPlan(shop, bookings);
    expect(new Set(bookingsOf(plan))).toEqual(new Set(bookingsOf(rebuilt)));
    for (let i = 0; i < 100; i++) {
      const job = jobOf(`new-${i}`, random);
      const notBefore = shop.from + Math.floor(random() * 50 * 86_400);
      const placed = insert(plan, job, notBefore);
      expect(insert(rebuilt, job, notBefore)).toEqual(placed);
      expect(completionTime(plan, job, notBefore)).toBe(
        placed.kind === 'placed' ? placed.endsAt : Number.POSITIVE_INFINITY,
      );
    }
  });
});
