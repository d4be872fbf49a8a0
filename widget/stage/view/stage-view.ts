/** The templates of the stage. */
import type { TemplateResult } from 'lit';
import { html, nothing } from 'lit';
import { guard } from 'lit/directives/guard.js';
import type { Face, View } from '../../../src/catalog/index.ts';
import { pickText } from '../../../src/pick-text.ts';
import type { MessageFormat } from '../../locales/message-format.ts';
import type { StageWords } from '../../locales/stage-words.ts';
import { toPx } from '../geometry/camera.ts';
import { isFaulty, placementFaults } from '../geometry/placement-faults.ts';
import { smallestArea } from '../geometry/smallest-area.ts';
import { withoutGuides } from '../geometry/snap.ts';
import type { Live, StageScene } from '../geometry/stage-scene.ts';
import { areaOnView } from '../geometry/stage-scene.ts';
import type { PictureState, StagePlacement } from '../geometry/stage-types.ts';
import { aspectOf } from '../geometry/stage-types.ts';
import { blankSvg } from './blank-svg.ts';
import { faceMarks, measureMarks, rulerSvg, tag } from './marks.ts';
import { placementBox } from './placement-box.ts';
import { styleProperties } from './style-properties.ts';

/** Room of the rulers, px; the style sheet's grid has the same. */
const RULER_TOP_PX = 24;
const RULER_LEFT_PX = 30;

type Language = { readonly say: MessageFormat; readonly words: StageWords };

export function rulers(scene: StageScene, say: MessageFormat, selected: StagePlacement | null) {
  const { camera, activeFace } = scene;
  const zero = toPx(
    camera,
    activeFace ? { x: activeFace.onView.xMm, y: activeFace.onView.yMm } : { x: 0, y: 0 },
  );
  const box = selected ? scene.boundsPx(selected) : null;
  const ruler = (side: 'top' | 'left') => {
    const isTop = side === 'top';
    const length = isTop ? camera.widthPx : camera.heightPx;
    const thickness = (isTop ? RULER_TOP_PX : RULER_LEFT_PX) - 1;
    const zeroPx = isTop ? zero.x : zero.y;
    const span = box ? (isTop ? ([box.left, box.right] as const) : ([box.top, box.bottom] as const)) : null;
    return html`<svg class="ruler ${side}" aria-hidden="true">
      ${guard([length, zeroPx, camera.pxPerMm, say, span?.[0], span?.[1]], () =>
        rulerSvg(side, length, thickness, zeroPx, camera.pxPerMm, say.units, say.formatter, span),
      )}
    </svg>`;
  };
  return html`<div class="corner" aria-hidden="true">${say.formatter.unitName(say.units)}</div>
    ${ruler('top')}${ruler('left')}`;
}

/** The blank and its areas. */
export function drawing(
  scene: StageScene,
  { say, words }: Language,
  view: View | null,
  clothHex: string,
  isDark: boolean,
  /** what `scene` has its faces from, for the guard. */
  given: { readonly faces: readonly Face[]; readonly face: string; readonly sizes: readonly string[] },
) {
  const { leftMm, topMm, widthPx, heightPx, pxPerMm } = scene.camera;
  return html`<svg
    class="drawing"
    role="img"
    aria-label=${view ? words.drawing(say, pickText(view.name, say.formatter.lang)) : nothing}
    viewBox="${leftMm} ${topMm} ${widthPx / pxPerMm} ${heightPx / pxPerMm}"
    preserveAspectRatio="xMidYMid meet"
  >
    ${guard([view, clothHex], () => (view ? blankSvg(view, clothHex) : nothing))}
    <g class=${isDark ? 'dark' : ''}>
      ${guard([given.faces, given.face, given.sizes, view, pxPerMm], () =>
        scene.faces.map((face) =>
          faceMarks(face, smallestArea(face, given.sizes), face === scene.activeFace, pxPerMm),
        ),
      )}
    </g>
  </svg>`;
}

/** The names of the areas; of those not active only where the name has room and lies under no artwork. */
export function areaNames(scene: StageScene, lang: string) {
  const boxes = scene.placements.map((placement) => scene.boundsPx(placement));
  return scene.faces.map((face) => {
    const area = areaOnView(face, face);
    const from = toPx(scene.camera, { x: area.left, y: area.top });
    const name = pickText(face.name, lang);
    if (face === scene.activeFace) return tag('active', { x: from.x, y: from.y - 2 }, { x: 0, y: 1 }, name);
    const to = toPx(scene.camera, { x: area.right, y: area.bottom });
    const isFree = boxes.every(
      (box) => box.right < from.x || box.left > to.x || box.bottom < from.y || box.top > to.y,
    );
    return isFree && to.x - from.x >= 60
      ? tag('', { x: from.x + 2, y: from.y + 2 }, { x: 0, y: 0 }, name)
      : nothing;
  });
}

