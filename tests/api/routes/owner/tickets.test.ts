import { afterEach, beforeEach, expect, it } from 'vitest';
import { BASE, onBothStores, openTestApi, placed, problemOf, type TestApi } from '../../test-api.ts';

type Ticket = {
  number: string;
  state: string;
  packedDay: string;
  promisedDay: string;
  pieces: number;
  lines: {
    id: string;
    blank: { id: string };
    counts: { size: { id: string }; count: number }[];
    placements: { id: string; method: { id: string }; artwork?: string }[];
  }[];
  work: {
    method: { id: string };
    steps: {
      id: string;
      station?: { id: string };
      units: number;
      settings: Record<string, unknown>;
      hazards: string[];
    }[];
  }[];
  sheets: { method: { id: string }; sheets: number }[];
  cautions: { code: string; text: string; stations: string[]; lines: string[] }[];
  cautionsDefer: string;
  care: { line: string; text: string[] }[];
  bookings: { order: string; key: string; station: string }[];
};

onBothStores('tickets', (kind) => {
  let rig: TestApi;
  beforeEach(async () => {
    rig = await openTestApi({ kind });
  });
  afterEach(() => rig.close());

  /** Navy tees and white mugs with the same disc. */
  const teesAndMugs = () =>
    rig.slip((s) => {
      const [tees] = s.lines;
      tees!.color = 'navy';
      s.lines.push({
        ...structuredClone(tees!),
        id: 'mugs',
        blank: 'mug',
        color: 'white',
        counts: [{ size: '330', count: 2 }],
        placements: [{ id: 'wrap', face: 'wrap', artwork: rig.artwork, xMm: 0, yMm: 36, widthMm: 50 }],
      });
    });
  const ticketOf = async (number: string): Promise<Ticket> => {
    const response = await rig.own(`/tickets/${number}`);
    expect(response.status).toBe(200);
    return (await response.json()) as Ticket;
  };

  it('say what to make, how, and on which blanks', async () => {
    const { number, status } = await placed(await rig.order(teesAndMugs()));
    const ticket = await ticketOf(number);
    expect(ticket).toMatchObject({ number, state: 'accepted', promisedDay: status.promisedDay, pieces: 5 });
    expect(ticket.packedDay <= ticket.promisedDay).toBe(true);
    expect(
      ticket.lines.map(({ id, blank, counts }) => [id, blank.id, counts.map(({ count }) => count)]),
    ).toEqual([
      ['tees', 'cotton-tee', [3]],
      ['mugs', 'mug', [2]],
    ]);
    for (const { placements } of ticket.lines) expect(placements[0]!.artwork).toBe(rig.artwork);
    // A mug is not flat: it gets the method that makes sheets, and these are on the ticket.
    const mugs = ticket.lines[1]!.placements[0]!.method.id;
    expect(ticket.sheets.filter(({ method }) => method.id === mugs).every(({ sheets }) => sheets > 0)).toBe(
      true,
    );
    const pressing = ticket.work
      .flatMap(({ steps }) => steps)
      .find(({ station }) => station?.id === 'mug-press');
    expect(pressing!.settings).toMatchObject({
      temperatureC: expect.any(Number),
      timeS: expect.any(Number),
    });
    // The ticket has the order's bookings, at the same stations.
    const stations = new Set(
      ticket.work.flatMap(({ steps }) => steps.flatMap(({ station }) => station?.id ?? [])),
    );
    expect(new Set(ticket.bookings.map(({ station }) => station))).toEqual(stations);
    expect(new Set(ticket.bookings.map(({ order }) => order))).toEqual(new Set([number]));
  });

  it('show rounded figures, as do the order, the plan and the quote', async () => {
    const slip = rig.slip((wanted) => {
      const [tee] = wanted.lines;
      Object.assign(tee!.placements![0]!, { widthMm: 70.1, angleDeg: 7.3 });
      tee!.counts[0]!.count = 7;
    });
    const { number } = await placed(await rig.order(slip, 'figures'));
    const told = {
      quote: await rig.quote(slip),
      ticket: await (await rig.own(`/tickets/${number}`)).json(),
      order: await (await rig.own(`/orders/${number}`)).json(),
      plan: await (await rig.own('/plan')).json(),
    };
    const crooked: string[] = [];
    const walk = (value: unknown, at: string): void => {
      if (typeof value === 'object' && value !== null)
        for (const [key, inner] of Object.entries(value)) walk(inner, `${at}.${key}`);
      // 219.99999999999997 mm, 91.75999999999999 s
      if (typeof value === 'number' && !/^-?\d+(\.\d{1,4})?$/.test(String(value)))
        crooked.push(`${at} ${value}`);
    };
    walk(told, '');
    expect(crooked).toEqual([]);
  });

  it('show cautions for the work and the blanks, and what these defer to', async () => {
    const { number } = await placed(await rig.order(teesAndMugs()));
    const { cautions, cautionsDefer, work, care } = await ticketOf(number);
    const codes = cautions.map(({ code }) => code);
    // Every hazard of a step is named, at its station.
    for (const { steps } of work)
      for (const { hazards, station } of steps)
        for (const hazard of hazards)
          expect(cautions.find(({ code }) => code === hazard)?.stations).toContain(station!.id);
    expect(codes).toEqual(expect.arrayContaining(['hot-surface', 'curing-fumes', 'drinkware', 'food']));
    expect(cautions.find(({ code }) => code === 'drinkware')!.lines).toEqual(['mugs']);
    for (const { text } of cautions) expect(text.length).toBeGreaterThan(20);
    for (const what of ["maker's data sheet", 'local codes', 'licensed practice'])
      expect(cautionsDefer).toContain(what);
    expect(care.map(({ line }) => line)).toEqual(['tees', 'mugs']);
    for (const { text } of care) expect(text.length).toBeGreaterThan(0);
  });

  it('are made from the catalog of the quote, not a later one', async () => {
    const { number } = await placed(await rig.order(rig.slip()));
    const before = await ticketOf(number);
    const current = await rig.own('/catalog');
    const catalog = (await current.json()) as { blanks: { id: string; name: unknown }[] };
    catalog.blanks.find(({ id }) => id === 'cotton-tee')!.name = 'Renamed';
    const put = await rig.own('/catalog', {
      method: 'PUT',
      headers: { 'if-match': current.headers.get('etag')! },
      body: JSON.stringify(catalog),
    });
    expect(put.status).toBe(200);
    expect(await ticketOf(number)).toEqual(before);
  });

  it('open with a floor key, show no prices or customers, and say if an order is cancelled', async () => {
    const { number } = await placed(await rig.order(rig.slip()));
    const { key } = (await (
      await rig.own('/keys', { method: 'POST', body: '{"name":"press","role":"floor"}' })
    ).json()) as { key: string };
    const seen = await rig.fetch(`${BASE}/owner/tickets/${number}`, {
      headers: { authorization: `Bearer ${key}` },
    });
    expect(seen.status).toBe(200);
    const text = await seen.text();
    for (const secret of ['ada@example.org', 'Ada Example', '"total"', '"amount"', '"rate"', '"unit":"'])
      expect(text).not.toContain(secret);
    expect((await rig.fetch(`${BASE}/owner/tickets/${number}`)).status).toBe(401);
    await rig.own(`/orders/${number}`, { method: 'PATCH', body: '{"state":"cancelled"}' });
    expect((await ticketOf(number)).state).toBe('cancelled');
  });

  it('are not found for an unknown order, or one older than stored routes', async () => {
    expect(await problemOf(await rig.own('/tickets/4711'))).toMatchObject({ status: 404, code: 'not-found' });
    expect((await rig.own('/tickets/nonsense')).status).toBe(404);
    const { number } = await placed(await rig.order(rig.slip()));
    const get = rig.store.orders.get.bind(rig.store.orders);
    rig.store.orders.get = async (shop, wanted) => {
      const order = await get(shop, wanted);
      return order && { ...order, route: null };
    };
    const problem = await problemOf(await rig.own(`/tickets/${number}`));
    expect(problem).toMatchObject({ status: 404, code: 'not-found' });
    expect(problem.detail).toContain('before routes were kept');
  });
});
