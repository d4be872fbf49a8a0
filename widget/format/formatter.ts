import { currencyDigits } from './currency-digits.ts';
import { MM_PER_INCH, type Units } from './length.ts';

/** Shown in place of a figure that is missing or not a number. */
export const MISSING = '–';

/** The forms of a plural phrase, by `Intl.PluralRules` category; `#` stands for the number. */
export type PluralForms = Partial<Record<Intl.LDMLPluralRule, string>> & { readonly other: string };

const RTL_MARK = '\u200f';

/**
 * Formats numbers, lengths, money and days in one language. Every figure a customer sees is formatted here. Amounts are
 * decimal strings and never become floats.
 */
export class Formatter {
  readonly lang: string;
  readonly #intl = new Map<string, Intl.NumberFormat>();
  readonly #dates = new Map<string, Intl.DateTimeFormat>();
  #plural: Intl.PluralRules | null = null;

  /** @param lang a BCP 47 tag; `en` is used instead of an invalid one */
  constructor(lang: string) {
    this.lang = readableTag(lang);
  }

  /** A number with at most `digits` decimals. */
  number(value: unknown, digits = 2): string {
    if (typeof value !== 'number' || !Number.isFinite(value)) return MISSING;
    return this.#number(`n${digits}`, { maximumFractionDigits: digits }).format(value);
  }

  /** A whole count. */
  count(value: unknown): string {
    return this.number(value, 0);
  }

