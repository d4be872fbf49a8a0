/** How soon the slip can be used, against a page with nothing but Lit on it. */
import type { Benchmark } from '../harness.ts';
import { closeSlipSite, openHost, openSlipSite, type SlipSite } from './slip-site.ts';

/** What the slip may take: this many times the bare page, plus so many milliseconds of processor time. */
const TIMES = 1.2;
const MORE_MS = 50;

let site: SlipSite;

/** Where the time starts: the page's first paint, or the request of the page's script, which comes before it. */
type Since = 'paint' | 'script';

/**
 * Milliseconds until a first choice can be made: a field is present, enabled and painted. Nothing is cached. The page
 * measures itself and reports through its console: code that Playwright runs in the page would count as the page's.
 */
async function usableAfter(which: 'slip' | 'bare', since: Since, slowdown: number): Promise<number> {
  let tell: (ms: number) => void = () => {};
  const told = new Promise<number>((resolve) => {
    tell = resolve;
  });
  const { context } = await openHost(site, which, async (fresh) => {
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
          // A paint is reported a moment after it happened.
          if (began) console.info(`usable after ${usable - began.startTime}`);
          else setTimeout(sayOf, 20, usable);
        };
        const look = (): void => {
          const field = document.querySelector(tag)?.shadowRoot?.querySelector<HTMLInputElement>('input');
          const there = field && !field.disabled && field.getClientRects().length > 0;
          // The frame after the one that painted it.
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
  // A machine so many times slower takes so many times longer.
  const more = MORE_MS * slowdown;
  return {
    name,
    unit: `ms (the bare page's times ${TIMES} plus ${more})`,
    goal: { ratioAtMost: 1 },
    rounds: 9,
    warmUps: 2,
    async setUp() {
      site = await openSlipSite();
    },
    subject: () => usableAfter('slip', since, slowdown),
    baseline: async () => TIMES * (await usableAfter('bare', since, slowdown)) + more,
    tearDown: closeSlipSite,
  };
}

export const benchmarks: readonly Benchmark[] = [
  usableBenchmark('slip-usable', 'paint', 1),
  usableBenchmark('slip-usable-since-script', 'script', 1),
  // Like a phone of some years ago.
  usableBenchmark('slip-usable-slow', 'paint', 4),
];
