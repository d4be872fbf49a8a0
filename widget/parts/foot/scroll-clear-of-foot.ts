/**
 * Scrolls the focused element out from under the sticky foot. Browsers count an element beneath a sticky one as
 * visible, and do not scroll to it (WCAG 2.2, 2.4.11).
 */
export function scrollClearOfFoot(event: FocusEvent): void {
  const target = event.target as HTMLElement;
  const foot = target.closest('.slip')?.querySelector<HTMLElement>('.foot');
  if (!foot || foot.contains(target) || !target.matches(':focus-visible')) return;
  const box = (target.closest('label') ?? target).getBoundingClientRect();
  if (box.bottom <= foot.getBoundingClientRect().top) return;
  target.style.scrollMarginBlockEnd = `${foot.offsetHeight + 12}px`;
  target.scrollIntoView({ block: 'nearest' });
}
