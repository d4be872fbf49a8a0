/**
 * The days of a month (`YYYY-MM`) for a calendar whose rows start on `firstWeekday` (1 Monday .. 7 Sunday): ISO days,
 * with nulls before the 1st.
 */
export function monthGrid(month: string, firstWeekday: number): (string | null)[] {
  const [year = 1970, number = 1] = month.split('-').map(Number);
  const start = new Date(Date.UTC(year, number - 1, 1));
  const length = new Date(Date.UTC(year, number, 0)).getUTCDate();
  const weekday = start.getUTCDay() === 0 ? 7 : start.getUTCDay();
  const lead = (weekday - firstWeekday + 7) % 7;
  return [
    ...Array.from({ length: lead }, () => null),
    ...Array.from({ length }, (_, index) => `${month}-${String(index + 1).padStart(2, '0')}`),
  ];
}

/** The month `by` months later; earlier when negative. */
export function shiftMonth(month: string, by: number): string {
  const [year = 1970, number = 1] = month.split('-').map(Number);
  return new Date(Date.UTC(year, number - 1 + by, 1)).toISOString().slice(0, 7);
}
