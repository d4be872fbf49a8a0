/**
 * Strip packing problems with known least heights: rectangles cut from a larger one without waste, so that no layout is
 * lower than the larger one.
 *
 * - C: E. Hopper, B. C. H. Turton, An empirical investigation of meta-heuristic and heuristic algorithms for a 2D packing
 *   problem, European Journal of Operational Research 128(1), 34-57, 2001
 * - N: E. K. Burke, G. Kendall, G. Whitwell, A new placement heuristic for the orthogonal stock-cutting problem,
 *   Operations Research 52(4), 655-671, 2004
 *
 * A choice of them; the areas of each add up to width times height (a test says so). Items are width x height.
 */
export type StripProblem = {
  readonly name: string;
  readonly width: number;
  readonly height: number;
  readonly items: string;
};

export const STRIPS: readonly StripProblem[] = [
  {
    name: 'C1P1',
    width: 20,
    height: 20,
    items: '2x12 7x12 8x6 3x6 3x5 5x5 3x12 3x7 5x7 2x6 3x2 4x2 3x4 4x4 9x2 11x2',
  },
  {
    name: 'C1P2',
    width: 20,
    height: 20,
    items: '4x1 4x5 9x4 3x5 3x9 1x4 5x3 4x1 5x5 7x2 9x3 3x13 2x8 15x4 5x4 10x6 7x2',
  },
  {
    name: 'C1P3',
    width: 20,
    height: 20,
    items: '4x14 5x2 2x2 9x7 5x5 2x5 7x7 3x5 6x5 3x2 6x2 4x6 6x3 10x3 6x3 10x3',
  },
  {
    name: 'C2P1',
    width: 40,
    height: 15,
    items:
      '11x3 13x3 9x2 7x2 9x3 7x3 11x2 13x2 11x4 13x4 3x5 11x2 2x2 11x3 2x3 5x4 6x4 12x2 1x2 3x5 13x5 12x4 1x4 5x2 6x2',
  },
  {
    name: 'C3P1',
    width: 60,
    height: 30,
    items:
      '7x5 14x5 14x8 4x8 21x13 7x11 14x11 14x5 4x5 18x3 21x3 17x11 4x11 7x4 5x4 6x7 18x5 3x5 7x3 5x3 18x4 3x4 12x2 6x2 18x5 21x5 17x3 4x3',
  },
  {
    name: 'C4P1',
    width: 60,
    height: 60,
    items:
      '2x7 24x7 16x4 18x4 16x7 18x7 2x4 24x4 4x28 6x18 14x12 2x12 18x19 9x8 7x8 9x11 7x11 14x6 2x6 6x10 16x10 3x5 4x5 8x12 3x18 3x3 8x3 5x20 3x17 3x7 5x7 3x7 4x7 4x21 10x19 4x17 8x17 3x10 5x10 7x6 8x6 15x12 3x12 11x10 5x10 4x2 8x2 10x2 12x2',
  },
  {
    name: 'C5P1',
    width: 60,
    height: 90,
    items:
      '6x34 3x13 5x13 12x10 12x10 7x6 15x6 7x25 15x25 12x21 7x16 5x16 3x21 5x21 7x5 5x5 1x4 10x4 13x6 13x12 9x12 6x23 3x7 5x7 1x2 10x2 6x6 5x6 7x14 6x14 3x16 5x16 6x14 5x14 13x14 2x3 7x3 2x11 7x11 7x6 6x6 14x33 4x12 3x12 18x16 3x12 18x12 4x4 3x4 1x3 2x3 9x6 9x6 1x6 2x6 7x5 18x5 9x3 9x3 18x9 5x6 2x6 12x2 9x2 3x8 9x8 9x10 5x3 2x3 18x3 7x3 3x2 9x2',
  },
  {
    name: 'N1',
    width: 40,
    height: 40,
    items: '7x6 40x16 5x20 24x24 7x4 4x4 7x8 4x20 5x4 7x6',
  },
  {
    name: 'N2',
    width: 30,
    height: 50,
    items: '23x9 19x4 12x21 6x4 7x13 9x4 4x6 23x6 16x6 4x14 14x6 6x6 5x4 4x6 6x4 7x6 14x11 4x7 8x4 14x4',
  },
  {
    name: 'N3',
    width: 30,
    height: 50,
    items:
      '10x6 4x4 4x5 3x5 10x5 3x5 7x13 3x4 8x32 3x23 6x4 3x15 9x6 3x3 3x4 6x18 7x5 3x4 5x3 3x8 5x4 3x5 3x3 5x8 5x16 10x13 3x3 10x17 5x14 5x3',
  },
  {
    name: 'N4',
    width: 80,
    height: 80,
    items:
      '61x38 7x4 9x5 5x4 5x7 7x7 9x15 4x4 4x4 32x31 4x4 5x4 8x10 4x4 5x5 32x4 7x7 5x4 5x8 7x24 5x4 10x7 4x7 20x7 5x7 5x12 5x4 11x7 8x21 9x4 5x72 5x52 5x4 9x7 5x12 9x33 4x8 9x34 4x4 29x4',
  },
  {
    name: 'N6',
    width: 50,
    height: 100,
    items:
      '3x3 9x4 26x30 5x5 4x21 14x24 4x5 3x4 3x4 3x5 5x5 5x5 3x3 7x5 3x5 3x5 5x3 3x6 3x3 3x5 50x4 6x25 5x3 24x30 4x12 5x3 5x4 5x3 5x4 12x6 5x5 16x6 3x3 7x5 4x14 5x5 4x5 7x21 5x24 5x8 3x5 5x8 50x3 3x19 8x3 3x8 4x3 4x3 4x3 35x13 4x3 4x3 5x5 3x3 5x21 4x7 35x12 4x15 4x5 50x3',
  },
  {
    name: 'N8',
    width: 100,
    height: 80,
    items:
      '17x6 3x5 16x5 4x4 4x3 4x5 4x4 12x4 3x11 3x4 40x13 8x20 3x9 4x28 9x11 3x22 4x3 4x3 20x4 4x35 4x4 23x34 4x29 3x12 11x8 4x21 7x35 23x35 3x4 4x5 3x15 12x6 37x15 3x4 3x3 34x11 4x5 23x4 23x4 37x3 7x50 20x3 3x5 4x7 10x6 7x6 5x8 3x3 4x4 9x24 11x8 4x3 3x5 8x10 7x3 3x3 3x5 16x5 7x4 3x10 12x10 18x4 3x5 5x16 20x5 4x5 4x5 8x6 10x3 3x4 3x7 11x19 13x43 5x20 5x11 4x4 9x3 3x4 3x14 10x6',
  },
];

