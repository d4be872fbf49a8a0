import { type DraftLine, piecesIn } from './draft.ts';

/** A copy of the line with `count` pieces in all, in the same proportion of sizes (largest remainder method). */
export function scaleCounts(line: DraftLine, count: number): DraftLine {
  const now = piecesIn(line);
  if (now === 0 || line.counts.length === 0) return line;
  const shares = line.counts.map((entry) => ({ size: entry.size, exact: (entry.count * count) / now }));
  const counts = shares.map(({ size, exact }) => ({
    size,
    count: Math.floor(exact),
    rest: exact - Math.floor(exact),
  }));
  let left = count - counts.reduce((sum, entry) => sum + entry.count, 0);
  for (const entry of [...counts].sort((a, b) => b.rest - a.rest)) {
    if (left <= 0) break;
    entry.count++;
    left--;
  }
  return {
    ...line,
    counts: counts.filter((entry) => entry.count > 0).map(({ size, count: n }) => ({ size, count: n })),
  };
}
