import type { Charge, Reason, Rung } from '../contract/index.ts';
import type { Money } from './money.ts';

/** What an entry of a bill of cost pays for. */
export type BillWhat =
  | 'blank'
  | 'consumable'
  | 'sheet'
  | 'crew'
  | 'station'
  | 'set-up-crew'
  | 'set-up-station'
  | 'packing'
  | 'spoilage';

/** One line of a bill of cost: `amount = quantity × rate`. Owner only. */
export type BillLine = {
  readonly what: BillWhat;
  /** the blank's size, consumable, step or station it is for. */
  readonly item: string;
  /** `lines.0`, `lines.0.placements.1`, `lines.0.names`, or `order` for what placements share. */
  readonly where: string;
  /** method it belongs to; absent for blanks and packing. */
  readonly method?: string;
  /** decimal string, at most 9 digits after the point. */
  readonly quantity: string;
  /** "piece", "sheet", "ml", "h", or "share" for spoilage. */
  readonly unit: string;
  /** price of one unit, decimal string in the catalog's currency; for spoilage the amount it is a share of. */
  readonly rate: string;
  /** decimal string, rounded half up to 12 digits after the point. */
  readonly amount: string;
};

/** A bill of cost as shown to the owner: `total` is the sum of the lines' amounts, digit for digit. */
export type WrittenBill = {
  readonly currency: string;
  readonly lines: readonly BillLine[];
  readonly total: string;
  /** cost by line of the slip, shared cost shared out; adds up to `total`. */
  readonly byLine: readonly string[];
  /** to a hundredth. */
  readonly crewMinutes: number;
  /** minutes by station id, to a hundredth, set-ups and spoiled prints included. */
  readonly stationMinutes: Readonly<Record<string, number>>;
  /** whole sheets by consumable id. */
  readonly sheets: Readonly<Record<string, number>>;
};

/**
 * What a routed slip costs the shop, in trillionths of the currency's unit (amounts.ts). Owner only: nothing of it may reach
 * a customer but through the price.
 */
export type BillOfCost = {
  readonly total: bigint;
  /**
   * What the price is built on: `total`, but with sheets counted by a method that never needs fewer for more prints.
   * At least `total`, and equal to it unless nesting saved a sheet over that count.
   */
  readonly basis: bigint;
  /** whether `basis` is no more than `limit`; often answered without working the bill out. */
  readonly isAtMost: (limit: bigint) => boolean;
  /** `basis` by line of the slip, shared cost shared out; adds up to `basis`. */
  readonly basisByLine: readonly bigint[];
  readonly crewMinutes: number;
  /** minutes by station id, set-ups and spoiled prints included. */
  readonly stationMinutes: ReadonlyMap<string, number>;
  /** The bill line by line. Worked out when asked for. */
  readonly written: () => WrittenBill;
};

/** A line as priced; members as in the quote. */
export type PricedLine = {
  readonly id: string;
  readonly pieces: number;
  readonly unit: string;
  readonly sizes: readonly {
    readonly size: string;
    readonly count: number;
    readonly unit: string;
    readonly amount: string;
  }[];
  readonly charges: readonly Charge[];
  readonly total: string;
};

/** A slip as priced: amounts are strings with exactly the currency's minor digits, and add up as shown. */
export type PricedSlip = {
  readonly currency: string;
  /** written when asked for, as are the reasons. */
  readonly lines: readonly PricedLine[];
  /** unit and total of one line, without writing all. */
  readonly unitOf: (line: number) => string;
  readonly totalOf: (line: number) => string;
  readonly fees: readonly Charge[];
  readonly subtotal: string;
  readonly tax: { readonly rate: string; readonly amount: string; readonly included: boolean };
  readonly total: string;
  /** for the customer: `next-count-cheaper`, `count-capped`, `size-surcharge`, `set-up-fee`, `rush-fee`. */
  readonly reasons: readonly Reason[];
  /** for the owner alone: `floor-applied`, where the margin floor raised the price. */
  readonly ownerReasons: readonly Reason[];
  /** what the shop earns of it without tax, rush and delivery: goods and set-up fees. */
  readonly net: Money;
};

/** Rungs of one line's price ladder, ascending by count. */
export type Ladder = readonly Rung[];
