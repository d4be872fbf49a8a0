/** Units a customer may choose to see. */
export type Units = 'mm' | 'in';

/** Millimeters in an inch, exact by definition since 1959. */
export const MM_PER_INCH = 25.4;
