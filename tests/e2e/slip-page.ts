import { fileURLToPath } from 'node:url';
import type { Locator, Page } from 'playwright';

/** Path of one of the demo shop's artworks. */
export const demoArtwork = (name: string): string =>
  fileURLToPath(new URL(`../../demo/artwork/${name}`, import.meta.url));

/** Page object of the slip: what a customer does, by labels and roles. */
export class SlipPage {
  readonly page: Page;
  readonly slip: Locator;

  constructor(page: Page) {
    this.page = page;
    // Playwright must listen for file choosers from the start, or the first may be missed.
    page.on('filechooser', () => {});
    this.slip = page.locator('platen-order');
  }

  pickItem(name: string): Promise<void> {
    return this.slip.getByRole('radio', { name, exact: true }).first().check();
  }

  pickColor(name: string): Promise<void> {
    return this.slip.getByRole('group', { name: 'Color' }).getByRole('radio', { name, exact: true }).check();
  }

  count(size: string, count: number): Promise<void> {
    return this.slip
      .getByRole('group', { name: 'Sizes' })
      .getByRole('textbox', { name: new RegExp(`^${size}( |$)`) })
      .fill(String(count));
  }

  async addArtwork(...files: string[]): Promise<void> {
    const chooser = this.page.waitForEvent('filechooser');
    await this.slip.getByRole('button', { name: 'Add artwork' }).click();
    await (await chooser).setFiles(files);
  }

  pickFinish(name: string): Promise<void> {
    return this.slip
      .getByRole('group', { name: 'Finish' })
      .getByRole('radio', { name: new RegExp(`^${name}`) })
      .check();
  }

  /** Text of a part of the foot, once the answer is fresh. */
  async answer(part: 'method' | 'unit-price' | 'total' | 'ready-day'): Promise<string> {
    await this.fresh();
    return (await this.slip.locator(`[part="${part}"]`).innerText()).trim();
  }

  /** Waits until the foot shows an answer for the slip as it is. */
  async fresh(): Promise<void> {
    await this.page.waitForFunction(() => {
      const root = document.querySelector('platen-order')?.shadowRoot;
      const answer = root?.querySelector('.foot .answer');
      const order = root?.querySelector<HTMLButtonElement>('[part="order-button"], [part="place-order"]');
      return (
        answer !== null &&
        answer?.getAttribute('aria-busy') === 'false' &&
        !answer.hasAttribute('data-stale') &&
        order !== null &&
        order?.disabled === false
      );
    });
  }

  /**
   * Stops the page's clock of performance.now(), so that whatever comes next counts as prompt, however long it takes:
   * what comes more than 0.4 s after the customer's last act does not expand by itself. Timers still run.
   */
  async stopClock(): Promise<void> {
    await this.page.evaluate(() => {
      const now = performance.now();
      performance.now = () => now;
    });
  }

  /** Places an order for the finished slip; returns its number. */
  async order(name: string, email: string): Promise<string> {
    await this.fresh();
    await this.slip.getByRole('button', { name: 'Continue to order' }).click();
    await this.slip.getByLabel('Name', { exact: true }).fill(name);
    await this.slip.getByLabel('Email').fill(email);
    await this.slip.locator('[part="order"] img').first().waitFor();
    await this.slip.getByRole('checkbox', { name: /I have checked the proof/ }).check();
    await this.slip.getByRole('button', { name: /^Order for/ }).click();
    const stamp = this.slip.locator('.stamp');
    await stamp.waitFor();
    return (await stamp.innerText()).replace(/^Order\s+/, '').trim();
  }
}
