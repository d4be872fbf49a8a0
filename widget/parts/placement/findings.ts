import { html, nothing, type TemplateResult } from 'lit';
import type { Finding, Remedy } from '../../../src/contract/index.ts';
import type { ShelfItem } from '../../artwork/artwork-library.ts';
import { keepInPlace } from '../../artwork/keep-in-place.ts';
import type { DraftLine, DraftPlacement } from '../../draft/draft.ts';
import type { ShopProblem } from '../../shop/shop-api.ts';
import type { SlipContext } from '../context.ts';

const alike = (a: readonly Remedy[], b: readonly Remedy[]): boolean =>
  JSON.stringify(a) === JSON.stringify(b);

const SEVERITY = ['note', 'warning', 'stops'] as const;

/** Something to be told of an artwork: how bad it is, its words, and what stands there once it is unfolded. */
type Told = {
  readonly id: string;
  readonly worst: (typeof SEVERITY)[number];
  readonly title: string;
  readonly words: string;
  readonly whole: TemplateResult;
  /** what can be done about it, folded or not. */
  readonly act?: TemplateResult | typeof nothing;
};

/**
 * What the check of the artwork noticed, beside the artwork, with mends to try before and after. One line is always
 * there; what comes late is told in it and unfolds on a press, so that nothing below moves.
 */
export function findingsOf(ctx: SlipContext, line: DraftLine, placement: DraftPlacement): TemplateResult {
  const { ui, remedy } = ctx.words;
  const place = `found ${line.id} ${placement.id}`;
  const { told, checking } = toldOf(ctx, line, placement);
  const shown = ctx.unfolding.among(
    place,
    told.map(({ id }) => id),
  );
  const folded = told.find(({ id }) => !shown.has(id));
  return html`<div class="found room">
    <div class="told ${folded?.worst}">${
      told.length > 0
        ? html`<button class="plain" type="button" aria-expanded=${!folded} @click=${() => ctx.unfolding.set(place, folded !== undefined)}>${ui('noticed', { count: told.length })}</button>${
            folded
              ? html`<span role=${folded.title ? nothing : 'alert'}><strong>${folded.title}</strong> ${folded.words}</span>${folded.act}`
              : nothing
          }`
        : checking
          ? html`<span>${ui('checking')}</span>`
          : checking === false
            ? html`<span class="good">${ui('no-findings')}</span>`
            : nothing
    }</div>
    ${
      placement.remedies.length > 0
        ? html`<p class="note">${ui('mended')}:
          ${placement.remedies.map(
            (applied, index) => html`${remedy(applied.kind)}
              <button class="plain" type="button" ?disabled=${ctx.disabled} aria-label=${`${ui('take-back')}: ${remedy(applied.kind)}`}
                @click=${() =>
                  mend(
                    ctx,
                    line,
                    placement,
                    placement.remedies.filter((_, at) => at !== index),
                  )}>${ui('take-back')}</button>`,
          )}</p>`
        : nothing
    }
    ${told.map(({ id, whole }) => (shown.has(id) ? whole : nothing))}
  </div>`;
}

/** All there is to tell, the worst first; `checking` is null where nothing is known and nobody was asked. */
function toldOf(
  ctx: SlipContext,
  line: DraftLine,
  placement: DraftPlacement,
): { readonly told: readonly Told[]; readonly checking: boolean | null } {
  const { ui } = ctx.words;
  const hex = ctx.blankOf(line)?.colors.find((color) => color.id === line.color)?.hex ?? '#ffffff';
  const answered = answeredFor(ctx, line.id, placement.id)?.findings;
  // the page sees at once what the shop will say of another cloth or size; the shop's word goes before its own
  const sure = ctx.quote.fresh && answered;
  const here = sure ? null : findingsHere(ctx, line, placement, hex);
  const item = ctx.shelf.item(placement.artwork);
  const told = (here ?? answered ?? [])
    .filter((finding) => finding.code !== 'source-note')
    .map((finding): Told => {
      const title = ui(`severity-${finding.worst}`, { methods: stoppedBy(finding) });
      const words = ctx.words.finding(finding);
      const whole = findingPart(ctx, line, placement, finding, hex, title, words);
      return { id: finding.code, worst: finding.worst, title, words, whole };
    });
  for (const note of item?.source?.notes ?? []) {
    const words = ctx.words.note(note.code, note);
    told.push({
      id: note.code,
      worst: 'note',
      title: ui('severity-note'),
      words,
      whole: html`<p class="note">${words}</p>`,
    });
  }
  if (item?.problem) told.push(problemOf(ctx, item, item.problem));
  told.sort((one, other) => SEVERITY.indexOf(other.worst) - SEVERITY.indexOf(one.worst));
  return { told, checking: here || sure ? false : ctx.quote.working || item?.state === 'sending' || null };
}

