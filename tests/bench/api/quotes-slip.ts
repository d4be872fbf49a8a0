import type { SlipInput } from '../../../src/contract/index.ts';

/** The artwork that the benchmark's server has: a disc, 1,200 px across. */
export const DISC = 'd15c'.padEnd(64, '0');

/** Three lines of the demo shop's blanks, one print each. Counts and sizes depend on `n`. */
export function quoteSlip(n: number, mostPieces = 40): SlipInput {
  return {
    format: 1,
    delivery: 'pick-up',
    lines: ['cotton-tee', 'sport-tee', 'cap'].map((blank, index) => ({
      id: `line-${index}`,
      blank,
      color: ['white', 'black', 'stone'][index]!,
      finish: 'standard',
      counts: [{ size: blank === 'cap' ? 'one' : 'm', count: 1 + ((n + 7 * index) % mostPieces) }],
      placements: [
        {
          id: 'disc',
          face: blank === 'cap' ? 'front-panel' : 'front',
          artwork: DISC,
          xMm: 0,
          yMm: blank === 'cap' ? 29 : 120,
          // The step does not divide the range, so sizes practically never repeat.
          widthMm: blank === 'cap' ? 20 + ((n * 0.0137) % 20) : 60 + ((n * 0.0377) % 100),
        },
      ],
    })),
  };
}
