/** How many digits a currency's amounts have after the point. */
export type CurrencyDigits = 0 | 2 | 3 | 4;

/** Currencies of ISO 4217 list one, as published on 2024-06-25, that do not have two digits. */
export const CODES_BY_OTHER_DIGITS: readonly (readonly [digits: CurrencyDigits, codes: string])[] = [
  [0, 'BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF'],
  [3, 'BHD IQD JOD KWD LYD OMR TND'],
  [4, 'CLF UYW'],
];

/**
 * Digits after the point of an ISO 4217 currency. Does not check that there is such a currency.
 *
 * Not taken from the runtime's number formats: those follow what people usually write (no digits for HUF), not the
 * standard.
 */
export function digitsOfCurrency(code: string): CurrencyDigits {
  return CODES_BY_OTHER_DIGITS.find(([, codes]) => codes.split(' ').includes(code))?.[0] ?? 2;
}
