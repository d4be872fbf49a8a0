/**
 * Brings what has the focus to rest above the slip's foot, however tall the foot is just now: a browser takes what lies
 * under a sticky element for seen (WCAG 2.2, 2.4.11).
 */
export function clearOfFoot(event: FocusEvent): void {
  const at = event.target as HTMLElement;
  const foot = at.closest('.slip')?.querySelector<HTMLElement>('.foot');
  if (!foot || foot.contains(at) || !at.matches(':focus-visible')) return;
  const box = (at.closest('label') ?? at).getBoundingClientRect();
  if (box.bottom <= foot.getBoundingClientRect().top) return;
  at.style.scrollMarginBlockEnd = `${foot.offsetHeight + 12}px`;
  at.scrollIntoView({ block: 'nearest' });
}
