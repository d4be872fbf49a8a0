import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { ifInstalled, loadHolidays } from '../../../../api/services/holidays.ts';
import { demoCatalog } from '../../../../demo/catalog.ts';
import { BASE, type MutableCatalog, openTestApi, problemOf, type TestApi } from '../../test-api.ts';

type Closure = { from: string; to: string; name: string; kind: string };

describe('holidays to import', () => {
  let rig: TestApi;
  beforeEach(async () => {
    rig = await openTestApi();
  });
  afterEach(() => rig.close());

  const ask = (body: unknown) =>
    rig.own('/calendar/holidays/import', { method: 'POST', body: JSON.stringify(body) });
  const closures = async (body: unknown): Promise<Closure[]> => {
    const response = await ask(body);
    expect(response.status).toBe(200);
    return ((await response.json()) as { closures: Closure[] }).closures;
  };
  const isWeekday = (day: string) => ![0, 6].includes(new Date(day).getUTCDay());

  it('fall on the days of 5 U.S.C. 6103', async () => {
    const found = await closures({ country: 'US', years: [2026, 2027] });
    const weekdays = found.filter(({ from }) => isWeekday(from)).map(({ from }) => from);
    // A holiday on Saturday is observed on Friday (6103(b)), one on Sunday on Monday (Executive Order 11582).
    expect(weekdays).toEqual([
      '2026-01-01',
      '2026-01-19',
      '2026-02-16',
      '2026-05-25',
      '2026-06-19',
      '2026-07-03',
      '2026-09-07',
      '2026-10-12',
      '2026-11-11',
      '2026-11-26',
      '2026-12-25',
      '2027-01-01',
      '2027-01-18',
      '2027-02-15',
      '2027-05-31',
      '2027-06-18',
      '2027-07-05',
      '2027-09-06',
      '2027-10-11',
      '2027-11-11',
      '2027-11-25',
      '2027-12-24',
      '2027-12-31',
    ]);
    for (const { from, to, kind } of found) expect([to, kind]).toEqual([from, 'holiday']);
  });

  it('are the shop’s own closures if carriers work on them', async () => {
    const found = await closures({ country: 'US', years: [2026], kinds: ['observance'] });
    expect(found.length).toBeGreaterThan(0);
    expect(new Set(found.map(({ kind }) => kind))).toEqual(new Set(['own']));
  });

  it('include those of a state or region; an unknown place is answered with the known ones', async () => {
    const bavaria = await closures({ country: 'DE', state: 'BY', years: [2026] });
    const germany = await closures({ country: 'DE', years: [2026] });
    expect(bavaria.length).toBeGreaterThan(germany.length);
    for (const [body, at] of [
      [{ country: 'ZZ', years: [2026] }, 'country'],
      [{ country: 'DE', state: 'nowhere', years: [2026] }, 'state'],
      [{ country: 'DE', state: '__proto__', years: [2026] }, 'state'],
      [{ country: 'DE', region: 'A', years: [2026] }, 'region'],
      [{ country: 'DE', years: [1999] }, 'years.0'],
      [{ country: 'DE', years: [] }, 'years'],
    ] as const) {
      const problem = await problemOf(await ask(body));
      expect(problem, JSON.stringify(body)).toMatchObject({ status: 400, code: 'invalid-input' });
      expect(problem.faults[0]!.at).toBe(at);
    }
    const { key } = (await (
      await rig.own('/keys', { method: 'POST', body: '{"name":"press","role":"floor"}' })
    ).json()) as { key: string };
    const refused = await rig.fetch(`${BASE}/owner/calendar/holidays/import`, {
      method: 'POST',
      headers: { authorization: `Bearer ${key}`, 'content-type': 'application/json' },
      body: '{"country":"US","years":[2026]}',
    });
    expect((await problemOf(refused)).code).toBe('not-allowed');
  });
});

describe('holidays without the optional package', () => {
  it('are refused with what to install', async () => {
    const rig = await openTestApi({ deps: { loadHolidays: async () => undefined } });
    const problem = await problemOf(
      await rig.own('/calendar/holidays/import', { method: 'POST', body: '{"country":"US","years":[2026]}' }),
    );
    expect(problem).toMatchObject({ status: 404, code: 'not-found' });
    expect(problem.detail).toContain('npm install date-holidays');
    await rig.close();
  });

  it('are not confused with a package that fails to load', async () => {
    const missing: string = 'no-package-has-this-name';
    expect(await ifInstalled(() => import(/* @vite-ignore */ missing))).toBeUndefined();
    expect(await loadHolidays()).toBeTypeOf('function');
    await expect(ifInstalled(() => Promise.reject(new Error('broken')))).rejects.toThrow('broken');
  });
});

describe('days off in the catalog', () => {
  it.each([
    ['none', [], '2026-03-05'],
    ['own', [{ from: '2026-03-04', to: '2026-03-04', name: 'Stocktaking' }], '2026-03-05'],
    ['holiday', [{ from: '2026-03-04', to: '2026-03-04', name: 'Holiday', kind: 'holiday' }], '2026-03-06'],
  ] as const)('%s: a parcel packed on Monday arrives three carrier days later', async (_, days, arrives) => {
    const catalog = structuredClone(demoCatalog) as MutableCatalog;
    catalog.calendar!.closures = [...days];
    const rig = await openTestApi({ catalog });
    const { promise } = await rig.quote(
      rig.slip((s) => {
        s.delivery = 'parcel';
      }),
    );
    expect([promise.packedDay, promise.day]).toEqual(['2026-03-02', arrives]);
    await rig.close();
  });

  it.each(['own', 'holiday'] as const)('%s: nothing is made or handed out then', async (kind) => {
    const catalog = structuredClone(demoCatalog) as MutableCatalog;
    catalog.calendar!.closures = [{ from: '2026-03-02', to: '2026-03-03', name: 'Off', kind }];
    const rig = await openTestApi({ catalog });
    expect((await rig.quote(rig.slip())).promise.day).toBe('2026-03-04');
    await rig.close();
  });
});
