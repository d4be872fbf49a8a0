import { describe, expect, it } from 'vitest';
import { monthGrid, shiftMonth } from '../../../widget/draft/month-grid.ts';

describe('a month', () => {
  it('starts its rows on the first weekday', () => {
    // 2026-11-01 is a Sunday
    expect(monthGrid('2026-11', 7)[0]).toBe('2026-11-01');
    expect(monthGrid('2026-11', 1).slice(0, 7)).toEqual([null, null, null, null, null, null, '2026-11-01']);
    expect(monthGrid('2028-02', 1).filter((day) => day !== null)).toHaveLength(29);
  });

  it('shifts across the end of a year', () => {
    expect(shiftMonth('2026-12', 1)).toBe('2027-01');
    expect(shiftMonth('2026-01', -1)).toBe('2025-12');
  });
});
