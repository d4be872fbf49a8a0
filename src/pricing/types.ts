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
  /** size of the blank, consumable or step it is for. */
  readonly item: string;
  /** `lines.0`, `lines.0.placements.1`, `lines.0.names`, or `order` for what lines share. */
  readonly where: string;
  /** absent for blanks and packing. */
  readonly method?: string;
  /** decimal string, at most 9 digits after the point. */
  readonly quantity: string;
  /** "piece", "sheet", "ml", "h", or "share" for spoilage. */
  readonly unit: string;
  /** price of one unit, decimal string in the catalog's currency; for spoilage, the amount it is a share of. */
  readonly rate: string;
  /** decimal string, rounded half up to 12 digits after the point. */
  readonly amount: string;
};

/** A bill of cost as shown to the owner: `total` is the sum of the lines' amounts, digit for digit. */
export type WrittenBill = {
  readonly currency: string;
  readonly lines: readonly BillLine[];
  readonly total: string;
  /** cost by line of the slip, with its part of shared costs; adds up to `total`. */
  readonly byLine: readonly string[];
  /** to a hundredth. */
  readonly crewMinutes: number;
  /** minutes by station id, to a hundredth, set-ups and spoiled prints included. */
  readonly stationMinutes: Readonly<Record<string, number>>;
  /** whole sheets by consumable id. */
  readonly sheets: Readonly<Record<string, number>>;
};

/**
 * What a routed slip costs the shop, in trillionths of the currency's unit (amounts.ts). Owner only: it reaches a customer
 * only through the price. Every part is worked out when first asked for.
 */
export type BillOfCost = {
  readonly total: bigint;
  /**
   * What the price is built on: `total`, but with sheets counted so that more prints never need fewer. At least `total`,
   * and equal to it unless nesting saved a sheet over that count.
   */
  readonly basis: bigint;
  /** whether `basis` is no more than `limit`; often answered without working the bill out. */
  readonly isAtMost: (limit: bigint) => boolean;
  /** `basis` by line of the slip, with its part of shared costs; adds up to `basis`. */
  readonly basisByLine: readonly bigint[];
  readonly crewMinutes: number;
  /** minutes by station id, set-ups and spoiled prints included. */
  readonly stationMinutes: ReadonlyMap<string, number>;
  /** the bill line by line. */
  readonly written: () => WrittenBill;
};

/** A priced line; members as in the quote. */
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

/** A priced slip. Amounts are strings with exactly the currency's minor digits, and add up as shown. */
export type PricedSlip = {
  readonly currency: string;
  /** worked out when asked for, as are the reasons. */
  readonly lines: readonly PricedLine[];
  /** unit and total of one line, without working out all. */
  readonly unitOf: (line: number) => string;
  readonly totalOf: (line: number) => string;
  readonly fees: readonly Charge[];
  readonly subtotal: string;
  readonly tax: { readonly rate: string; readonly amount: string; readonly included: boolean };
  readonly total: string;
  /** for the customer: `next-count-cheaper`, `count-capped`, `size-surcharge`, `set-up-fee`, `rush-fee`. */
  readonly reasons: readonly Reason[];
  /** owner only: `floor-applied`, where the margin floor raised the price. */
  readonly ownerReasons: readonly Reason[];
  /** goods and set-up fees: what the shop earns without tax, rush and delivery. */
  readonly net: Money;
};

/** Rungs of one line's price ladder, ascending by count. */
export type Ladder = readonly Rung[];
