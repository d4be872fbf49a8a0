import { createHash } from 'node:crypto';
import { SaxesParser } from 'saxes';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { demoCatalog } from '../../../demo/catalog.ts';
import {
  BASE,
  MONDAY_MORNING,
  type MutableCatalog,
  openTestApi,
  placed,
  problemOf,
  type TestApi,
} from '../test-api.ts';

type Drawn = { name: string; at: Record<string, string>; text: string; inside: string[] };

/** All SVG elements of the page, with their own text. */
function drawings(page: string): Drawn[][] {
  return [...page.matchAll(/<svg [^>]*role="img"[\s\S]*?<\/svg>/g)].map(([svg]) => {
    const found: Drawn[] = [];
    const open: Drawn[] = [];
    const parser = new SaxesParser();
    parser.on('error', (error) => {
      throw error;
    });
    parser.on('opentag', ({ name, attributes }) => {
      const inside = open.map((each) => each.at['class'] ?? '');
      const drawn = { name, at: attributes as Record<string, string>, text: '', inside };
      found.push(drawn);
      open.push(drawn);
    });
    parser.on('text', (text) => {
      const last = open.at(-1);
      if (last) last.text += text;
    });
    parser.on('closetag', () => void open.pop());
    parser.write(svg).close();
    return found;
  });
}

const classed = (drawn: readonly Drawn[], name: string) =>
  drawn.filter(({ at }) => at['class']?.split(' ').includes(name));

type Plan = {
  stations: {
    station: string;
    days: { day: string; work: { job: string; from: string; to: string; part: string }[] }[];
  }[];
  late: { order: string; promised: string; now: string; cause: { kind: string } }[];
};

