import type { Nest, NestPrints, NestSheet } from '../../../src/production/nest.ts';

/** Lengths closer than this are equal, mm: what a print may reach over its sheet, and rounding to micrometers. */
const SLACK_MM = 0.06;

type Place = { readonly left: number; readonly top: number; readonly right: number; readonly bottom: number };

/**
 * What is wrong with a layout, print by print: outside the margins, nearer to another than the gap, or not as many of a
 * kind as there should be. Written for this check; shares no code with the product.
 */
export function faultsOf(laid: Nest, sheet: NestSheet, prints: readonly NestPrints[]): string[] {
  const faults: string[] = [];
  const laidOf = prints.map(() => 0);
  let sheets = 0;
  for (const { times, blocks } of laid.layouts) {
    sheets += times;
    const places: Place[] = [];
    for (const { prints: kind, xMm, yMm, turned, columns, rows } of blocks) {
      const { widthMm, heightMm } = prints[kind]!;
      const [width, height] = turned ? [heightMm, widthMm] : [widthMm, heightMm];
      for (let row = 0; row < rows; row++)
        for (let column = 0; column < columns; column++) {
          const left = xMm + column * (width + sheet.gapMm);
          const top = yMm + row * (height + sheet.gapMm);
          places.push({ left, top, right: left + width, bottom: top + height });
        }
      laidOf[kind]! += columns * rows * times;
    }
    faults.push(...placeFaults(places, sheet));
  }
  if (sheets !== laid.sheets) faults.push(`${sheets} sheets laid, ${laid.sheets} told`);
  prints.forEach(({ count }, kind) => {
    if (laidOf[kind] !== count) faults.push(`kind ${kind}: ${laidOf[kind]} laid, ${count} wanted`);
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
