import { CODES_BY_OTHER_DIGITS, type CurrencyDigits, digitsOfCurrency } from '../currency-digits.ts';

/**
 * Currencies with two digits after the point in ISO 4217 list one, as published on 2024-06-25, with the Caribbean guilder
 * (XCG, from 2025-03-31) added. Codes without a minor unit of their own ("N.A.": gold, test codes and the like) are left
 * out: nothing is priced in them.
 */
const TWO_DIGITS =
  'AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BOV BRL BSD BTN BWP BYN BZD CAD CDF CHE CHF ' +
  'CHW CNY COP COU CRC CUC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL ' +
  'HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR ' +
  'MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK ' +
  'SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST XCD ' +
  'XCG YER ZAR ZMW ZWG';

const known: ReadonlySet<string> = new Set(
  [TWO_DIGITS, ...CODES_BY_OTHER_DIGITS.map(([, codes]) => codes)].flatMap((codes) => codes.split(' ')),
);

/** Digits after the point of an ISO 4217 currency code in capital letters; undefined when there is no such code. */
export function currencyDigits(code: string): CurrencyDigits | undefined {
  return known.has(code) ? digitsOfCurrency(code) : undefined;
}
