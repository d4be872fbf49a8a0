import { amountText, product, quantityOf, quantityText, shareOut } from './fixed.ts';
import { Money } from './money.ts';
import type { BillLine, BillWhat } from './shapes.ts';

/** What an entry is and for how much; `rate` in trillionths of the currency's unit (see fixed.ts). */
export type NewEntry = {
  readonly what: BillWhat;
  readonly item: string;
  readonly where: string;
  readonly method?: string;
  readonly quantity: number;
  readonly unit: string;
  readonly rate: bigint;
};

type Entry = Omit<NewEntry, 'quantity'> & { readonly quantity: bigint; readonly amount: bigint };

/** Who pays for an entry: one line of the slip, or every line by its weight. */
export type Payer = number | readonly number[];

/** Entries of a bill of cost and their exact sums, in all and by line of the slip. */
export class Ledger {
  readonly #entries: Entry[] = [];
  readonly #byLine: bigint[];
  #sum = 0n;

  constructor(lines: number) {
    this.#byLine = new Array<bigint>(lines).fill(0n);
  }

  /** Sum so far, trillionths. */
  get sum(): bigint {
    return this.#sum;
  }

  /** Enters `quantity × rate`; nothing when either is nothing. */
  add(entry: NewEntry, payer: Payer): void {
    const quantity = quantityOf(entry.quantity);
    if (quantity === 0n || entry.rate === 0n) return;
    const amount = product(quantity, entry.rate);
    this.#entries.push({ ...entry, quantity, amount });
    this.#sum += amount;
    if (typeof payer === 'number') this.#byLine[payer]! += amount;
    else shareOut(amount, payer, this.#byLine);
  }

  get total(): Money {
    return moneyOf(this.#sum);
  }

  get byLine(): Money[] {
    return this.#byLine.map(moneyOf);
  }

  written(): { readonly lines: BillLine[]; readonly total: string; readonly byLine: string[] } {
    return {
      lines: this.#entries.map(({ quantity, rate, amount, ...rest }) => ({
        ...rest,
        quantity: quantityText(quantity),
        rate: amountText(rate),
        amount: amountText(amount),
      })),
      total: amountText(this.#sum),
      byLine: this.#byLine.map(amountText),
    };
  }
}

function moneyOf(amount: bigint): Money {
  return new Money(amountText(amount));
}