/**
 * Bin packing problems: J. O. Berkey, P. Y. Wang, Two-dimensional finite bin-packing algorithms, Journal of the
 * Operational Research Society 38, 423-429, 1987; classes I, III and V, 20 items, the first five of each. `least` is a proved lower
 * bound for items that are not turned, `best` the fewest bins found.
 */
export type BinProblem = {
  readonly name: string;
  readonly side: number;
  readonly least: number;
  readonly best: number;
  readonly items: string;
};

export const BINS: readonly BinProblem[] = [
  {
    name: 'CL01_020_01',
    side: 10,
    least: 8,
    best: 8,
    items: '5x9 4x2 10x6 5x7 6x3 10x7 1x5 3x5 6x9 2x4 6x7 7x2 8x3 4x10 4x5 10x3 8x3 7x8 8x3 8x7',
  },
  {
    name: 'CL01_020_02',
    side: 10,
    least: 5,
    best: 5,
    items: '2x2 6x8 10x2 1x3 8x4 3x10 1x9 1x5 6x3 1x1 4x2 9x2 1x9 9x5 4x7 2x2 3x4 9x7 4x1 9x8',
  },
  {
    name: 'CL01_020_03',
    side: 10,
    least: 8,
    best: 9,
    items: '7x5 10x6 5x6 7x2 4x8 9x10 8x5 8x6 4x9 9x3 3x10 9x5 1x7 8x9 4x6 3x6 4x3 10x2 6x1 1x4',
  },
  {
    name: 'CL01_020_04',
    side: 10,
    least: 5,
    best: 6,
    items: '4x7 1x3 6x7 8x2 9x4 6x2 7x7 3x6 2x7 1x3 3x8 4x3 1x9 8x1 1x10 7x6 9x5 3x7 8x3 6x9',
  },
  {
    name: 'CL01_020_05',
    side: 10,
    least: 6,
    best: 6,
    items: '10x4 2x10 2x4 10x10 7x2 9x10 5x6 7x5 1x7 5x3 3x9 9x4 2x10 4x3 2x2 4x9 2x8 1x1 1x7 4x4',
  },
  {
    name: 'CL03_020_01',
    side: 40,
    least: 5,
    best: 6,
    items:
      '18x30 13x5 33x19 17x22 18x9 34x24 1x16 9x15 19x31 4x11 19x23 24x4 27x9 13x33 13x15 34x9 27x10 22x28 26x11 25x25',
  },
  {
    name: 'CL03_020_02',
    side: 40,
    least: 3,
    best: 3,
    items:
      '7x6 18x25 34x4 3x9 26x12 8x32 1x31 2x17 19x9 1x3 14x7 32x6 3x30 29x17 12x22 7x6 10x11 29x23 13x2 29x25',
  },
  {
    name: 'CL03_020_03',
    side: 40,
    least: 5,
    best: 6,
    items:
      '22x17 35x20 17x18 23x6 13x28 31x33 25x16 28x21 11x32 30x10 10x33 29x15 1x23 28x29 13x18 10x21 14x11 35x6 20x4 2x11',
  },
  {
    name: 'CL03_020_04',
    side: 40,
    least: 4,
    best: 4,
    items:
      '14x25 2x8 19x22 26x5 32x12 20x4 22x23 11x19 6x23 3x8 10x28 11x9 3x30 28x4 1x33 23x19 31x17 11x23 27x10 19x32',
  },
  {
    name: 'CL03_020_05',
    side: 40,
    least: 4,
    best: 4,
    items:
      '34x13 5x32 6x13 32x33 22x6 29x34 15x20 23x17 2x23 18x9 9x31 29x14 5x35 14x11 6x6 12x29 4x28 3x1 3x24 14x13',
  },
  {
    name: 'CL05_020_01',
    side: 100,
    least: 7,
    best: 8,
    items:
      '50x85 35x14 94x54 47x62 52x25 96x67 1x43 24x42 53x86 11x31 52x65 66x11 76x25 36x94 36x42 97x24 76x29 61x79 74x29 71x69',
  },
  {
    name: 'CL05_020_02',
    side: 100,
    least: 4,
    best: 5,
    items:
      '18x16 51x72 95x12 7x24 75x32 21x91 1x89 4x48 52x25 1x9 40x20 90x16 7x85 81x48 33x62 19x16 28x32 82x65 37x4 81x71',
  },
  {
    name: 'CL05_020_03',
    side: 100,
    least: 7,
    best: 7,
    items:
      '63x47 100x57 49x51 64x17 36x79 87x92 71x44 78x58 31x89 84x27 26x93 81x42 2x65 80x83 37x51 27x59 40x29 98x16 57x9 5x31',
  },
  {
    name: 'CL05_020_04',
    side: 100,
    least: 5,
    best: 5,
    items:
      '40x70 4x21 52x62 73x15 89x35 56x11 62x65 30x54 16x65 7x22 27x79 31x26 8x84 80x10 3x92 65x53 89x47 30x64 78x27 53x90',
  },
  {
    name: 'CL05_020_05',
    side: 100,
    least: 5,
    best: 5,
    items:
      '95x36 14x91 16x36 91x93 61x17 82x98 43x56 65x49 5x65 50x25 25x87 83x38 14x100 40x30 17x16 33x81 11x80 7x1 8x68 38x35',
  },
];
