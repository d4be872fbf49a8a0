import { afterEach, beforeEach, expect, it } from 'vitest';
import { BASE, onBothStores, openTestApi, placed, problemOf, type TestApi } from '../../test-api.ts';

onBothStores("an owner's catalog", (kind) => {
  let rig: TestApi;
  beforeEach(async () => {
    rig = await openTestApi({ kind });
  });
  afterEach(() => rig.close());

  const read = async () => {
    const response = await rig.own('/catalog');
    return { etag: response.headers.get('etag')!, text: await response.text() };
  };
  const put = (body: string, headers: Record<string, string>) =>
    rig.own('/catalog', { method: 'PUT', body, headers });

  it("needs an owner's key", async () => {
    const none = await rig.fetch(`${BASE}/owner/catalog`);
    expect(none.headers.get('www-authenticate')).toContain('Bearer');
    expect(await problemOf(none)).toMatchObject({ status: 401, code: 'missing-key' });
    for (const authorization of [
      'Bearer x',
      `Basic ${rig.key}`,
      `Bearer ${rig.key}x`,
      `Bearer ${rig.key} x`,
      'Bearer',
    ])
      expect(
        await problemOf(await rig.fetch(`${BASE}/owner/catalog`, { headers: { authorization } })),
      ).toMatchObject({ status: 401, code: 'wrong-key' });
    const floor = (await (
      await rig.own('/keys', { method: 'POST', body: JSON.stringify({ name: 'press', role: 'floor' }) })
    ).json()) as { key: string };
    const refused = await rig.fetch(`${BASE}/owner/catalog`, {
      headers: { authorization: `Bearer ${floor.key}` },
    });
    expect(await problemOf(refused)).toMatchObject({ status: 403, code: 'not-allowed' });
  });

  it('is replaced only with If-Match', async () => {
    const { etag, text } = await read();
    expect(etag).toMatch(/^"[0-9a-f]{64}"$/);
    expect(await problemOf(await put(text, {}))).toMatchObject({
      status: 428,
      code: 'precondition-required',
    });
    for (const wrong of ['"other"', `W/${etag}`, 'nonsense']) {
      const response = await put(text, { 'if-match': wrong });
      expect(response.headers.get('etag')).toBe(etag);
      expect(await problemOf(response)).toMatchObject({ status: 412, code: 'precondition-failed' });
    }
    const named = JSON.parse(text) as { shop: { name: unknown } };
    named.shop.name = 'Another name';
    const replaced = await put(JSON.stringify(named), { 'if-match': etag });
    expect(replaced.status).toBe(200);
    expect(await replaced.json()).toMatchObject({ version: 2, moved: [], late: [] });
    expect((await read()).etag).toBe(replaced.headers.get('etag'));
    const shown = (await (await rig.fetch(`${BASE}/catalog`)).json()) as {
      version: number;
      shop: { name: string };
    };
    expect(shown).toMatchObject({ version: 2, shop: { name: 'Another name' } });
    // A client that read the first version cannot overwrite the second.
    expect((await put(text, { 'if-match': etag })).status).toBe(412);
  });

  it('is replaced by one of two at the same time; the other must read it again', async () => {
    const { etag, text } = await read();
    const answers = await Promise.all(
      [1, 2, 3, 4].map((n) => {
        const catalog = JSON.parse(text) as { shop: { name: string } };
        catalog.shop.name = `Name ${n}`;
        return put(JSON.stringify(catalog), { 'if-match': etag });
      }),
    );
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 412, 412, 412]);
  });

  it('lists every fault, and is not changed by a faulty one', async () => {
    const { etag, text } = await read();
    const catalog = JSON.parse(text);
    catalog.shop.currency = 'XXQ';
    catalog.methods[0].steps[0].stations = ['no-such-station'];
    catalog.blanks[0].faces[0].widthMm = -5;
    catalog.surprise = true;
    const problem = await problemOf(await put(JSON.stringify(catalog), { 'if-match': etag }));
    expect(problem).toMatchObject({ status: 422, code: 'catalog-faulty' });
    const places = problem.faults.map(({ at }) => at);
    expect(places).toEqual(
      expect.arrayContaining([
        'shop.currency',
        'methods.0.steps.0.stations.0',
        'blanks.0.faces.0.widthMm',
        'surprise',
      ]),
    );
    const checked = await rig.own('/catalog/check', { method: 'POST', body: JSON.stringify(catalog) });
    expect(((await checked.json()) as { faults: { at: string }[] }).faults.map(({ at }) => at)).toEqual(
      places,
    );
    expect((await read()).etag).toBe(etag);
    expect(await problemOf(await put('{"a":', { 'if-match': etag }))).toMatchObject({
      code: 'malformed-json',
    });
  });

  it('is stored in every version', async () => {
    const { etag, text } = await read();
    const catalog = JSON.parse(text);
    catalog.shop.name = 'Second';
    await put(JSON.stringify(catalog), { 'if-match': etag });
    const { versions } = (await (await rig.own('/catalog/versions')).json()) as {
      versions: { version: number; etag: string; createdBy: string }[];
    };
    expect(versions.map(({ version }) => version)).toEqual([2, 1]);
    expect(versions[1]).toMatchObject({ etag, createdBy: 'first owner' });
    expect(await (await rig.own('/catalog/versions/1')).text()).toBe(text);
    expect((await rig.own('/catalog/versions/3')).status).toBe(404);
  });

  it('cannot remove equipment on which work is booked', async () => {
    const order = await placed(await rig.order(rig.slip()));
    const { bookings } = (await (await rig.own(`/orders/${order.number}`)).json()) as {
      bookings: { station: string }[];
    };
    const { etag, text } = await read();
    const renamed = text.replaceAll(`"${bookings[0]!.station}"`, '"another-station"');
    const problem = await problemOf(await put(renamed, { 'if-match': etag }));
    expect(problem).toMatchObject({ status: 422, code: 'catalog-faulty' });
    expect(problem.faults[0]).toMatchObject({ at: 'stations', value: bookings[0]!.station });
  });

  it('with a week closed moves the work of that week and flags late orders', async () => {
    const order = await placed(await rig.order(rig.slip()));
    const { etag, text } = await read();
    const catalog = JSON.parse(text);
    catalog.calendar.closures.push({ from: '2026-03-02', to: '2026-03-08', name: 'Flood' });
    const replaced = await put(JSON.stringify(catalog), { 'if-match': etag });
    expect(await replaced.json()).toMatchObject({
      moved: [order.number],
      late: [{ order: order.number, promised: '2026-03-02', now: '2026-03-09', cause: { kind: 'closed' } }],
    });
    const status = await rig.fetch(`${BASE}/orders/${order.number}?key=${order.statusKey}`);
    expect(await status.json()).toMatchObject({
      promisedDay: '2026-03-02',
      late: { until: '2026-03-09', because: 'hours' },
    });
  });
});
