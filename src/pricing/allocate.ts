import { sumOf } from './amounts.ts';

/**
 * Shares a whole number out by weights so that nothing is lost: the parts are whole and add up to `total`. Every part is
 * its exact share rounded down or up; the units left over go to the parts whose shares were cut most, of equals to the
 * earlier. With no weight over 0 the parts are as equal as can be.
 *
 * @param total negative for a discount
 * @param weights one or more, none negative
 * @throws RangeError naming the value, when one of these is not so
 */
export function allocate(total: bigint, weights: readonly bigint[]): bigint[] {
  if (weights.length === 0) throw new RangeError('an amount cannot be shared among no parts');
  for (const weight of weights)
    if (weight < 0n) throw new RangeError(`the weight ${weight} is not a number from 0 up`);
  const sum = sumOf(weights);
  const shares = sum === 0n ? weights.map(() => 1n) : weights;
  const whole = sum === 0n ? BigInt(weights.length) : sum;
  const size = total < 0n ? -total : total;
  const parts = shares.map((share) => (size * share) / whole);
  const cut = shares.map((share, index) => size * share - parts[index]! * whole);
  let left = size - sumOf(parts);
  const order = cut
    .map((_, index) => index)
    .sort((one, other) => Number(cut[other]! - cut[one]!) || one - other);
  for (const index of order) {
    if (left === 0n) break;
    parts[index]! += 1n;
    left--;
  }
  return total < 0n ? parts.map((part) => -part) : parts;
}
