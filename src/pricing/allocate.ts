import { largestRemainders } from '../largest-remainder.ts';
import { sumOf } from './amounts.ts';

/**
 * Shares a whole number out by weights so that nothing is lost: the parts are whole and add up to `total`. Every part is
 * its exact share rounded down or up, by the method of largest remainders. When all weights are 0 the parts are as equal
 * as can be.
 *
 * @param total negative for a discount
 * @param weights at least one, none negative
 * @throws RangeError when there is no weight or one is negative; names the value
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
  const remainders = shares.map((share, index) => size * share - parts[index]! * whole);
  for (const index of largestRemainders(remainders, Number(size - sumOf(parts)))) parts[index]! += 1n;
  return total < 0n ? parts.map((part) => -part) : parts;
}
