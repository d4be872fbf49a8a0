import { html, nothing, svg, type TemplateResult } from 'lit';
import { type DraftLine, nameAt } from '../draft/draft.ts';
import type { Lazy } from '../lazy.ts';
import type { LaterMessages } from '../locales/index.ts';
import type { StagePlacement } from '../stage/geometry/stage-types.ts';
import type { StageHost } from '../stage/stage-host.ts';
import { blankSvg } from '../stage/view/blank-svg.ts';
import type { PublicBlank, SlipContext } from './context.ts';

const NO_RASTER = { widthPx: 1, heightPx: 1 } as const;

/** The drawing's side: the blank of the active line, to scale, and the choice of its faces. */
export function drawingPart(ctx: SlipContext, host: StageHost, words: Lazy<LaterMessages>): TemplateResult {
  const { ui } = ctx.words;
  const line = ctx.draft.lines.find((entry) => entry.id === ctx.activeLine) ?? ctx.draft.lines[0];
  const blank = (line && ctx.blankOf(line)) ?? ctx.catalog.blanks[0];
  const { stage } = host;
  if (!line || !blank) return html`<div class="drawing" part="drawing"><div class="stage-room"></div></div>`;
  const face = blank.faces.find((entry) => entry.id === ctx.activeFace) ?? blank.faces[0];
  const view = blank.views.find((entry) => entry.id === face?.onView.view) ?? blank.views[0];
  if (line.placements.length > 0 || line.names) host.fetch();
  if (stage && view) {
    stage.view = view;
    stage.faces = blank.faces;
    stage.face = face?.id ?? '';
    stage.sizes = sizesOf(line);
    stage.clothHex =
      blank.colors.find((color) => color.id === line.color)?.hex ?? blank.colors[0]?.hex ?? '#ffffff';
    stage.readonly = ctx.disabled || ctx.ordering || !line.blank;
    stage.selected = ctx.selected;
    stage.say = ctx.format;
    stage.words = words.value?.stage ?? stage.words;
    stage.placements = placementsOf(ctx, line, blank);
  }
  return html`<div class="drawing" part="drawing">
    ${stage ?? placeholderDrawing(ctx, line, view, face, host)}
    <div class="views no-print" role=${blank.faces.length > 1 ? 'radiogroup' : nothing} aria-label=${blank.faces.length > 1 ? ui('face') : nothing}>
      ${
        blank.faces.length > 1
          ? blank.faces.map(
              (entry) => html`<label><input type="radio" name="face" .checked=${entry.id === face?.id}
                @change=${() => ctx.activate(line.id, entry.id, null)} />${ctx.text(entry.name)}</label>`,
            )
          : nothing
      }
      <button class="plain" type="button" @click=${() => ctx.setUnits(ctx.units === 'in' ? 'mm' : 'in')}>${ui(ctx.units === 'in' ? 'millimeters' : 'inches')}</button>
    </div>
  </div>`;
}

/** The blank without the stage's tools, which are loaded when the customer comes near. */
function placeholderDrawing(
  ctx: SlipContext,
  line: DraftLine,
  view: PublicBlank['views'][number] | undefined,
  face: PublicBlank['faces'][number] | undefined,
  host: StageHost,
): TemplateResult {
  const load = (): void => host.fetch();
  const hex =
    ctx.blankOf(line)?.colors.find((color) => color.id === line.color)?.hex ??
    ctx.blankOf(line)?.colors[0]?.hex ??
    '#ffffff';
  return html`<div class="stage-room" @pointerenter=${load} @focusin=${load} @dragenter=${load} @touchstart=${{ handleEvent: load, passive: true }}>
    ${
      view
        ? html`<svg viewBox="${-view.widthMm * 0.06} ${-view.heightMm * 0.06} ${view.widthMm * 1.12} ${view.heightMm * 1.12}" role="img" aria-label=${ctx.text(view.name)}>
            ${blankSvg(view, hex)}
            ${
              face && line.blank
                ? svg`<rect class="area" x=${face.onView.xMm - face.widthMm / 2} y=${face.onView.yMm} width=${face.widthMm} height=${face.heightMm} fill="none"></rect>`
                : nothing
            }</svg>`
        : nothing
    }
  </div>`;
}

/** The last placements of each line: the stage is given the same array, and does not redraw, unless they changed. */
const cache = new WeakMap<DraftLine, { key: string; placements: readonly StagePlacement[] }>();

function sizesOf(line: DraftLine): readonly string[] {
  return line.counts.map((entry) => entry.size);
}

function placementsOf(ctx: SlipContext, line: DraftLine, blank: PublicBlank): readonly StagePlacement[] {
  const placements: StagePlacement[] = line.placements
    .filter((placement) => blank.faces.some((face) => face.id === placement.face))
    .map((placement) => {
      const item = ctx.library.item(placement.artwork);
      const facts = ctx.library.factsOf(placement.artwork, placement.remedies);
      return {
        id: placement.id,
        face: placement.face,
        name: item?.name || ctx.words.ui('artwork'),
        source: ctx.library.previewOf(placement.artwork, placement.remedies),
        raster: facts ? { widthPx: facts.widthPx, heightPx: facts.heightPx } : NO_RASTER,
        inkBox: facts?.inkBox ?? null,
        xMm: placement.xMm,
        yMm: placement.yMm,
        widthMm: placement.widthMm,
        angleDeg: placement.angleDeg,
      };
    });
  const { names } = line;
  const name = names ? nameAt(names, ctx.shownName(line.id)) : '';
  const preview = names && ctx.previewName(names, name);
  if (names && preview && blank.faces.some((face) => face.id === names.face)) {
    const { picture, ...position } = preview;
    placements.push({
      ...position,
      id: names.id,
      face: names.face,
      name,
      source: picture.address,
      raster: picture,
      inkBox: null,
    });
  }
  const key = JSON.stringify(placements);
  const cached = cache.get(line);
  if (cached?.key === key) return cached.placements;
  cache.set(line, { key, placements });
  return placements;
}
