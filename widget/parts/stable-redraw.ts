import { clearStaleErrors } from './fields/field-error.ts';

/** Elements the keyboard can focus. */
const FOCUSABLE = 'a, button, input:not([tabindex="-1"]), select, textarea, [tabindex="0"]';

/**
 * Redraws without making the customer lose their place. After a late redraw, areas that got smaller keep their height
 * until the customer's next action. If the focused element is gone or disabled, the focus goes to the next focusable one
 * in its group, or else nearby.
 *
 * @param late not caused by what the customer just did
 */
export function redraw(root: ShadowRoot, late: boolean, draw: () => void): void {
  const areas = [...root.querySelectorAll<HTMLElement>('.room')];
  if (!late) for (const { style } of areas) style.minHeight = '';
  const heights = late ? areas.map((area) => area.offsetHeight) : [];
  const focused = root.activeElement;
  const focusable = (): HTMLElement[] => [...root.querySelectorAll<HTMLElement>(FOCUSABLE)];
  const before = focused ? focusable() : [];
  const group = focused?.closest('[role="group"], fieldset');
  draw();
  if (focused && (root.activeElement !== focused || focused.matches(':disabled'))) {
    const now = focusable();
    const ahead = before.slice(0, Math.max(0, before.indexOf(focused as HTMLElement)));
    const at = now.indexOf(ahead.findLast((element) => now.includes(element)) as HTMLElement) + 1;
    const near = [...now.slice(at), ...now.slice(0, at).reverse()];
    for (const element of [...near.filter((one) => group?.contains(one)), ...near]) {
      element.focus();
      if (root.activeElement === element) break;
    }
  }
  clearStaleErrors(root);
  for (const [at, height] of heights.entries())
    if (areas[at]!.offsetHeight < height) areas[at]!.style.minHeight = `${height}px`;
}
