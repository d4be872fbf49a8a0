/**
 * Digits after the point of every currency in ISO 4217 list one, as published on 2024-06-25, plus the Caribbean guilder
 * (XCG, from 2025-03-31). Codes without a minor unit ("N.A.": gold, test codes and the like) are left out: nothing is
 * priced in them.
 *
 * `Intl` is no source for this: it follows common usage (no digits for HUF), not the standard.
 */
const CODES_BY_DIGITS: readonly (readonly [digits: CurrencyDigits, codes: string])[] = [
  [0, 'BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF'],
  [
    2,
    'AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF CHE CHF ' +
      'CHW CNY COP COU CRC CUC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL ' +
      'HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR ' +
      'MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK ' +
      'SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST XCD ' +
      'XCG YER ZAR ZMW ZWG',
  ],
  [3, 'BHD IQD JOD KWD LYD OMR TND'],
  [4, 'CLF UYW'],
];

/** Digits after the point of a currency's amounts. */
export type CurrencyDigits = 0 | 2 | 3 | 4;

const digitsOf: ReadonlyMap<string, CurrencyDigits> = new Map(
  CODES_BY_DIGITS.flatMap(([digits, codes]) =>
    codes.split(' ').map((code): [string, CurrencyDigits] => [code, digits]),
  ),
);

/** Digits after the point for an ISO 4217 code in capital letters; undefined for any other code. */
export function currencyDigits(code: string): CurrencyDigits | undefined {
  return digitsOf.get(code);
}