/** Guides and distances of the selected artwork while it is moved. */
export function liveMeasures(
  scene: StageScene,
  { say, words }: Language,
  selected: string | null,
  live: Live | null,
) {
  const found = scene.find(selected);
  if (!found) return null;
  const { placement, face } = found;
  const snapped = live?.id === placement.id ? live.snapped : withoutGuides(placement);
  const usual = face.usual.find((one) => one.id === snapped.usual);
  return measureMarks(
    scene.camera,
    face,
    placement,
    snapped,
    scene.boundsPx(placement),
    usual ? pickText(usual.name, say.formatter.lang) : null,
    words,
    say,
  );
}

/** The button that fills an empty area. Where it lies over artworks of other areas, presses go to the canvas first. */
export function addButton(
  scene: StageScene,
  words: StageWords,
  face: Face,
  sizes: readonly string[],
  isDark: boolean,
  onAdd: (event: Event) => void,
) {
  const area = areaOnView(face, smallestArea(face, sizes));
  const from = toPx(scene.camera, { x: area.left, y: area.top });
  const to = toPx(scene.camera, { x: area.right, y: area.bottom });
  const width = to.x - from.x;
  const height = to.y - from.y;
  const isOver = scene.placements
    .map((placement) => scene.boundsPx(placement))
    .some((box) => box.right > from.x && box.left < to.x && box.bottom > from.y && box.top < to.y);
  return html`<button
    type="button"
    class="add ${isDark ? 'dark' : ''} ${isOver ? 'over-artwork' : ''}"
    dir="auto"
    ${styleProperties({
      width: `${Math.max(24, width)}px`,
      height: `${Math.max(24, height)}px`,
      transform: `translate(${from.x}px, ${from.y}px)`,
      '--_add-ink': isDark ? '#f4f1ea' : '#262a34',
    })}
    aria-label="${words.dropHere} ${words.chooseFile}"
    @click=${onAdd}
  >
    ${width > 90 && height > 40 ? html`<span>${words.dropHere}</span><small>${words.chooseFile}</small>` : '+'}
  </button>`;
}

export type ItemState = {
  readonly isSelected: boolean;
  readonly isHovered: boolean;
  readonly picture: PictureState | undefined;
};

export type ItemHandlers = {
  readonly click: (event: Event) => void;
  readonly focus: (event: FocusEvent) => void;
  readonly blur: () => void;
  readonly keydown: (event: KeyboardEvent) => void;
  readonly keyup: (event: KeyboardEvent) => void;
};

/** An artwork for keys and screen readers. Pointers pass through it to the canvas. */
export function artworkItem(
  scene: StageScene,
  { say, words }: Language,
  placement: StagePlacement,
  sizes: readonly string[],
  { isSelected, isHovered, picture }: ItemState,
  on: ItemHandlers,
): TemplateResult | typeof nothing {
  const face = scene.faceOf(placement);
  if (!face) return nothing;
  const { lang } = say.formatter;
  const aspect = aspectOf(placement);
  const faults = placementFaults(placement, face, aspect, sizes);
  const label = [
    words.artwork(say, {
      ...placement,
      heightMm: placement.widthMm * aspect,
      face: pickText(face.name, lang),
    }),
    ...(faults.isOutside ? [words.outside] : []),
    ...faults.keepOuts.map((keepOut) => words.inKeepOut(say, pickText(keepOut.name, lang))),
    ...(picture === 'failed' ? [words.failed] : picture === undefined ? [words.loading] : []),
  ];
  const classes = [
    'item',
    isSelected ? 'selected' : '',
    isHovered ? 'hovered' : '',
    isFaulty(faults) ? 'outside' : '',
    picture === 'failed' ? 'failed' : picture === undefined ? 'waiting' : '',
  ];
  return html`<button
    type="button"
    class=${classes.filter(Boolean).join(' ')}
    data-id=${placement.id}
    aria-pressed=${isSelected}
    aria-label=${label.join(', ')}
    ${styleProperties(placementBox(scene.camera, face, placement, aspect))}
    @click=${on.click}
    @focus=${on.focus}
    @blur=${on.blur}
    @keydown=${on.keydown}
    @keyup=${on.keyup}
  ></button>`;
}
