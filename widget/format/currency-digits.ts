/**
 * Decimals of the currencies that do not have two (ISO 4217, list one). `Intl` has display conventions instead: 0 for
 * HUF, for example, where the standard has 2.
 */
const OTHER_THAN_TWO: Readonly<Record<string, number>> = {
  BIF: 0,
  CLP: 0,
  DJF: 0,
  GNF: 0,
  ISK: 0,
  JPY: 0,
  KMF: 0,
  KRW: 0,
  PYG: 0,
  RWF: 0,
  UGX: 0,
  UYI: 0,
  VND: 0,
  VUV: 0,
  XAF: 0,
  XOF: 0,
  XPF: 0,
  BHD: 3,
  IQD: 3,
  JOD: 3,
  KWD: 3,
  LYD: 3,
  OMR: 3,
  TND: 3,
  CLF: 4,
  UYW: 4,
};

/** Decimals an amount of this currency is shown with. */
export function currencyDigits(currency: string): number {
  return Object.hasOwn(OTHER_THAN_TWO, currency) ? (OTHER_THAN_TWO[currency] ?? 2) : 2;
}
