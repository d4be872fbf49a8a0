/** What a slip costs the shop, and what the customer pays. */
export { costOf } from './bill.ts';
export { currencyDigits } from '../contract/currency.ts';
export { ladderOf, listBreaks } from './ladder.ts';
export { Money, money, roundMoney, writeMoney } from './money.ts';
export { priceSlip } from './price.ts';
export type * from './types.ts';
export { nestedSheets, steadySheetsOf } from './sheets.ts';
