import { html, nothing, type TemplateResult } from 'lit';
import type { SlipContext } from '../context.ts';

/** A message shown in one place of the slip, a line a sentence; screen readers are told when it changes. */
export function noticePart(ctx: SlipContext, key: string): TemplateResult {
  const text = ctx.notice(key);
  return html`<div class="memo ${text ? 'alert quiet' : ''}" role="status">${
    text ? text.split('\n').map((sentence) => html`<div>${sentence}</div>`) : nothing
  }</div>`;
}