  /**
   * An amount such as "12.5" in a currency, with the decimals of ISO 4217, or more if the amount has more.
   *
   * @param sign "always" also shows a plus, for differences
   */
  money(amount: unknown, currency: string, sign: 'auto' | 'always' = 'auto'): string {
    if (typeof amount !== 'string' || !/^-?\d+(\.\d+)?$/.test(amount)) return MISSING;
    const own = (amount.split('.')[1] ?? '').replace(/0+$/, '').length;
    const digits = Math.max(currencyDigits(currency), own);
    const format = this.#number(`m${currency}${digits}${sign}`, {
      style: 'currency',
      currency,
      minimumFractionDigits: digits,
      maximumFractionDigits: digits,
      // a difference is shown beside amounts with the full symbol
      currencyDisplay: sign === 'always' ? 'narrowSymbol' : 'symbol',
      signDisplay: sign === 'always' ? 'exceptZero' : 'negative',
    });
    const value = amount as Intl.StringNumericLiteral;
    const text = format.format(value);
    if (!text.includes(RTL_MARK)) return text;
    // isolates a symbol such as US$, which right-to-left text would split
    const parts = format.formatToParts(value);
    return parts
      .map((part) => (part.type === 'currency' ? `\u2068${part.value}\u2069` : part.value))
      .join('');
  }

  /** A share of 0 to 1 as a percentage; one below 1 % keeps a decimal. */
  percent(share: unknown): string {
    const value = typeof share === 'string' ? Number(share) : share;
    if (typeof value !== 'number' || !Number.isFinite(value)) return MISSING;
    const small = value !== 0 && Math.abs(value) < 0.01;
    // a rate is a decimal string, shown exactly (7.25 %); a measured share is a number, rounded
    const digits = typeof share === 'string' ? 3 : small || !Number.isInteger(value * 100) ? 1 : 0;
    return this.#number(`p${digits}`, { style: 'percent', maximumFractionDigits: digits }).format(value);
  }

  /** A length, given in mm, in the customer's units: to 0.1 mm or 0.01 in. */
  length(mm: unknown, units: Units): string {
    return this.#length(mm, units, units === 'mm' ? 1 : 2);
  }

  /** A short length such as a line's width, given in mm: to 0.01 mm or 0.001 in. */
  fineLength(mm: unknown, units: Units): string {
    return this.#length(mm, units, units === 'mm' ? 2 : 3);
  }

  /** Width and height, given in mm, such as "280 × 350 mm". */
  size(widthMm: unknown, heightMm: unknown, units: Units): string {
    const digits = units === 'mm' ? 1 : 2;
    return `${this.number(inUnits(widthMm, units), digits)} × ${this.#length(heightMm, units, digits)}`;
  }

  /** A length, given in mm, for an input field: a number without unit or grouping, in the language's digits. */
  lengthField(mm: number, units: Units): string {
    const digits = units === 'mm' ? 2 : 3;
    const value = inUnits(mm, units);
    if (value === null) return '';
    return this.#number(`f${digits}`, { maximumFractionDigits: digits, useGrouping: false }).format(value);
  }

  /** An angle in degrees, with at most one decimal. */
  angle(deg: unknown): string {
    if (typeof deg !== 'number' || !Number.isFinite(deg)) return MISSING;
    return `${this.#number('a', { maximumFractionDigits: 1 }).format(deg)}°`;
  }

  /** The short name of the units, such as "mm". */
  unitName(units: Units): string {
    const parts = this.#unit(units, 0).formatToParts(1);
    return parts.find((part) => part.type === 'unit')?.value ?? units;
  }

  /** An ISO day ("2026-03-29") with the weekday. It has no time zone, and is the same day everywhere. */
  day(iso: unknown): string {
    return this.#day(iso, 'day', { weekday: 'short', day: 'numeric', month: 'short' });
  }

  /** An ISO day with weekday, day, month and year. */
  fullDay(iso: unknown): string {
    return this.#day(iso, 'full', { weekday: 'long', day: 'numeric', month: 'long', year: 'numeric' });
  }

  /** The month of an ISO day, with the year. */
  month(iso: unknown): string {
    return this.#day(iso, 'month', { month: 'long', year: 'numeric' });
  }

  /** An ISO instant in a time zone, to the minute. */
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

  /** A clock time such as "14:00". */
  time(clock: unknown): string {
    const match = typeof clock === 'string' ? /^(\d\d):(\d\d)$/.exec(clock) : null;
    if (!match) return MISSING;
    const time = Date.UTC(1970, 0, 1, Number(match[1]), Number(match[2]));
    return this.#date('t', { timeZone: 'UTC', hour: 'numeric', minute: '2-digit' }).format(time);
  }

  /** The short names of the weekdays, from the language's first day of the week, which is `first` (1 Monday .. 7 Sunday). */
  weekdays(): { readonly first: number; readonly names: readonly string[] } {
    const first = firstWeekday(this.lang);
    const format = this.#date('w', { timeZone: 'UTC', weekday: 'short' });
    // 2024-01-01 was a Monday
    const names = Array.from({ length: 7 }, (_, i) => format.format(Date.UTC(2024, 0, first + i)));
    return { first, names };
  }

  /** The form for a count, with `#` replaced by the count. */
  plural(count: unknown, forms: PluralForms): string {
    const value = typeof count === 'number' && Number.isFinite(count) ? count : 0;
    this.#plural ??= new Intl.PluralRules(this.lang);
    const form = forms[this.#plural.select(value)] ?? forms.other;
    return form.replaceAll('#', typeof count === 'number' ? this.number(count, 2) : MISSING);
  }

  /** Words as a list, such as "cotton, linen and hemp". */
  list(words: unknown, kind: 'and' | 'or' = 'and'): string {
    const strings = Array.isArray(words) ? words.filter((word) => typeof word === 'string') : [];
    if (strings.length === 0) return MISSING;
    return new Intl.ListFormat(this.lang, {
      style: 'long',
      type: kind === 'and' ? 'conjunction' : 'disjunction',
    }).format(strings);
  }

  /** A number of bytes in kB or MB. */
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
      // no minus sign before zero
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

/** 1 Monday .. 7 Sunday; Monday if the runtime does not know. */
function firstWeekday(lang: string): number {
  const locale = new Intl.Locale(lang) as Intl.Locale & {
    getWeekInfo?: () => { firstDay: number };
    weekInfo?: { firstDay: number };
  };
  return (locale.getWeekInfo?.() ?? locale.weekInfo)?.firstDay ?? 1;
}
