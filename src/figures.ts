/** A figure for people, rounded to a tenth. */
export function tenth(figure: number): number {
  return Math.round(figure * 10) / 10;
}

/** A figure for people, rounded to a hundredth. */
export function hundredth(figure: number): number {
  return Math.round(figure * 100) / 100;
}

/** A share for people, rounded to a thousandth. */
export function thousandth(figure: number): number {
  return Math.round(figure * 1000) / 1000;
}

/** Digits after the point in a written amount. */
export function digitsOf(amount: string): number {
  return amount.split('.')[1]?.length ?? 0;
}
