import { digitsOfCurrency } from '../../src/currency-digits.ts';
import { MM_PER_INCH, type Units } from './length.ts';

/** Shown where a figure is missing or is not a number: never the word "undefined" or "NaN". */
export const MISSING = '–';

/** The forms of a counted phrase, by `Intl.PluralRules` category; `#` stands for the number. */
export type PluralForms = Partial<Record<Intl.LDMLPluralRule, string>> & { readonly other: string };

const RTL_MARK = '\u200f';

/**
 * Numbers, lengths, money and days as one language writes them. Every figure a customer sees goes through here.
 * Amounts are decimal strings from first to last; no float is made of them.
 */
export class Formatter {
  readonly lang: string;
  readonly #intl = new Map<string, Intl.NumberFormat>();
  readonly #dates = new Map<string, Intl.DateTimeFormat>();
  #plural: Intl.PluralRules | null = null;

  /** @param lang a BCP 47 tag; one the runtime cannot read falls back to `en`. */
  constructor(lang: string) {
    this.lang = readableTag(lang);
  }

  /** A plain number, at most `digits` after the point. */
  number(value: unknown, digits = 2): string {
    if (typeof value !== 'number' || !Number.isFinite(value)) return MISSING;
    return this.#number(`n${digits}`, { maximumFractionDigits: digits }).format(value);
  }

  /** A whole count. */
  count(value: unknown): string {
    return this.number(value, 0);
  }

