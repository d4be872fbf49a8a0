import { z } from 'zod';

/**
 * A non-negative amount of money or a rate as a decimal string: at most 12 digits before and 12 after the point, no
 * exponent, no sign. JSON numbers are refused, since they may have lost digits.
 */
export const Amount = z
  .string()
  .regex(
    /^\d{1,12}(\.\d{1,12})?$/,
    'an amount is a decimal string such as "12.50", without sign or exponent',
  );

/** Like `Amount`, but may be negative (differences, adjustments). */
export const SignedAmount = z
  .string()
  .regex(/^-?\d{1,12}(\.\d{1,12})?$/, 'an amount is a decimal string such as "-12.50", without exponent');

/** A share as a decimal string, "0" to "1". */
export const ShareString = z
  .string()
  .regex(/^(0(\.\d{1,6})?|1(\.0{1,6})?)$/, 'a share is a decimal string from "0" to "1"');
