import { settle } from './fields/field-error.ts';

/** What the keyboard can come to. */
const STOPS = 'a, button, input:not([tabindex="-1"]), select, textarea, [tabindex="0"]';

/**
 * Draws anew, so that nobody loses their place: what got smaller late keeps its room until the next act, and where what
 * had the focus is gone, or cannot be used any more, what stands there now has it: of the same group, or else next to it.
 *
 * @param late the customer did nothing just now
 */
export function redraw(root: ShadowRoot, late: boolean, draw: () => void): void {
  const rooms = [...root.querySelectorAll<HTMLElement>('.room')];
  if (!late) for (const { style } of rooms) style.minHeight = '';
  const heights = late ? rooms.map((room) => room.offsetHeight) : [];
  const had = root.activeElement;
  const stops = (): HTMLElement[] => [...root.querySelectorAll<HTMLElement>(STOPS)];
  const before = had ? stops() : [];
  const group = had?.closest('[role="group"], fieldset');
  draw();
  if (had && (root.activeElement !== had || had.matches(':disabled'))) {
    const now = stops();
    const ahead = before.slice(0, Math.max(0, before.indexOf(had as HTMLElement)));
    const at = now.indexOf(ahead.findLast((stop) => now.includes(stop)) as HTMLElement) + 1;
    const near = [...now.slice(at), ...now.slice(0, at).reverse()];
    for (const stop of [...near.filter((one) => group?.contains(one)), ...near]) {
      stop.focus();
      if (root.activeElement === stop) break;
    }
  }
  settle(root);
  for (const [at, height] of heights.entries())
    if (rooms[at]!.offsetHeight < height) rooms[at]!.style.minHeight = `${height}px`;
}
