import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { currencyDigits, Formatter, MISSING } from '../../../widget/format/index.ts';

const plain = (text: string) => text.replace(/[\u00a0\u202f]/g, ' ').replace(/[\u200e\u200f\u061c]/g, '');

describe('money', () => {
  // ISO 4217, list one (2026-02-01); the display digits of Intl differ for HUF
  it.each([
    ['USD', 2],
    ['EUR', 2],
    ['HUF', 2],
    ['MGA', 2],
    ['MRU', 2],
    ['JPY', 0],
    ['KRW', 0],
    ['VND', 0],
    ['CLP', 0],
    ['ISK', 0],
    ['KWD', 3],
    ['BHD', 3],
    ['TND', 3],
    ['CLF', 4],
    ['UYW', 4],
  ])('%s has %i decimals', (currency, digits) => {
    expect(currencyDigits(currency)).toBe(digits);
    const shown = new Formatter('en').money('1', currency);
    expect((shown.split('.')[1] ?? '').replace(/\D/g, '')).toHaveLength(digits);
  });

  it('is formatted by language', () => {
    expect(plain(new Formatter('en').money('1234.5', 'USD'))).toBe('$1,234.50');
    expect(plain(new Formatter('de').money('1234.5', 'EUR'))).toBe('1.234,50 €');
    expect(plain(new Formatter('ja').money('1234', 'JPY'))).toMatch(/^[¥￥]1,234$/);
    expect(plain(new Formatter('en').money('-3', 'USD', 'always'))).toBe('-$3.00');
    expect(plain(new Formatter('en').money('3', 'USD', 'always'))).toBe('+$3.00');
    expect(plain(new Formatter('en').money('0', 'USD', 'always'))).toBe('$0.00');
    // a difference has the short symbol; the totals beside it have the full one
    expect(plain(new Formatter('es').money('3', 'USD'))).toBe('3,00 US$');
    expect(plain(new Formatter('es').money('3', 'USD', 'always'))).toBe('+3,00 $');
    // Unicode isolates (UAX 9) keep the letters and the dollar sign of the symbol in order
    expect(plain(new Formatter('ar').money('3', 'USD'))).toContain('\u2068US$\u2069');
  });

  it('shows every digit of an amount', () => {
    const formatter = new Formatter('en');
    fc.assert(
      fc.property(
        fc.bigInt({ min: 0n, max: 999_999_999_999n }),
        fc.integer({ min: 0, max: 99 }),
        (whole, cents) => {
          const amount = `${whole}.${String(cents).padStart(2, '0')}`;
          expect(formatter.money(amount, 'USD').replace(/[$,]/g, '')).toBe(amount);
        },
      ),
    );
    // more digits than a double has
    expect(formatter.money('999999999999.990000000001', 'USD')).toBe('$999,999,999,999.990000000001');
  });

  it('is a dash when it is no amount', () => {
    for (const value of ['', 'abc', '1e3', '1,5', ' 1', 12.5, null, undefined, Number.NaN])
      expect(new Formatter('en').money(value, 'USD')).toBe(MISSING);
  });
});

describe('days', () => {
  it('are the same day in every time zone of the runtime', () => {
    const before = process.env['TZ'];
    try {
      for (const zone of ['UTC', 'Asia/Shanghai', 'America/New_York', 'Pacific/Kiritimati']) {
        process.env['TZ'] = zone;
        const formatter = new Formatter('en');
        expect(formatter.day('2026-03-29')).toBe('Sun, Mar 29');
        expect(formatter.fullDay('2028-02-29')).toBe('Tuesday, February 29, 2028');
      }
    } finally {
      if (before === undefined) delete process.env['TZ'];
      else process.env['TZ'] = before;
    }
  });

  it('are formatted by language', () => {
    expect(new Formatter('de').day('2026-03-29')).toBe('So., 29. März');
    expect(new Formatter('ja').fullDay('2026-03-29')).toBe('2026年3月29日日曜日');
    expect(new Formatter('ar-u-nu-latn').fullDay('2026-03-29')).toContain('مارس');
    // always Gregorian, even where another calendar is usual
    expect(new Formatter('fa-u-nu-latn').fullDay('2026-03-29')).toContain('2026');
  });

  it('start the week on the first weekday of the language', () => {
    expect(new Formatter('de').weekdays()).toMatchObject({ first: 1 });
    expect(new Formatter('de').weekdays().names[0]).toBe('Mo');
    expect(new Formatter('en-US').weekdays().names[0]).toBe('Sun');
    for (const language of ['en', 'de', 'es', 'ja', 'ar'])
      expect(new Set(new Formatter(language).weekdays().names).size).toBe(7);
  });

  it('are a dash when they are no days', () => {
    for (const value of ['2026-3-1', '', null, 20260301])
      expect(new Formatter('en').day(value)).toBe(MISSING);
  });
});

describe('lengths', () => {
  it('are formatted in mm and inches', () => {
    const en = new Formatter('en');
    expect(en.length(90, 'mm')).toBe('90 mm');
    expect(en.length(90.26, 'mm')).toBe('90.3 mm');
    expect(en.length(88.9, 'in')).toBe('3.5 in');
    expect(en.length(-0.001, 'mm')).toBe('0 mm');
    expect(en.fineLength(0.214, 'mm')).toBe('0.21 mm');
    expect(plain(en.size(280, 350, 'mm'))).toBe('280 × 350 mm');
    expect(plain(new Formatter('de').length(12.5, 'mm'))).toBe('12,5 mm');
    expect(new Formatter('de').lengthField(1234.5, 'mm')).toBe('1234,5');
    expect(en.unitName('in')).toBe('in');
    for (const value of [Number.NaN, undefined, '3']) expect(en.length(value, 'mm')).toBe(MISSING);
  });
});

describe('other formats', () => {
  it('keep a decimal of small shares, and do not round rates, which are text', () => {
    const en = new Formatter('en');
    expect([en.percent(0.63), en.percent('0.0825'), en.percent(0.0004), en.percent(0)]).toEqual([
      '63%',
      '8.25%',
      '0%',
      '0%',
    ]);
  });

  it('are those of lists, bytes and angles', () => {
    const en = new Formatter('en');
    expect(en.list(['a', 'b', 'c'])).toBe('a, b, and c');
    expect(en.list(['a', 'b'], 'or')).toBe('a or b');
    expect(en.list([])).toBe(MISSING);
    expect([en.bytes(1_500), en.bytes(26_214_400), en.angle(-7.25)]).toEqual(['1.5 kB', '26 MB', '-7.3°']);
  });

  it('are English for an invalid language tag', () => {
    expect(new Formatter('not a tag').lang).toBe('en');
  });
});
