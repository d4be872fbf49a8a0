/** Answers of a slow shop: the foot never shows the answer for another slip, and nothing moves when one arrives late. */
import type { Route } from 'playwright';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { demoArtwork, SlipPage } from './slip-page.ts';
import { startTestSite, type TestSite, type Visit } from './test-site.ts';

let site: TestSite;
let visit: Visit;
let hand: SlipPage;
/** What happens to each quote request; `null` lets it through. */
let hold: ((route: Route, pieces: number) => Promise<void>) | null;

beforeAll(async () => {
  site = await startTestSite();
});
afterAll(() => site?.close());
beforeEach(async () => {
  hold = null;
  visit = await site.visit('/', { widthPx: 1280, heightPx: 900 });
  hand = new SlipPage(visit.page);
  await visit.page.route('**/quotes', (route) => {
    const { slip } = route.request().postDataJSON() as {
      slip: { lines: { counts: { count: number }[] }[] };
    };
    const pieces = slip.lines.flatMap((line) => line.counts).reduce((sum, { count }) => sum + count, 0);
    return hold ? hold(route, pieces) : route.continue();
  });
  await hand.pickItem('Everyday cotton tee');
  await hand.count('M', 3);
  await hand.addArtwork(demoArtwork('kettle-roundel.png'));
  await hand.fresh();
});
afterEach(() => visit.leave());

const foot = () =>
  hand.slip.evaluate((slip) => {
    const root = slip.shadowRoot!;
    const answer = root.querySelector('.answer')!;
    return {
      total: root.querySelector<HTMLElement>('[part="total"]')!.innerText,
      stale: answer.hasAttribute('data-stale'),
      busy: answer.getAttribute('aria-busy') === 'true',
      mayOrder: root.querySelector<HTMLButtonElement>('[part="order-button"]')?.disabled === false,
    };
  });

it('an answer that arrives after a newer one is never shown', async () => {
  // A fetch that ignores abort signals; the answer for 40 pieces waits for the test.
  await visit.page.evaluate(() => {
    const bare = globalThis.fetch;
    const late = { asked: 0, answered: 0, release: (): void => {} };
    const released = new Promise<void>((done) => {
      late.release = done;
    });
    Object.assign(globalThis, { late });
    globalThis.fetch = async (input, init) => {
      if (!String(input instanceof Request ? input.url : input).endsWith('/quotes')) return bare(input, init);
      const { signal: _, ...rest } = init ?? {};
      const isLate = String(rest.body).includes('"count":40');
      if (isLate) late.asked++;
      const answer = await bare(input, rest);
      if (isLate) {
        await released;
        late.answered++;
      }
      return answer;
    };
    const seen: string[] = [];
    Object.assign(globalThis, { seen });
    const total = () =>
      document.querySelector('platen-order')!.shadowRoot!.querySelector<HTMLElement>('[part="total"]')!
        .innerText;
    const answer = () => document.querySelector('platen-order')!.shadowRoot!.querySelector('.answer')!;
    const look = (): void => {
      if (!answer().hasAttribute('data-stale')) seen.push(total());
      requestAnimationFrame(look);
    };
    look();
  });
  type Late = { readonly late: { asked: number; answered: number; release(): void } };
  const late = () =>
    visit.page.evaluate(() => {
      const { asked, answered } = (globalThis as unknown as Late).late;
      return { asked, answered };
    });
  const atThree = (await foot()).total;
  await hand.count('M', 40);
  await expect.poll(late).toEqual({ asked: 1, answered: 0 });
  await hand.count('M', 5);
  await hand.fresh();
  const atFive = (await foot()).total;
  await visit.page.evaluate(() => (globalThis as unknown as Late).late.release());
  await expect.poll(late).toEqual({ asked: 1, answered: 1 });
  await visit.page.waitForTimeout(150);
  expect(await foot()).toEqual({ total: atFive, stale: false, busy: false, mayOrder: true });
  const seen = await visit.page.evaluate(() => (globalThis as unknown as { seen: string[] }).seen);
  expect([...new Set(seen)]).toEqual([atThree, atFive]);
  expect(visit.faults).toEqual([]);
});

it('an outdated answer is marked while the new one is fetched, cannot be ordered, and is replaced in place', async () => {
  let release = (): void => {};
  const gate = new Promise<void>((done) => {
    release = done;
  });
  hold = async (route) => {
    await gate;
    await route.continue().catch(() => {});
  };
  const boxes = () =>
    hand.slip.evaluate((slip) =>
      [...slip.shadowRoot!.querySelectorAll('.foot, .answer .value, [part="method"], [part="ladder"]')].map(
        (part) => {
          const { x, y, height } = part.getBoundingClientRect();
          return [x, y, height].map(Math.round);
        },
      ),
    );
  const before = await foot();
  const placed = await boxes();
  await hand.count('M', 24);
  expect(await foot()).toEqual({ total: before.total, stale: true, busy: true, mayOrder: false });
  expect(await boxes()).toEqual(placed);
  release();
  await hand.fresh();
  expect((await foot()).total).not.toBe(before.total);
  expect(await boxes()).toEqual(placed);
});

