import { html, nothing, type TemplateResult } from 'lit';
import type { Finding } from '../../../src/contract/index.ts';
import type { ArtworkItem } from '../../artwork/artwork-item.ts';
import type { DraftLine, DraftPlacement } from '../../draft/draft.ts';
import type { ShopProblem } from '../../shop/shop-api.ts';
import type { SlipContext } from '../context.ts';
import { findingPart } from './finding.ts';

const SEVERITIES = ['note', 'warning', 'stops'] as const;

/** One message about an artwork. */
export type ArtworkMessage = {
  readonly id: string;
  readonly severity: (typeof SEVERITIES)[number];
  readonly title: string;
  readonly text: string;
  /** the expanded message. */
  readonly whole: TemplateResult;
  /** what the customer can do about it, also while it is collapsed. */
  readonly action?: TemplateResult | typeof nothing;
};

/** All messages about a placement's artwork, worst first; `checking` is null where nothing is known or asked for. */
export function collectMessages(
  ctx: SlipContext,
  line: DraftLine,
  placement: DraftPlacement,
): { readonly messages: readonly ArtworkMessage[]; readonly checking: boolean | null } {
  const { ui } = ctx.words;
  const hex = ctx.blankOf(line)?.colors.find((color) => color.id === line.color)?.hex ?? '#ffffff';
  const answered = answerFor(ctx, line.id, placement.id)?.findings;
  // The page checks a new cloth or size at once; the shop's findings replace its own as soon as they come.
  const isFresh = ctx.quote.isFresh && answered;
  const local = isFresh ? null : localFindings(ctx, line, placement, hex);
  const item = ctx.library.item(placement.artwork);
  const messages = (local ?? answered ?? [])
    .filter((finding) => finding.code !== 'source-note')
    .map((finding): ArtworkMessage => {
      const title = ui(`severity-${finding.worst}`, { methods: stoppedMethods(finding) });
      const text = ctx.words.finding(finding);
      const whole = findingPart(ctx, line, placement, finding, hex, title, text);
      return { id: finding.code, severity: finding.worst, title, text, whole };
    });
  for (const note of item?.source?.notes ?? []) {
    const text = ctx.words.note(note.code, note);
    const whole = html`<p class="note">${text}</p>`;
    messages.push({ id: note.code, severity: 'note', title: ui('severity-note'), text, whole });
  }
  if (item?.problem) messages.push(uploadProblem(ctx, item, item.problem));
  messages.sort((one, other) => SEVERITIES.indexOf(other.severity) - SEVERITIES.indexOf(one.severity));
  const checking = local || isFresh ? false : ctx.quote.isLoading || item?.state === 'sending' || null;
  return { messages, checking };
}

/** Why the file has not reached the shop. */
function uploadProblem(ctx: SlipContext, item: ArtworkItem, problem: ShopProblem): ArtworkMessage {
  const text = ctx.words.problem(problem.code);
  const action =
    item.state === 'failed'
      ? html`<button class="plain" type="button" @click=${() => ctx.library.retry(item.id)}>${ctx.words.ui('try-again')}</button>`
      : nothing;
  return {
    id: problem.code,
    action,
    severity: 'stops',
    title: '',
    text,
    whole: html`<div class="alert" role="alert">${text}
      ${problem.code === 'offline' ? nothing : html`<div class="note" lang="en" dir="ltr">${problem.message}</div>`}
      ${action}
    </div>`,
  };
}

/** What the page's own run of the check finds; null while it is not known. */
function localFindings(
  ctx: SlipContext,
  line: DraftLine,
  placement: DraftPlacement,
  hex: string,
): readonly Finding[] | null {
  const blank = ctx.blankOf(line);
  const face = blank?.faces.find((entry) => entry.id === placement.face);
  if (!blank || !face) return null;
  // The shop checks for the method it chooses. Until that is known, show only what holds for every method.
  const chosen = answerFor(ctx, line.id, placement.id)?.method?.id;
  const methods = ctx.catalog.methods.filter((method) =>
    chosen ? method.id === chosen : method.limits.surfaces.includes(face.surface),
  );
  const found = ctx.library.localFindings(placement.artwork, placement.remedies, {
    clothHex: hex,
    placedWidthMm: placement.widthMm,
    breathes: !blank.use.includes('drinkware'),
    methods: methods.map((method) => ({ id: method.id, ...method.limits })),
  });
  return found?.filter(({ severity }) => methods.every(({ id }) => severity[id])) ?? null;
}

type PlacementAnswer = { readonly findings: readonly Finding[]; readonly method?: { readonly id: string } };

/** What the last answer says of a placement; undefined where the answer does not include it. */
function answerFor(ctx: SlipContext, line: string, placement: string): PlacementAnswer | undefined {
  const { answer } = ctx.quote;
  return answer?.kind === 'refusal'
    ? answer.findings.find((entry) => entry.line === line && entry.placement === placement)
    : answer?.lines.find((entry) => entry.id === line)?.placements.find((entry) => entry.id === placement);
}

/** Ids of the methods that cannot print it as it is. */
const stoppedMethods = (finding: Finding): string[] =>
  Object.entries(finding.severity).flatMap(([method, severity]) => (severity === 'stops' ? [method] : []));
