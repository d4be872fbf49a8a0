import { MaxRectsPacker } from 'maxrects-packer';
import { describe, expect, it } from 'vitest';
import { type NestPrints, nest } from '../../../src/production/nest.ts';
import { BINS } from './packing-problems.ts';

/** Bins a packer for texture sheets (maxrects-packer 2.7.3) takes for the same items. */
function rivalBins(side: number, items: readonly NestPrints[], allowRotation: boolean): number {
  const packer = new MaxRectsPacker(side, side, 0, {
    smart: false,
    pot: false,
    square: false,
    allowRotation,
  });
  packer.addArray(
    items.map(({ widthMm, heightMm }) => ({ width: widthMm, height: heightMm, x: 0, y: 0 })) as never,
  );
  return packer.bins.length;
}

describe('nesting beside a packer for texture sheets', () => {
  it('takes no more sheets on any problem, and fewer over all', () => {
    for (const mayTurn of [false, true]) {
      let ours = 0;
      let theirs = 0;
      for (const { side, items } of BINS) {
        const prints = items.split(' ').map((item) => {
          const [widthMm, heightMm] = item.split('x').map(Number);
          return { widthMm: widthMm!, heightMm: heightMm!, count: 1 };
        });
        const sheets = nest({ widthMm: side, heightMm: side, marginMm: 0, gapMm: 0 }, prints, mayTurn).sheets;
        const rival = rivalBins(side, prints, mayTurn);
        expect(sheets).toBeLessThanOrEqual(rival);
        ours += sheets;
        theirs += rival;
      }
      // Measured: 90 against 95 not turned, 79 against 88 turned.
      expect(ours).toBeLessThan(theirs);
    }
  });
});
