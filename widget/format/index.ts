export { currencyDigits } from './currency-digits.ts';
export { Formatter, MISSING, type PluralForms } from './formatter.ts';
export { type LengthMarks, MM_PER_INCH, type ParsedLength, parseLength, type Units } from './length.ts';
