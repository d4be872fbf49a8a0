import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { accessibilityFaults, startTestSite, type TestSite } from './test-site.ts';

const SHOP = '/v1/shops/quill-and-kettle';

let site: TestSite;
beforeAll(async () => {
  site = await startTestSite();
  const send = async (path: string, body: unknown, headers: Record<string, string> = {}) => {
    const response = await fetch(`${site.server.url}${SHOP}${path}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', ...headers },
      body: JSON.stringify(body),
    });
    if (!response.ok) throw new Error(`${path}: ${response.status} ${await response.text()}`);
    return (await response.json()) as { token: string; number: string };
  };
  // A drawing without a file.
  const svg =
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><circle cx="50" cy="50" r="45" fill="#247"/></svg>';
  const sent = await fetch(`${site.server.url}${SHOP}/artworks`, {
    method: 'POST',
    headers: { 'content-type': 'image/svg+xml' },
    body: svg,
  });
  const { id } = (await sent.json()) as { id: string };
  for (const count of [3, 40]) {
    const slip = {
      format: 1,
      delivery: 'pick-up',
      lines: [
        {
          id: 'tees',
          blank: 'cotton-tee',
          color: 'navy',
          finish: 'standard',
          counts: [{ size: 'm', count }],
          placements: [{ id: 'disc', face: 'front', artwork: id, xMm: 0, yMm: 120, widthMm: 80 }],
        },
      ],
    };
    const { token } = await send('/quotes', { slip, brief: true });
    const contact = { name: 'Ada Example', email: 'ada@example.org' };
    await send('/orders', { token, slip, contact }, { 'idempotency-key': `"${count}"` });
  }
});
afterAll(() => site?.close());

describe('the plan in a browser', () => {
  const open = (widthPx: number, days = 14) =>
    site.visit(`${SHOP}/owner/plan.html?days=${days}`, {
      widthPx,
      password: site.server.ownerKey!,
    });

  it.each([360, 768, 1280])(
    'fits into %i px, is styled under its content policy, and is accessible',
    async (widthPx) => {
      const { page, faults, leave } = await open(widthPx);
      expect(await page.title()).toBe('Quill & Kettle Print Room: Plan');
      // Only charts and tables scroll sideways, each in an element that can be focused.
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(widthPx);
      expect(await page.evaluate(() => getComputedStyle(document.body).backgroundColor)).toBe(
        'rgb(251, 248, 241)',
      );
      expect(await page.getByRole('img').count()).toBeGreaterThan(0);
      for (const details of await page.locator('summary').all()) await details.click();
      expect(await accessibilityFaults(page)).toEqual([]);
      expect(faults).toEqual([]);
      await leave();
    },
  );

  it('shows order numbers inside their bars and describes each bar in words', async () => {
    const { page, leave } = await open(1280);
    const bars = page.locator('g.bar:has(> title)');
    expect(await bars.count()).toBeGreaterThan(5);
    const spilt = await bars.evaluateAll((groups) =>
      groups.flatMap((group) => {
        const text = group.querySelector('text');
        if (text === null) return [];
        const box = group.querySelector('rect')!.getBoundingClientRect();
        const label = text.getBoundingClientRect();
        const inside =
          label.left >= box.left - 1 &&
          label.right <= box.right + 1 &&
          label.top >= box.top - 1 &&
          label.bottom <= box.bottom + 1;
        return inside ? [] : [`${text.textContent} in ${group.querySelector('title')!.textContent}`];
      }),
    );
    expect(spilt).toEqual([]);
    expect(await page.locator('g.bar text').count()).toBeGreaterThan(0);
    expect(await bars.first().locator('> title').textContent()).toMatch(
      /^Order \d+ · .+ \((Set-up|Run)\) · .+ · \d/,
    );
    await leave();
  });

  it('moves to later days and back', async () => {
    const { page, leave } = await open(768, 7);
    const first = () => page.locator('section.day h3').first().textContent();
    const today = await first();
    await page.getByRole('link', { name: 'Later' }).click();
    expect(await first()).not.toBe(today);
    await page.getByRole('link', { name: 'Earlier' }).click();
    expect(await first()).toBe(today);
    await leave();
  });
});
