import type { Page } from 'playwright';
import type { Draft, DraftPlacement } from '../../widget/draft/draft.ts';

/** The slip's draft, parsed from its form value. */
export async function draftOn(page: Page): Promise<Draft> {
  return JSON.parse(await valueOn(page)) as Draft;
}

/** The slip's form value; empty while the slip is. */
export function valueOn(page: Page): Promise<string> {
  return page.evaluate(() => (document.querySelector('platen-order') as unknown as { value: string }).value);
}

/** A placement of the slip. @param line, placement counted from 0 */
export async function placementOn(page: Page, line = 0, placement = 0): Promise<DraftPlacement> {
  const found = (await draftOn(page)).lines[line]?.placements[placement];
  if (!found) throw new Error(`the slip has no placement ${placement} on line ${line}`);
  return found;
}
