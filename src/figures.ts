/** A figure for people, to a tenth: what arithmetic leaves beyond it is no one's business. */
export function tenth(figure: number): number {
  return Math.round(figure * 10) / 10;
}

/** A figure for people, to a hundredth. */
export function hundredth(figure: number): number {
  return Math.round(figure * 100) / 100;
}

/** A figure for people, to a thousandth: shares. */
export function thousandth(figure: number): number {
  return Math.round(figure * 1000) / 1000;
}

/** Digits after the point in an amount as it is written. */
export function digitsOf(amount: string): number {
  return amount.split('.')[1]?.length ?? 0;
}
