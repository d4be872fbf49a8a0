import type { Page } from 'playwright';

/** The compiler that runs the benchmarks names functions by a helper that a page has not got: gives it one. */
export async function defineNameHelper(page: Page): Promise<void> {
  await page.addInitScript('globalThis.__name = (made) => made');
}
