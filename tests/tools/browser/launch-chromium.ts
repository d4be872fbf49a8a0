import { type Browser, chromium } from 'playwright';
import { BROWSER_FLAGS, type FoundBrowser, findBrowser } from './find-browser.ts';

/** Launches the Chromium of this run, or, outside a test run, the one that is found. */
export async function launchChromium(flags: readonly string[] = []): Promise<Browser> {
  const { executablePath, env } = await theBrowser();
  const inherited = Object.entries({ ...process.env, ...env }).filter(([, value]) => value !== undefined);
  return chromium.launch({
    executablePath,
    args: [...BROWSER_FLAGS, ...flags],
    env: Object.fromEntries(inherited) as Record<string, string>,
  });
}

async function theBrowser(): Promise<FoundBrowser> {
  if (process.env['VITEST'] === undefined) return findBrowser();
  const { inject } = await import('vitest');
  // Provided only to the project that drives browsers.
  return (inject('browser') as FoundBrowser | undefined) ?? findBrowser();
}
