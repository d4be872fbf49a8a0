/** What a slip costs the shop, and what the customer pays. */

export { currencyDigits } from '../contract/currency.ts';
export { costOf } from './bill.ts';
export { ladderOf, listBreaks } from './ladder.ts';
export { Money, money, roundMoney, writeMoney } from './money.ts';
export { priceSlip } from './price.ts';
export { nestedSheets, steadySheetsOf } from './sheets.ts';
export type * from './types.ts';
