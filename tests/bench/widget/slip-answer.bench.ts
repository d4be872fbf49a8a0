/** How soon a change to the slip is answered, with a warm API. */
import type { Page } from 'playwright';
import { demoArtwork, SlipPage } from '../../e2e/slip-page.ts';
import type { Benchmark } from '../harness.ts';
import { closeSlipSite, openHost, openSlipSite, type SlipSite, type Visited } from './slip-site.ts';

const CHANGES = 40;
const GOAL_MS = 100;

let site: SlipSite;
let visited: Visited;

const p95 = (figures: readonly number[]): number =>
  [...figures].sort((a, b) => a - b)[Math.floor(figures.length * 0.95)] ?? Number.NaN;

/**
 * The 95th percentile, over many changes (a count typed), of the milliseconds until the foot has painted the fresh
 * answer.
 */
async function changesAnswered(page: Page): Promise<number> {
  const took = await page.evaluate(async (changes) => {
    const slip = document.querySelector('platen-order')!;
    const root = slip.shadowRoot!;
    const field = root.querySelector<HTMLInputElement>('input.count')!;
    const painted = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
    const times: number[] = [];
    // Not by the total: two counts may have the same one.
    let answers = 0;
    slip.addEventListener('platen-quote', () => answers++);
    for (let n = 0; n < changes; n++) {
      answers = 0;
      const start = performance.now();
      field.value = String(4 + (n % 2) * 3 + n);
      field.dispatchEvent(new InputEvent('input', { bubbles: true, composed: true }));
      do {
        await painted();
        if (performance.now() - start > 5_000) throw new Error(`change ${n} was not answered`);
      } while (
        answers === 0 ||
        root.querySelector('.answer[data-stale], .answer[aria-busy="true"]') !== null
      );
      times.push(performance.now() - start);
      await new Promise((done) => setTimeout(done, 60));
    }
    return times;
  }, CHANGES);
  return p95(took);
}

/** The same requests made with bare fetch. */
async function bareAnswers(page: Page): Promise<number> {
  const took = await page.evaluate(async (changes) => {
    const slip = (document.querySelector('platen-order') as unknown as { slip: object }).slip;
    const times: number[] = [];
    for (let n = 0; n < changes; n++) {
      const asked = structuredClone(slip) as { lines: { counts: { count: number }[] }[] };
      asked.lines[0]!.counts[0]!.count = 4 + (n % 2) * 3 + n;
      const start = performance.now();
      const response = await fetch('/v1/shops/quill-and-kettle/quotes', {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ slip: asked, brief: false }),
      });
      await response.json();
      times.push(performance.now() - start);
      await new Promise((done) => setTimeout(done, 60));
    }
    return times;
  }, CHANGES);
  return p95(took);
}

export const benchmarks: readonly Benchmark[] = [
  {
    name: 'slip-answer-p95',
    unit: 'ms (bare fetch of the same)',
    goal: { valueAtMost: GOAL_MS },
    rounds: 5,
    warmUps: 1,
    async setUp() {
      site = await openSlipSite();
      visited = await openHost(site, 'slip');
      const hand = new SlipPage(visited.page);
      await hand.pickItem('Everyday cotton tee');
      await hand.count('M', 3);
      await hand.addArtwork(demoArtwork('kettle-roundel.png'));
      await hand.fresh();
    },
    subject: () => changesAnswered(visited.page),
    baseline: () => bareAnswers(visited.page),
    async tearDown() {
      await visited?.context.close();
      await closeSlipSite();
    },
  },
];
