import { describe, expect, it } from 'vitest';
import { buildPlan, type DeliveryRule, possibleDays } from '../../../../src/promise/index.ts';
import { at, chain, shopOf, work } from '../shops.ts';

const PICK_UP: DeliveryRule = { kind: 'pick-up', workingDays: 0, handOverBy: null };

const shop = shopOf(
  {
    calendar: {
      timeZone: 'America/New_York',
      closures: [
        { from: '2026-05-25', to: '2026-05-25', name: 'Memorial Day', kind: 'holiday' },
        { from: '2026-05-28', to: '2026-05-29', name: 'stock-taking' },
      ],
    },
  },
  '2026-05-18',
  60,
);

describe('days a customer may ask for', () => {
  it('are all delivery days from the earliest on', () => {
    const plan = buildPlan(shop, []);
    const job = chain('a', work('press', 8 * 60));
    const result = possibleDays(plan, job, at('2026-05-20T12:00:00-04:00'), 600, PICK_UP, '2026-05-19', 14);
    expect(result.earliest?.day).toBe('2026-05-21');
    expect(result.days.map(({ day, why }) => `${day.slice(8)} ${why ?? 'yes'}`)).toEqual([
      '19 too-early',
      '20 too-early',
      '21 yes',
      '22 yes',
      '23 no-delivery',
      '24 no-delivery',
      '25 no-delivery',
      '26 yes',
      '27 yes',
      '28 no-delivery',
      '29 no-delivery',
      '30 no-delivery',
      '31 no-delivery',
      '01 yes',
    ]);
  });

  it('are none when the plan is full', () => {
    const plan = buildPlan(shop, []);
    const result = possibleDays(
      plan,
      chain('a', work('press', 60_000)),
      shop.from,
      0,
      PICK_UP,
      '2026-05-19',
      3,
    );
    expect(result.earliest).toBeUndefined();
    expect(result.days.every((day) => day.why === 'too-early')).toBe(true);
    expect(() => possibleDays(plan, chain('a'), shop.from, 0, PICK_UP, '2026-05-19', 0)).toThrow(
      /count is 0/,
    );
  });
});
