import { html, nothing } from 'lit';
import type { Fault } from '../../../src/contract/index.ts';

/** What the API says is wrong with a request. It is always English, and marked as such for screen readers. */
export const faultNotes = (faults: readonly Fault[]): unknown =>
  faults.length > 0
    ? html`<div class="note" lang="en" dir="ltr">${faults.slice(0, 3).map((fault) => html`<div>${fault.at}: ${fault.message}</div>`)}</div>`
    : nothing;