/** Why the shop has not got the file. */
function problemOf(ctx: SlipContext, item: ShelfItem, problem: ShopProblem): Told {
  const words = ctx.words.problem(problem.code);
  const act =
    item.state === 'failed'
      ? html`<button class="plain" type="button" @click=${() => ctx.shelf.retry(item.id)}>${ctx.words.ui('try-again')}</button>`
      : nothing;
  return {
    id: problem.code,
    act,
    worst: 'stops',
    title: '',
    words,
    whole: html`<div class="alert" role="alert">${words}
      ${problem.code === 'offline' ? nothing : html`<div class="note" lang="en" dir="ltr">${problem.message}</div>`}
      ${act}
    </div>`,
  };
}

/** Puts on other mends; the motif stays where it is. */
function mend(ctx: SlipContext, line: DraftLine, placement: DraftPlacement, remedies: Remedy[]): void {
  const before = ctx.shelf.knownFacts(placement.artwork, placement.remedies);
  const after = ctx.shelf.knownFacts(placement.artwork, remedies);
  ctx.changePlacement(line.id, placement.id, (old) => ({
    ...(before && after ? keepInPlace(old, before, after) : old),
    remedies,
  }));
}

/** What the page found by itself, with the same check; null while not known. */
function findingsHere(
  ctx: SlipContext,
  line: DraftLine,
  placement: DraftPlacement,
  hex: string,
): readonly Finding[] | null {
  const blank = ctx.blankOf(line);
  const face = blank?.faces.find((entry) => entry.id === placement.face);
  if (!blank || !face) return null;
  // the shop judges by the method it chooses; while none is known, only what every method would say is sure to stay
  const chosen = answeredFor(ctx, line.id, placement.id)?.method?.id;
  const methods = ctx.catalog.methods.filter((method) =>
    chosen ? method.id === chosen : method.limits.surfaces.includes(face.surface),
  );
  const found = ctx.shelf.findingsHere(placement.artwork, placement.remedies, {
    clothHex: hex,
    placedWidthMm: placement.widthMm,
    breathes: !blank.use.includes('drinkware'),
    methods: methods.map((method) => ({ id: method.id, ...method.limits })),
  });
  return found?.filter(({ severity }) => methods.every(({ id }) => severity[id])) ?? null;
}

type Answered = { readonly findings: readonly Finding[]; readonly method?: { readonly id: string } };

/** What the last answer says of a placement; undefined where it is not in it. */
function answeredFor(ctx: SlipContext, line: string, placement: string): Answered | undefined {
  const { answer } = ctx.quote;
  return answer?.kind === 'refusal'
    ? answer.findings.find((entry) => entry.line === line && entry.placement === placement)
    : answer?.lines.find((entry) => entry.id === line)?.placements.find((entry) => entry.id === placement);
}

function findingPart(
  ctx: SlipContext,
  line: DraftLine,
  placement: DraftPlacement,
  finding: Finding,
  hex: string,
  title: string,
  words: string,
): TemplateResult {
  const { ui, remedy } = ctx.words;
  return html`<div class="finding ${finding.worst}" part="finding">
    <strong>${title}</strong> ${words}
    ${finding.remedies.map((offer, index) => {
      const mended = [...placement.remedies, offer];
      const key = `mend ${line.id} ${placement.id} ${finding.code} ${index}`;
      const open = ctx.isOpen(key);
      if (placement.remedies.some((applied) => alike([applied], [offer]))) return nothing;
      return html`<div>
        <button class="plain" type="button" aria-expanded=${open} ?disabled=${ctx.disabled}
          @click=${() => ctx.toggle(key)}>${remedy(offer.kind)}</button>
        ${
          open
            ? html`<div class="beforeafter">
                ${picture(ui('before'), ctx.shelf.previewOf(placement.artwork, placement.remedies), hex)}
                ${picture(ui('after'), ctx.shelf.previewOf(placement.artwork, mended), hex)}
              </div>
              <button class="box" type="button" aria-label=${`${ui('apply')}: ${remedy(offer.kind)}`}
                ?disabled=${ctx.disabled || !ctx.shelf.knownFacts(placement.artwork, mended)}
                @click=${() => {
                  ctx.toggle(key, false);
                  mend(ctx, line, placement, mended);
                }}>${ui('apply')}</button>`
            : nothing
        }
      </div>`;
    })}
  </div>`;
}

/** Methods that cannot print it like this. */
const stoppedBy = (finding: Finding): string[] =>
  Object.entries(finding.severity).flatMap(([method, severity]) => (severity === 'stops' ? [method] : []));

/** A picture on a swatch of the cloth; an SVG rectangle carries the color, so that no style attribute is needed. */
function picture(title: string, address: string | null, hex: string): TemplateResult {
  return html`<figure><svg class="swab" viewBox="0 0 120 90" role="img" aria-label=${title}>
    <rect width="120" height="90" fill=${hex}></rect>
    <image x="6" y="6" width="108" height="78" href=${address ?? ''}></image></svg>
    <figcaption>${title}</figcaption></figure>`;
}
