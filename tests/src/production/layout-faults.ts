import type { Nest, NestPrints, NestSheet } from '../../../src/production/nest.ts';

/** Tolerance of lengths, mm: what a print may reach over the margin, and rounding to micrometers. */
const SLACK_MM = 0.06;

type Place = { readonly left: number; readonly top: number; readonly right: number; readonly bottom: number };

/**
 * What is wrong with a layout, print by print: outside the margins, closer to another than the gap, or the wrong number of
 * a size. Shares no code with the product.
 */
export function faultsOf(nest: Nest, sheet: NestSheet, prints: readonly NestPrints[]): string[] {
  const faults: string[] = [];
  const placedOf = prints.map(() => 0);
  let sheets = 0;
  for (const { times, blocks } of nest.layouts) {
    sheets += times;
    const places: Place[] = [];
    for (const { prints: index, xMm, yMm, turned, columns, rows } of blocks) {
      const { widthMm, heightMm } = prints[index]!;
      const [width, height] = turned ? [heightMm, widthMm] : [widthMm, heightMm];
      for (let row = 0; row < rows; row++)
        for (let column = 0; column < columns; column++) {
          const left = xMm + column * (width + sheet.gapMm);
          const top = yMm + row * (height + sheet.gapMm);
          places.push({ left, top, right: left + width, bottom: top + height });
        }
      placedOf[index]! += columns * rows * times;
    }
    faults.push(...placeFaults(places, sheet));
  }
  if (sheets !== nest.sheets) faults.push(`${sheets} sheets laid out, ${nest.sheets} reported`);
  prints.forEach(({ count }, index) => {
    if (placedOf[index] !== count) faults.push(`size ${index}: ${placedOf[index]} placed, ${count} expected`);
  });
  return faults;
}

function placeFaults(places: readonly Place[], { widthMm, heightMm, marginMm, gapMm }: NestSheet): string[] {
  const faults: string[] = [];
  const sorted = [...places].sort((one, other) => one.left - other.left);
  sorted.forEach((one, index) => {
    if (
      one.left < marginMm - SLACK_MM ||
      one.top < marginMm - SLACK_MM ||
      one.right > widthMm - marginMm + SLACK_MM ||
      one.bottom > heightMm - marginMm + SLACK_MM
    )
      faults.push(`outside: ${JSON.stringify(one)}`);
    for (let next = index + 1; next < sorted.length; next++) {
      const other = sorted[next]!;
      if (other.left >= one.right + gapMm - SLACK_MM) break;
      if (other.top < one.bottom + gapMm - SLACK_MM && one.top < other.bottom + gapMm - SLACK_MM)
        faults.push(`too near: ${JSON.stringify(one)} ${JSON.stringify(other)}`);
    }
  });
  return faults;
}