it('a new request cancels the one before, and removing the slip cancels the last', async () => {
  const asked: number[] = [];
  const cancelled: string[] = [];
  // Only the last count is answered; requests before it stay open until the page cancels them.
  hold = async (route, pieces) => {
    asked.push(pieces);
    if (pieces === 14) await route.continue();
  };
  visit.page.on('requestfailed', (request) => {
    if (request.url().endsWith('/quotes')) cancelled.push(request.failure()?.errorText ?? '');
  });
  for (const count of [11, 12, 13, 14]) {
    await hand.count('M', count);
    if (count === 11) await expect.poll(() => asked).toEqual([11]);
  }
  await hand.fresh();
  expect(asked.at(-1)).toBe(14);
  await expect.poll(() => cancelled).toEqual(asked.slice(1).map(() => 'net::ERR_ABORTED'));
  await hand.count('M', 15);
  await expect.poll(() => asked.at(-1)).toBe(15);
  const before = cancelled.length;
  await hand.slip.evaluate((slip) => slip.remove());
  await expect.poll(() => cancelled.length).toBe(before + 1);
});

describe('findings and refusals that arrive late', () => {
  const LATE_MS = 1_100;
  /** Tops of the rows below the messages, px from the top of the slip. */
  const places = () =>
    hand.slip.evaluate((slip) => {
      const top = slip.shadowRoot!.querySelector('.slip')!.getBoundingClientRect().top;
      return [
        ...slip.shadowRoot!.querySelectorAll(
          '[part="finish"], [part="delivery"], .foot, .answer, .foot-acts',
        ),
      ].map((part) => part.getBoundingClientRect().top - top);
    });
  /** Moves of a pixel or more; a browser counts a layout shift from 3 on. */
  const moved = (before: readonly number[], now: readonly number[]): readonly number[] =>
    now.flatMap((top, index) => (Math.abs(top - before[index]!) < 1 ? [] : [top - before[index]!]));
  let mayAnswer = Promise.resolve();
  const late = async (route: Route): Promise<void> => {
    await Promise.all([mayAnswer, new Promise((done) => setTimeout(done, LATE_MS))]);
    await route.continue().catch(() => {});
  };
  const button = (within: string, name: string | RegExp) =>
    hand.slip.locator(within).getByRole('button', { name });

  beforeEach(async () => {
    // All of the slip is in view, so that every move is seen.
    await visit.page.setViewportSize({ width: 1280, height: 2400 });
  });

  it('a finding is one line with its severity, expands on a press, and keeps its space when it goes late', async () => {
    const { slip } = hand;
    // A restored slip: the page has no file to check by itself, and the customer has not acted yet.
    hold = late;
    let answer = (): void => {};
    mayAnswer = new Promise((done) => {
      answer = done;
    });
    await visit.page.reload();
    await slip.locator('.told', { hasText: 'Checking the artwork' }).waitFor();
    const before = await places();
    answer();
    await hand.fresh();
    await slip.locator('.told', { hasText: 'Artwork checked: no problems found' }).waitFor();
    expect(moved(before, await places())).toEqual([]);

    await hand.pickColor('Black');
    await hand.fresh();
    const line = slip.locator('.told');
    expect(await line.innerText()).toMatch(/^1 thing noticed\s+Please check /);
    expect(await slip.locator('[part="finding"]').count()).toBe(0);
    expect(moved(before, await places())).toEqual([]);

    const noticed = button('.told', '1 thing noticed');
    expect(await noticed.getAttribute('aria-expanded')).toBe('false');
    await noticed.focus();
    await visit.page.keyboard.press('Enter');
    await slip.locator('[part="finding"]', { hasText: 'Please check' }).waitFor();
    expect(await noticed.getAttribute('aria-expanded')).toBe('true');
    const unfolded = await places();
    expect(moved(before, unfolded)).not.toEqual([]);

    await hand.pickColor('White');
    await hand.fresh();
    await slip.locator('.told', { hasText: 'no problems found' }).waitFor();
    expect(await slip.locator('[part="finding"]').count()).toBe(0);
    expect(moved(unfolded, await places())).toEqual([]);
    await visit.page.keyboard.press('Shift');
    await hand.count('M', 4);
    await expect.poll(async () => moved(before, await places())).toEqual([]);
  });

  it('a refusal replaces the method and expands on a press; a prompt one expands by itself', async () => {
    const { slip } = hand;
    const fromCenter = async (inches: string) => {
      const field = slip.getByLabel(/^From center/);
      await field.fill(inches);
      await field.press('Enter');
    };
    const before = await places();
    hold = late;
    await fromCenter('6');
    const refusal = slip.locator('.foot [part="refusal"]');
    await refusal.filter({ hasText: 'extends past' }).waitFor();
    expect(await slip.locator('.foot .alert').count()).toBe(0);
    expect(moved(before, await places())).toEqual([]);
    await button('.foot', 'Why').click();
    await slip.locator('.foot .alert[part="refusal"] li').first().waitFor();
    expect(moved(before, await places())).not.toEqual([]);

    hold = null;
    await fromCenter('0');
    await hand.fresh();
    await hand.stopClock();
    await fromCenter('6');
    await slip.locator('.foot .alert[part="refusal"] li').first().waitFor();
  });
});
