export { Formatter, MISSING, type PluralForms } from './formatter.ts';
export { MM_PER_INCH, type Units } from './length.ts';
