import { expect, it } from 'vitest';
import type { SlipInput } from '../../../src/contract/index.ts';
import { BASE, onBothStores, openTestApi, type TestApi } from '../test-api.ts';

const JSON_TYPE = { 'content-type': 'application/json' };

const asked = async (rig: TestApi, slip: SlipInput, brief = false): Promise<string> => {
  const answer = await rig.post(`${BASE}/quotes`, { slip, brief });
  expect(answer.status).toBe(200);
  expect(answer.headers.get('content-type')).toBe('application/json');
  expect(answer.headers.get('cache-control')).toBe('no-store');
  return answer.text();
};

onBothStores('a repeated quote request', (kind) => {
  it('is answered from the cache until anything it depends on changes', async () => {
    const rig = await openTestApi({ kind });
    try {
      const slip = rig.slip();
      const first = await asked(rig, slip);
      rig.clock.ms += 9_000;
      expect(await asked(rig, slip)).toBe(first);
      // Another order of members: not cached, but the same slip.
      const turned = JSON.parse(
        await asked(rig, Object.fromEntries(Object.entries(slip).reverse()) as SlipInput),
      );
      expect(turned.slipHash).toBe(JSON.parse(first).slipHash);
      expect(turned.at).toBe(new Date(rig.clock.ms).toISOString());
      // A brief request or another slip has another key.
      expect(JSON.parse(await asked(rig, slip, true)).instead).toEqual([]);
      const more = rig.slip((s) => {
        s.lines[0]!.counts[0]!.count++;
      });
      expect(JSON.parse(await asked(rig, more)).slipHash).not.toBe(JSON.parse(first).slipHash);

      rig.clock.ms += 2_000;
      const later = JSON.parse(await asked(rig, slip));
      expect(later.at).toBe(new Date(rig.clock.ms).toISOString());

      // After a booking.
      expect((await rig.order(more)).status).toBe(201);
      expect(JSON.parse(await asked(rig, slip)).promise.planVersion).toBe(1);

      // After a new catalog.
      const kept = await rig.own('/catalog');
      const put = await rig.own('/catalog', {
        method: 'PUT',
        headers: { ...JSON_TYPE, 'if-match': kept.headers.get('etag')! },
        body: await kept.text(),
      });
      expect(put.status).toBe(200);
      expect(JSON.parse(await asked(rig, slip)).catalogVersion).toBe(2);

      // After a new signing key: no token of the old one is answered.
      const before = JSON.parse(await asked(rig, slip)).token as string;
      expect(
        (await rig.own('/signing-keys', { method: 'POST', headers: JSON_TYPE, body: '{}' })).status,
      ).toBeLessThan(300);
      const after = JSON.parse(await asked(rig, slip)).token as string;
      expect(after.split('.')[0]).not.toBe(before.split('.')[0]);
    } finally {
      await rig.close();
    }
  });

  it('is cached per shop, and problems are not cached', async () => {
    const rig = await openTestApi({ kind });
    try {
      await asked(rig, rig.slip());
      const elsewhere = await rig.post('/v1/shops/another-shop/quotes', { slip: rig.slip() });
      expect(elsewhere.status).toBe(404);
      const unknown = rig.slip((s) => {
        s.lines[0]!.finish = 'no-such-finish';
      });
      for (let time = 0; time < 2; time++)
        expect((await rig.post(`${BASE}/quotes`, { slip: unknown })).status).toBeGreaterThanOrEqual(400);
    } finally {
      await rig.close();
    }
  });
});
