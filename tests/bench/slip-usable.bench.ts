/** How soon the slip can be used, against a page with nothing but Lit on it. */
import type { Benchmark } from './harness.ts';
import { closeSlipRig, openHost, openSlipRig, type SlipRig } from './slip-rig.ts';

/** What the slip may take: this many times the bare page, and so much more. */
const TIMES = 1.2;
const MORE_MS = 50;

let rig: SlipRig;

/** From when: the page's first paint, or the browser asking for the page's script, which is before that. */
type Since = 'paint' | 'script';

/** Milliseconds until a first choice can be made: a field that is there, enabled and painted. Nothing is cached. */
async function usableAfter(which: 'slip' | 'bare', since: Since, slowdown: number): Promise<number> {
  const { page, context } = await openHost(rig, which, async (fresh) => {
    const client = await fresh.context().newCDPSession(fresh);
    await client.send('Emulation.setCPUThrottlingRate', { rate: slowdown });
    await fresh.addInitScript(
      (tag) => {
        const look = (): void => {
          const field = document.querySelector(tag)?.shadowRoot?.querySelector<HTMLInputElement>('input');
          const there = field && !field.disabled && field.getClientRects().length > 0;
          // the frame after the one that painted it
          requestAnimationFrame(there ? () => performance.mark('usable') : look);
        };
        requestAnimationFrame(look);
      },
      which === 'slip' ? 'platen-order' : 'bare-lit',
    );
  });
  const took = await page.waitForFunction(
    (from) => {
      const usable = performance.getEntriesByName('usable')[0];
      const [paint] = performance.getEntriesByName('first-paint');
      const script = performance
        .getEntriesByType('resource')
        .find((entry) => entry.name.includes('/widget/'));
      const began = from === 'paint' ? paint : script;
      return usable && began ? usable.startTime - began.startTime : 0;
    },
    since,
    { polling: 200 },
  );
  const ms = await took.jsonValue();
  await context.close();
  return ms;
}

function usableBenchmark(name: string, since: Since, slowdown: number): Benchmark {
  return {
    name,
    unit: `ms (the bare page's times ${TIMES} plus ${MORE_MS})`,
    goal: { ratioAtMost: 1 },
    rounds: 9,
    warmUps: 2,
    async setUp() {
      rig = await openSlipRig();
    },
    subject: () => usableAfter('slip', since, slowdown),
    baseline: async () => TIMES * (await usableAfter('bare', since, slowdown)) + MORE_MS,
    tearDown: closeSlipRig,
  };
}

export const benchmarks: readonly Benchmark[] = [
  usableBenchmark('slip-usable', 'paint', 1),
  usableBenchmark('slip-usable-since-script', 'script', 1),
  // as on a phone of some years ago
  usableBenchmark('slip-usable-slow', 'paint', 4),
];