  /**
   * An amount such as "12.5" in a currency, with the digits of ISO 4217, or more when the amount has more.
   * `sign` "always" shows a plus, for differences.
   */
  money(amount: unknown, currency: string, sign: 'auto' | 'always' = 'auto'): string {
    if (typeof amount !== 'string' || !/^-?\d+(\.\d+)?$/.test(amount)) return MISSING;
    const own = (amount.split('.')[1] ?? '').replace(/0+$/, '').length;
    const digits = Math.max(digitsOfCurrency(currency), own);
    const format = this.#number(`m${currency}${digits}${sign}`, {
      style: 'currency',
      currency,
      minimumFractionDigits: digits,
      maximumFractionDigits: digits,
      // a difference stands beside amounts that say whose dollars they are
      currencyDisplay: sign === 'always' ? 'narrowSymbol' : 'symbol',
      signDisplay: sign === 'always' ? 'exceptZero' : 'negative',
    });
    const value = amount as Intl.StringNumericLiteral;
    const text = format.format(value);
    if (!text.includes(RTL_MARK)) return text;
    // written from right to left, a symbol such as US$ would come apart
    const parts = format.formatToParts(value);
    return parts
      .map((part) => (part.type === 'currency' ? `\u2068${part.value}\u2069` : part.value))
      .join('');
  }

  /** A share 0..1 as a percentage; shares under one in a hundred keep a digit. */
  percent(share: unknown): string {
    const value = typeof share === 'string' ? Number(share) : share;
    if (typeof value !== 'number' || !Number.isFinite(value)) return MISSING;
    const small = value !== 0 && Math.abs(value) < 0.01;
    // a rate comes as a decimal string and is shown whole (7.25 %); a measured share is a number and is rounded
    const digits = typeof share === 'string' ? 3 : small || !Number.isInteger(value * 100) ? 1 : 0;
    return this.#number(`p${digits}`, { style: 'percent', maximumFractionDigits: digits }).format(value);
  }

  /** A length given in mm, in the customer's units: tenths of a millimeter, hundredths of an inch. */
  length(mm: unknown, units: Units): string {
    return this.#length(mm, units, units === 'mm' ? 1 : 2);
  }

  /** A short length such as a line's width: hundredths of a millimeter, thousandths of an inch. */
  fineLength(mm: unknown, units: Units): string {
    return this.#length(mm, units, units === 'mm' ? 2 : 3);
  }

  /** Width and height with one unit: "280 × 350 mm". */
  size(widthMm: unknown, heightMm: unknown, units: Units): string {
    const digits = units === 'mm' ? 1 : 2;
    return `${this.number(inUnits(widthMm, units), digits)} × ${this.#length(heightMm, units, digits)}`;
  }

  /** A length for an input field: the bare number, without grouping, in this language's digits and marks. */
  lengthField(mm: number, units: Units): string {
    const digits = units === 'mm' ? 2 : 3;
    const value = inUnits(mm, units);
    if (value === null) return '';
    return this.#number(`f${digits}`, { maximumFractionDigits: digits, useGrouping: false }).format(value);
  }

  /** An angle in degrees, at most one digit after the point. */
  angle(deg: unknown): string {
    if (typeof deg !== 'number' || !Number.isFinite(deg)) return MISSING;
    return `${this.#number('a', { maximumFractionDigits: 1 }).format(deg)}°`;
  }

  /** The name of the units, short: "mm", "in". */
  unitName(units: Units): string {
    const parts = this.#unit(units, 0).formatToParts(1);
    return parts.find((part) => part.type === 'unit')?.value ?? units;
  }

  /** An ISO day ("2026-03-29") in words, with the weekday. The same day everywhere: no time zone touches it. */
  day(iso: unknown): string {
    return this.#day(iso, 'day', { weekday: 'short', day: 'numeric', month: 'short' });
  }

  /** An ISO day in full: weekday, day, month and year. */
  fullDay(iso: unknown): string {
    return this.#day(iso, 'full', { weekday: 'long', day: 'numeric', month: 'long', year: 'numeric' });
  }

  /** The month of an ISO day, with the year. */
  month(iso: unknown): string {
    return this.#day(iso, 'month', { month: 'long', year: 'numeric' });
  }

  /** A UTC instant in the shop's zone, to the minute. */
  instant(iso: unknown, timeZone: string): string {
    const time = typeof iso === 'string' ? Date.parse(iso) : Number.NaN;
    if (!Number.isFinite(time)) return MISSING;
    return this.#date(`i${timeZone}`, {
      timeZone,
      weekday: 'short',
      day: 'numeric',
      month: 'short',
      hour: 'numeric',
      minute: '2-digit',
    }).format(time);
  }

  /** A clock time ("14:00") as this language writes it. */
  time(clock: unknown): string {
    const match = typeof clock === 'string' ? /^(\d\d):(\d\d)$/.exec(clock) : null;
    if (!match) return MISSING;
    const time = Date.UTC(1970, 0, 1, Number(match[1]), Number(match[2]));
    return this.#date('t', { timeZone: 'UTC', hour: 'numeric', minute: '2-digit' }).format(time);
  }

  /** The seven weekdays, short, from the language's first day of the week on, with that day (1 Monday .. 7 Sunday). */
  weekdays(): { readonly first: number; readonly names: readonly string[] } {
    const first = firstWeekday(this.lang);
    const format = this.#date('w', { timeZone: 'UTC', weekday: 'short' });
    // 2024-01-01 was a Monday
    const names = Array.from({ length: 7 }, (_, i) => format.format(Date.UTC(2024, 0, first + i)));
    return { first, names };
  }

  /** The form for a count, with `#` replaced by the count as this language writes it. */
  plural(count: unknown, forms: PluralForms): string {
    const value = typeof count === 'number' && Number.isFinite(count) ? count : 0;
    this.#plural ??= new Intl.PluralRules(this.lang);
    const form = forms[this.#plural.select(value)] ?? forms.other;
    return form.replaceAll('#', typeof count === 'number' ? this.number(count, 2) : MISSING);
  }

  /** Words joined as a list: "cotton, linen and hemp" or, with "or", "or". */
  list(words: unknown, kind: 'and' | 'or' = 'and'): string {
    const strings = Array.isArray(words) ? words.filter((word) => typeof word === 'string') : [];
    if (strings.length === 0) return MISSING;
    return new Intl.ListFormat(this.lang, {
      style: 'long',
      type: kind === 'and' ? 'conjunction' : 'disjunction',
    }).format(strings);
  }

  /** Bytes as KB or MB. */
  bytes(value: unknown): string {
    if (typeof value !== 'number' || !Number.isFinite(value)) return MISSING;
    const [unit, size] =
      value >= 1e6 ? (['megabyte', value / 1e6] as const) : (['kilobyte', value / 1e3] as const);
    return this.#number(`b${unit}`, {
      style: 'unit',
      unit,
      unitDisplay: 'short',
      maximumFractionDigits: size < 10 ? 1 : 0,
    }).format(size);
  }

  #length(mm: unknown, units: Units, digits: number): string {
    const value = inUnits(mm, units);
    return value === null ? MISSING : this.#unit(units, digits).format(value);
  }

  #unit(units: Units, digits: number): Intl.NumberFormat {
    return this.#number(`u${units}${digits}`, {
      style: 'unit',
      unit: units === 'mm' ? 'millimeter' : 'inch',
      unitDisplay: 'short',
      maximumFractionDigits: digits,
    });
  }

  #day(iso: unknown, key: string, options: Intl.DateTimeFormatOptions): string {
    const match = typeof iso === 'string' ? /^(\d{4})-(\d{2})-(\d{2})$/.exec(iso) : null;
    if (!match) return MISSING;
    const time = Date.UTC(Number(match[1]), Number(match[2]) - 1, Number(match[3]));
    return this.#date(key, { ...options, timeZone: 'UTC' }).format(time);
  }

  #number(key: string, options: Intl.NumberFormatOptions): Intl.NumberFormat {
    let format = this.#intl.get(key);
    if (!format) {
      // no minus before a zero
      format = new Intl.NumberFormat(this.lang, { signDisplay: 'negative', ...options });
      this.#intl.set(key, format);
    }
    return format;
  }

  #date(key: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
    let format = this.#dates.get(key);
    if (!format) {
      format = new Intl.DateTimeFormat(this.lang, { calendar: 'gregory', ...options });
      this.#dates.set(key, format);
    }
    return format;
  }
}

function inUnits(mm: unknown, units: Units): number | null {
  if (typeof mm !== 'number' || !Number.isFinite(mm)) return null;
  return units === 'mm' ? mm : mm / MM_PER_INCH;
}

function readableTag(lang: string): string {
  try {
    return Intl.getCanonicalLocales(lang)[0] ?? 'en';
  } catch {
    return 'en';
  }
}

/** 1 Monday .. 7 Sunday; Monday where the runtime does not know. */
function firstWeekday(lang: string): number {
  const locale = new Intl.Locale(lang) as Intl.Locale & {
    getWeekInfo?: () => { firstDay: number };
    weekInfo?: { firstDay: number };
  };
  return (locale.getWeekInfo?.() ?? locale.weekInfo)?.firstDay ?? 1;
}
