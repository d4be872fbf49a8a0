import { html, nothing } from 'lit';
import type { Fault } from '../../../src/contract/index.ts';

/** The shop's own words on what was wrong with a request. They are English whatever the slip speaks, and marked so. */
export const faultNotes = (faults: readonly Fault[]): unknown =>
  faults.length > 0
    ? html`<div class="note" lang="en" dir="ltr">${faults.slice(0, 3).map((fault) => html`<div>${fault.at}: ${fault.message}</div>`)}</div>`
    : nothing;
