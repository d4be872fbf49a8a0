import { describe, expect, it } from 'vitest';
import { emptyLine } from '../../../widget/draft/draft.ts';
import { scaleCounts } from '../../../widget/draft/scale-counts.ts';

describe('scaling a line to a count', () => {
  it('gives exactly that many pieces', () => {
    const line = {
      ...emptyLine('line-1'),
      counts: [
        { size: 's', count: 1 },
        { size: 'm', count: 1 },
        { size: 'l', count: 1 },
      ],
    };
    for (const count of [1, 2, 5, 12, 100]) {
      const scaled = scaleCounts(line, count);
      expect(scaled.counts.reduce((sum, entry) => sum + entry.count, 0)).toBe(count);
      expect(scaled.counts.every((entry) => entry.count > 0)).toBe(true);
    }
  });
});
