import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  ciede2000,
  labOfHex,
  type Raster,
  SAME_AS_CLOTH_DELTA_E,
  whiteFor,
} from '../../../src/artwork/index.ts';
import { coverageOfPlate, type Plate, underbase } from '../../../src/production/index.ts';

/** A raster from rows of letters: `.` clear, `W` white, `K` black, `R` red, `h` half-clear white. */
function rasterOf(...rows: string[]): Raster {
  const inks: Record<string, readonly [number, number, number, number]> = {
    '.': [0, 0, 0, 0],
    W: [255, 255, 255, 255],
    K: [0, 0, 0, 255],
    R: [220, 30, 40, 255],
    h: [255, 255, 255, 128],
  };
  const data = new Uint8Array(rows.flatMap((row) => [...row].flatMap((letter) => [...inks[letter]!])));
  return { width: rows[0]!.length, height: rows.length, data };
}

/** A plate as rows: `#` full, `+` part, `.` none. */
function shown({ width, data }: Plate): string[] {
  const rows: string[] = [];
  for (let at = 0; at < data.length; at += width)
    rows.push(
      [...data.subarray(at, at + width)].map((ink) => (ink === 255 ? '#' : ink > 0 ? '+' : '.')).join(''),
    );
  return rows;
}

const anyRaster = fc
  .record({ width: fc.integer({ min: 1, max: 24 }), height: fc.integer({ min: 1, max: 24 }) })
  .chain(({ width, height }) =>
    fc
      .array(fc.constantFrom('.', '.', 'W', 'W', 'W', 'R', 'K', 'h'), {
        minLength: width * height,
        maxLength: width * height,
      })
      .map((letters) =>
        rasterOf(
          ...Array.from({ length: height }, (_, row) =>
            letters.slice(row * width, (row + 1) * width).join(''),
          ),
        ),
      ),
  );

describe('the underbase', () => {
  it('is full under light ink, half under half-clear ink, and empty under black', () => {
    const plate = underbase(rasterOf('.WhK'), { clothHex: '#1b1b1d' });
    expect([...plate.data]).toEqual([0, 255, 128, 0]);
    expect(coverageOfPlate(plate)).toBeCloseTo((255 + 128) / (4 * 255), 12);
  });

  it('is empty where the ink has the color of the cloth', () => {
    const white = rasterOf('WR');
    expect(underbase(white, { clothHex: '#ffffff' }).data[0]).toBe(0);
    expect(underbase(white, { clothHex: '#ffffff' }).data[1]).toBeGreaterThan(0);
    expect(underbase(white, { clothHex: '#dc1e28' }).data[1]).toBe(0);
  });

  it('is pulled in by the choke, also at the raster’s edge and around holes', () => {
    const art = rasterOf('WWWWWWW', 'WWWWWWW', 'WWWWWWW', 'WWW.WWW', 'WWWWWWW', 'WWWWWWW', 'WWWWWWW');
    expect(shown(underbase(art, { clothHex: '#000000' }))[0]).toBe('#######');
    // Within 1 px of empty pixels, center to center: the outer ring and the four neighbors of the hole are removed.
    expect(shown(underbase(art, { clothHex: '#000000', chokePx: 1 }))).toEqual([
      '.......',
      '.#####.',
      '.##.##.',
      '.#...#.',
      '.##.##.',
      '.#####.',
      '.......',
    ]);
    // A diagonal neighbor is 1.41 px away.
    expect(shown(underbase(art, { clothHex: '#000000', chokePx: 1.5 }))[2]).toBe('.#...#.');
  });

  it('never grows with a larger choke, which removes only what is near an edge', () => {
    fc.assert(
      fc.property(
        anyRaster,
        fc.double({ min: 0, max: 6, noNaN: true }),
        fc.double({ min: 0, max: 6, noNaN: true }),
        (art, one, other) => {
          const clothHex = '#20304a';
          const none = underbase(art, { clothHex }).data;
          const less = underbase(art, { clothHex, chokePx: Math.min(one, other) }).data;
          const more = underbase(art, { clothHex, chokePx: Math.max(one, other) }).data;
          const reach = Math.max(one, other);
          more.forEach((ink, at) => {
            expect(ink).toBeLessThanOrEqual(less[at]!);
            expect([0, none[at]]).toContain(ink);
            expect(ink > 0).toBe(none[at]! > 0 && nearestNothing(none, art, at) > reach);
          });
        },
      ),
      { numRuns: 150 },
    );
  });

  it('leaves out only the colors of the cloth, also for saturated ones', () => {
    fc.assert(
      fc.property(
        fc.array(fc.nat(255), { minLength: 3, maxLength: 3 }),
        fc.array(fc.integer({ min: -60, max: 60 }), { minLength: 3, maxLength: 3 }),
        (cloth, away) => {
          const ink = cloth.map((value, channel) => Math.min(255, Math.max(0, value + away[channel]!)));
          const hex = (rgb: number[]): string =>
            `#${rgb.map((value) => value.toString(16).padStart(2, '0')).join('')}`;
          const art = { width: 1, height: 1, data: new Uint8Array([...ink, 255]) };
          const lab = labOfHex(hex(ink));
          const equal = ciede2000(lab, labOfHex(hex(cloth))) < SAME_AS_CLOTH_DELTA_E;
          const wanted = equal ? 0 : Math.round(255 * whiteFor(lab[0]));
          expect(underbase(art, { clothHex: hex(cloth) }).data[0]).toBe(wanted);
        },
      ),
      { numRuns: 2000 },
    );
  });

  it('refuses an invalid raster or choke and names the value', () => {
    expect(() =>
      underbase({ width: 2, height: 2, data: new Uint8Array(3) }, { clothHex: '#000000' }),
    ).toThrow('3 bytes');
    expect(() => underbase(rasterOf('W'), { clothHex: '#000000', chokePx: -1 })).toThrow(
      'the choke is -1 px',
    );
    expect(() => underbase(rasterOf('W'), { clothHex: '#000000', chokePx: Number.NaN })).toThrow(
      'the choke is NaN px',
    );
    expect(() => underbase(rasterOf('W'), { clothHex: 'black' })).toThrow('black');
  });
});

/** Distance to the nearest pixel without white, or to the outside, by brute force. */
function nearestNothing(plate: Uint8Array, { width, height }: Raster, at: number): number {
  const x = at % width;
  const y = Math.floor(at / width);
  let nearest = Math.min(x + 1, y + 1, width - x, height - y);
  for (let other = 0; other < plate.length; other++)
    if (plate[other] === 0)
      nearest = Math.min(nearest, Math.hypot((other % width) - x, Math.floor(other / width) - y));
  return nearest;
}