describe('the plan page', () => {
  let rig: TestApi;
  const open = async (change: (catalog: MutableCatalog) => void = () => {}) => {
    const catalog = structuredClone(demoCatalog) as MutableCatalog;
    change(catalog);
    rig = await openTestApi({ catalog });
  };
  beforeEach(() => open());
  afterEach(() => rig.close());

  const page = async (query = ''): Promise<string> => {
    const response = await rig.own(`/plan.html${query}`);
    expect(response.status).toBe(200);
    expect(response.headers.get('content-type')).toBe('text/html; charset=UTF-8');
    return response.text();
  };
  const plan = async (): Promise<Plan> => (await rig.own('/plan?days=7')).json() as Promise<Plan>;
  const orderSome = async (counts: readonly number[]) => {
    const numbers: string[] = [];
    for (const count of counts) {
      const slip = rig.slip((s) => {
        s.lines[0]!.counts[0]!.count = count;
      });
      numbers.push((await placed(await rig.order(slip))).number);
    }
    return numbers;
  };

  it('draws all work at its time, within the open hours of its row', async () => {
    await orderSome([3, 12, 24]);
    const { stations } = await plan();
    const [monday] = drawings(await page());
    // The scale, from the axis labels of 8 AM and 5 PM in New York.
    const tick = (text: string) =>
      Number(monday!.find(({ at, text: label }) => at['class'] === 'tick' && label === text)!.at['x']);
    const [eight, five] = [Date.parse('2026-03-02T13:00:00Z'), Date.parse('2026-03-02T22:00:00Z')];
    const x = (instant: string) =>
      tick('8 AM') + ((Date.parse(instant) - eight) / (five - eight)) * (tick('5 PM') - tick('8 AM'));
    const bars = classed(monday!, 'bar');
    const rects = monday!.filter(
      ({ name, at, inside }) =>
        name === 'rect' && at['class'] === undefined && inside.some((each) => each.startsWith('bar ')),
    );
    expect(rects).toHaveLength(bars.length);
    const drawn = rects.map(({ at }) => [Number(at['x']), Number(at['width'])]);
    const work = stations
      .flatMap(({ days }) => days.filter(({ day }) => day === '2026-03-02'))
      .flatMap((day) => day.work);
    expect(work.length).toBeGreaterThan(8);
    expect(drawn).toHaveLength(work.length);
    for (const { from, to } of work)
      expect(
        drawn.some(
          ([left, width]) => Math.abs(left! - x(from)) < 0.02 && Math.abs(width! - (x(to) - x(from))) < 0.02,
        ),
        `${from} ${to}`,
      ).toBe(true);
    // Each bar is within one open interval of its row.
    const white = classed(monday!, 'open');
    for (const { at } of rects) {
      const [left, width, top] = [Number(at['x']), Number(at['width']), Number(at['y'])];
      expect(
        white.some(
          (each) =>
            Number(each.at['y']) === top &&
            Number(each.at['x']) <= left + 0.02 &&
            Number(each.at['x']) + Number(each.at['width']) >= left + width - 0.02,
        ),
      ).toBe(true);
    }
  });

  it('has a row for every unit, and the same work as a table', async () => {
    const numbers = await orderSome([3, 40]);
    const text = await page();
    const [monday] = drawings(text);
    const names = monday!.filter(({ at }) => at['class'] === 'name').map((each) => each.text);
    expect(names).toEqual([
      'Pretreat cabinet',
      'Garment printer',
      'Conveyor dryer',
      'White-toner printer',
      'Flat press 1',
      'Flat press 2',
      'Cap press',
      'Mug press',
      'Crew (2)',
    ]);
    const table = /<table><caption id="table-2026-03-02">[\s\S]*?<\/table>/.exec(text)![0];
    const bookings = (
      await Promise.all(
        numbers.map(
          async (number) =>
            ((await (await rig.own(`/orders/${number}`)).json()) as { bookings: { start: string }[] })
              .bookings,
        ),
      )
    ).flat();
    const onMonday = bookings.filter(({ start }) => start < '2026-03-03');
    expect(table.match(/<tr><td>/g)).toHaveLength(onMonday.length);
    for (const number of numbers) expect(table).toContain(`<th scope="row">${number}</th>`);
    // Several batches are separated by lines.
    expect(classed(monday!, 'batch').length).toBeGreaterThan(0);
  });

  it('flags late orders with the new day and the cause, in words and in the drawing', async () => {
    const [first, second] = await orderSome([3, 3]);
    const { bookings } = (await (await rig.own(`/orders/${first}`)).json()) as {
      bookings: { station: string }[];
    };
    expect(await page()).toContain('Every promised day in the plan is kept.');
    await rig.own('/floor-events', {
      method: 'POST',
      body: JSON.stringify({
        events: [
          {
            kind: 'down',
            station: bookings[0]!.station,
            to: new Date(MONDAY_MORNING + 2 * 86_400_000).toISOString(),
          },
        ],
      }),
    });
    const text = await page();
    const { late } = await plan();
    expect(late.map(({ order }) => order)).toEqual([first, second]);
    for (const { order, promised, now, cause } of late) {
      expect([promised, cause.kind]).toEqual(['2026-03-02', 'down']);
      const row = new RegExp(
        `<tr><th scope="row">${order}</th><td>([^<]*)</td><td>([^<]*)</td><td>([^<]*)</td>`,
      );
      const [, was, is, why] = row.exec(text)!;
      expect([was, is]).toEqual([
        'Monday, March 2',
        new Intl.DateTimeFormat('en', {
          weekday: 'long',
          month: 'long',
          day: 'numeric',
          timeZone: 'UTC',
        }).format(Date.parse(now)),
      ]);
      expect(why).toContain('is out of use');
    }
    const all = drawings(text).flat();
    expect(classed(all, 'late-cap').length).toBeGreaterThan(0);
    expect(classed(all, 'bar').length).toBe(classed(all, 'late-cap').length);
    expect(all.filter(({ at }) => at['fill'] === 'url(#down)').length).toBeGreaterThan(0);
  });

  it('shows the crew present and booked, never more booked than present', async () => {
    await orderSome([3, 40, 60]);
    const [monday] = drawings(await page());
    const tops = (name: string) =>
      [...classed(monday!, name)[0]!.at['d']!.matchAll(/,(-?[\d.]+)/g)].map(([, y]) => Number(y));
    expect(Math.min(...tops('busy'))).toBeGreaterThanOrEqual(Math.min(...tops('there')));
    expect(Math.min(...tops('busy'))).toBeLessThan(Math.max(...tops('there')));
  });

  it('marks the hour skipped by a clock change', async () => {
    await rig.close();
    await open((catalog) => {
      catalog.calendar!.extraShifts = [{ day: '2026-03-08', from: '00:00', to: '06:00' }];
      catalog.stations[0]!.maintenance = [{ from: '2026-03-08T05:00:00Z', to: '2026-03-08T06:00:00Z' }];
    });
    const [sunday] = drawings(await page('?from=2026-03-08&days=1'));
    const ticks = sunday!
      .filter(({ at }) => at['class'] === 'tick')
      .map(({ text }) => text.replace(/\s/g, ' '));
    expect(ticks).toEqual(['12 AM', '1 AM', '3 AM', '4 AM', '5 AM', '6 AM']);
  });

  it('uses the language of the shop, from right to left if needed', async () => {
    for (const [language, dir, title] of [
      ['de', 'ltr', 'Aufträge'],
      ['es', 'ltr', 'pedido'],
      ['ja', 'ltr', '注文'],
      ['ar', 'rtl', 'طلب'],
      ['fi', 'ltr', 'Every promised day'],
    ] as const) {
      await rig.close();
      await open((catalog) => {
        catalog.shop.language = language;
      });
      await orderSome([3]);
      const text = await page();
      expect(text).toContain(`<html lang="${language === 'fi' ? 'en' : language}" dir="${dir}">`);
      expect(text.toLowerCase()).toContain(title.toLowerCase());
      expect(text).not.toMatch(/\{\w+\}|undefined|NaN/);
      const [monday] = drawings(text);
      const ticks = monday!.filter(({ at, inside }) => at['class'] === 'tick' && !inside.includes('crew'));
      const xs = ticks.map(({ at }) => Number(at['x']));
      expect(xs).toEqual([...xs].sort((a, b) => (dir === 'rtl' ? b - a : a - b)));
    }
  });

  it('cannot be made to run or load anything by names in the catalog', async () => {
    const nasty = '</title></style><script>alert(1)</script><img src=x onerror=alert(1)>"\'&';
    await rig.close();
    await open((catalog) => {
      catalog.shop.name = nasty;
      for (const station of catalog.stations) station.name = nasty;
      for (const method of catalog.methods) for (const step of method.steps) step.name = nasty;
      catalog.calendar!.closures = [{ from: '2026-03-03', to: '2026-03-03', name: nasty }];
    });
    await orderSome([3]);
    const response = await rig.own('/plan.html');
    const text = await response.text();
    expect(text).toContain('&lt;script&gt;');
    const tags = text.match(/<[^>]+>/g)!;
    expect(tags.filter((tag) => /^<(script|img|link|iframe|object|use|a href="[^?#])/i.test(tag))).toEqual(
      [],
    );
    expect(tags.filter((tag) => /\s(on\w+|style|src|xlink:href)\s*=|https?:|javascript:/i.test(tag))).toEqual(
      [],
    );
    expect(text.match(/<style>/g)).toHaveLength(1);
    // The policy allows exactly the page's style sheet.
    const style = /<style>([\s\S]*?)<\/style>/.exec(text)![1]!;
    const hash = createHash('sha256').update(style).digest('base64');
    expect(response.headers.get('content-security-policy')).toBe(
      `default-src 'none'; style-src 'sha256-${hash}'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'`,
    );
    expect(drawings(text).length).toBeGreaterThan(0);
  });

  it('opens in a browser with the key as password; nothing else does', async () => {
    const basic = (password: string) => ({
      authorization: `Basic ${Buffer.from(`anybody:${password}`).toString('base64')}`,
    });
    const get = (path: string, init: RequestInit = {}) => rig.fetch(`${BASE}/owner${path}`, init);
    const asked = await get('/plan.html');
    expect(asked.status).toBe(401);
    expect(asked.headers.get('www-authenticate')).toMatch(/^Basic realm="[^"]*", charset="UTF-8", Bearer /);
    expect((await get('/plan.html', { headers: basic(rig.key) })).status).toBe(200);
    for (const wrong of [
      basic(`${rig.key}x`),
      basic(''),
      { authorization: 'Basic !' },
      { authorization: 'Basic' },
    ])
      expect((await problemOf(await get('/plan.html', { headers: wrong }))).code).toBe('wrong-key');
    for (const path of ['/plan', '/plan.ics', '/orders', '/catalog']) {
      const refused = await get(path, { headers: basic(rig.key) });
      expect(refused.status, path).toBe(401);
      expect(refused.headers.get('www-authenticate')).toMatch(/^Bearer/);
    }
    const post = await get('/plan.html', { method: 'POST', headers: basic(rig.key), body: '{}' });
    expect(post.status).toBe(401);
  });

  it("shows the requested days, within the plan's horizon", async () => {
    const text = await page('?from=2026-03-09&days=3');
    expect([...text.matchAll(/id="day-(\d{4}-\d\d-\d\d)"/g)].map(([, day]) => day)).toEqual([
      '2026-03-09',
      '2026-03-10',
      '2026-03-11',
    ]);
    for (const query of [
      '?from=2026-02-30',
      '?from=2030-01-01',
      '?days=0',
      '?days=63',
      '?days=x',
      '?to=2026-03-09',
    ])
      expect(await problemOf(await rig.own(`/plan.html${query}`)), query).toMatchObject({
        status: 400,
        code: 'invalid-input',
      });
  });
});
