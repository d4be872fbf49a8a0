/** Thrown when an input is not what its type promises; the message names value, place and allowed range. */
export class PlanInputError extends RangeError {
  override name = 'PlanInputError';
}

/** @throws PlanInputError unless `value` is a whole number from `min` to `max` */
export function requireInteger(value: number, min: number, max: number, place: string): void {
  if (!Number.isInteger(value) || value < min || value > max) {
    throw new PlanInputError(`${place} is ${value}; it must be a whole number from ${min} to ${max}`);
  }
}

/** @throws PlanInputError unless `value` is a number from 0 to `max` */
export function requireNumber(value: number, max: number, place: string): void {
  if (!(value >= 0 && value <= max)) {
    throw new PlanInputError(`${place} is ${value}; it must be from 0 to ${max}`);
  }
}
