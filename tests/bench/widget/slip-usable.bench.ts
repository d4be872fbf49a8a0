/** How soon the slip can be used, against a page with nothing but Lit on it. */
import type { Benchmark } from '../harness.ts';
import { closeSlipSite, openHost, openSlipSite, type SlipSite } from './slip-site.ts';

/** What the slip may take: this many times the bare page, and so much more of the machine's time. */
const TIMES = 1.2;
const MORE_MS = 50;

let rig: SlipSite;

/** From when: the page's first paint, or the browser asking for the page's script, which is before that. */
type Since = 'paint' | 'script';

/**
 * Milliseconds until a first choice can be made: a field that is there, enabled and painted. Nothing is cached. The page
 * looks by itself and tells the time by its console: whatever the browser's driver runs in the page would run on the
 * page's own time.
 */
async function usableAfter(which: 'slip' | 'bare', since: Since, slowdown: number): Promise<number> {
  let tell: (ms: number) => void = () => {};
  const told = new Promise<number>((resolve) => {
    tell = resolve;
  });
  const { context } = await openHost(rig, which, async (fresh) => {
    fresh.on('console', (message) => {
      const [, ms] = /^usable after (.+)$/.exec(message.text()) ?? [];
      if (ms) tell(Number(ms));
    });
    const client = await fresh.context().newCDPSession(fresh);
    await client.send('Emulation.setCPUThrottlingRate', { rate: slowdown });
    await fresh.addInitScript(
      ([tag, from]) => {
        const sayOf = (usable: number): void => {
          const [paint] = performance.getEntriesByName('first-paint');
          const script = performance
            .getEntriesByType('resource')
            .find((entry) => entry.name.includes('/widget/'));
          const began = from === 'paint' ? paint : script;
          // a paint is told of a moment after it was
          if (began) console.info(`usable after ${usable - began.startTime}`);
          else setTimeout(sayOf, 20, usable);
        };
        const look = (): void => {
          const field = document.querySelector(tag)?.shadowRoot?.querySelector<HTMLInputElement>('input');
          const there = field && !field.disabled && field.getClientRects().length > 0;
          // the frame after the one that painted it
          requestAnimationFrame(there ? sayOf : look);
        };
        requestAnimationFrame(look);
      },
      [which === 'slip' ? 'platen-order' : 'bare-lit', since] as const,
    );
  });
  const ms = await told;
  await context.close();
  return ms;
}

function usableBenchmark(name: string, since: Since, slowdown: number): Benchmark {
  // a machine so much slower takes so much longer for the same
  const more = MORE_MS * slowdown;
  return {
    name,
    unit: `ms (the bare page's times ${TIMES} plus ${more})`,
    goal: { ratioAtMost: 1 },
    rounds: 9,
    warmUps: 2,
    async setUp() {
      rig = await openSlipSite();
    },
    subject: () => usableAfter('slip', since, slowdown),
    baseline: async () => TIMES * (await usableAfter('bare', since, slowdown)) + more,
    tearDown: closeSlipSite,
  };
}

export const benchmarks: readonly Benchmark[] = [
  usableBenchmark('slip-usable', 'paint', 1),
  usableBenchmark('slip-usable-since-script', 'script', 1),
  // as on a phone of some years ago
  usableBenchmark('slip-usable-slow', 'paint', 4),
];
