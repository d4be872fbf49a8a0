import type { Page } from 'playwright';

/** tsx compiles functions into calls of a helper, `__name`, which pages do not have: defines it there. */
export async function defineNameHelper(page: Page): Promise<void> {
  await page.addInitScript('globalThis.__name = (made) => made');
}
