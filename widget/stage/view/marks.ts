/** What is drawn around the blank: rulers, areas, keep-outs, guides and distances. */
import type { TemplateResult } from 'lit';
import { html, nothing, svg } from 'lit';
import type { Face } from '../../../src/catalog/index.ts';
import type { Formatter, Units } from '../../format/index.ts';
import type { MessageFormat } from '../../locales/message-format.ts';
import type { StageWords } from '../../locales/stage-words.ts';
import type { Camera } from '../geometry/camera.ts';
import { toPx } from '../geometry/camera.ts';
import type { Bounds, Point, Position } from '../geometry/placement-math.ts';
import { ticks } from '../geometry/ruler.ts';
import type { Area } from '../geometry/smallest-area.ts';
import type { Snapped } from '../geometry/snap.ts';
import { areaOnView } from '../geometry/stage-scene.ts';
import { hatchPath } from './blank-svg.ts';
import { styleProperties } from './style-properties.ts';

const TICK_PX = {
  top: { major: 10, middle: 7, minor: 4 },
  left: { major: 10, middle: 7, minor: 4 },
} as const;

/** One ruler; `span` is the extent of the selected artwork, px, or null. */
export function rulerSvg(
  side: 'top' | 'left',
  lengthPx: number,
  thicknessPx: number,
  zeroPx: number,
  pxPerMm: number,
  units: Units,
  formatter: Formatter,
  span: readonly [number, number] | null,
): TemplateResult {
  const along = side === 'top';
  const paths = { major: '', middle: '', minor: '' };
  const all = ticks(lengthPx, zeroPx, pxPerMm, units);
  for (const { atPx, rank } of all) {
    const x = Math.round(atPx) + 0.5;
    const reach = TICK_PX[side][rank];
    paths[rank] += along ? `M${x} ${thicknessPx}v${-reach}` : `M${thicknessPx} ${x}h${-reach}`;
  }
  const figures = all.filter((tick) => tick.figure !== null && tick.atPx > 8 && tick.atPx < lengthPx - 8);
  const [from, to] = span ?? [0, 0];
  return svg`
    ${
      span
        ? svg`<rect class="span" x=${along ? from : 0} y=${along ? 0 : from}
            width=${along ? Math.max(0, to - from) : thicknessPx} height=${along ? thicknessPx : Math.max(0, to - from)}></rect>
          <path class="edge" d=${along ? `M${from} 0V${thicknessPx}M${to} 0V${thicknessPx}` : `M0 ${from}H${thicknessPx}M0 ${to}H${thicknessPx}`}></path>`
        : nothing
    }
    <path class="ticks minor" d=${paths.minor}></path>
    <path class="ticks" d=${paths.middle}></path>
    <path class="ticks" d=${paths.major}></path>
    ${figures.map((tick) => {
      const text = formatter.number(tick.figure, 2);
      const zero = tick.figure === 0 ? 'zero' : '';
      return along
        ? svg`<text class=${zero} x=${tick.atPx} y="11" text-anchor="middle">${text}</text>`
        : svg`<text class=${zero} transform="translate(12 ${tick.atPx}) rotate(-90)" text-anchor="middle">${text}</text>`;
    })}`;
}

const rect = (box: Bounds, className: string) =>
  svg`<rect class=${className} x=${box.left} y=${box.top} width=${box.right - box.left} height=${box.bottom - box.top}></rect>`;

/** The printable area of a face, the smaller one of the chosen sizes, its keep-outs and usual positions. In view mm. */
export function faceMarks(face: Face, tight: Area, active: boolean, pxPerMm: number): TemplateResult {
  const { xMm, yMm } = face.onView;
  const isTight = tight.widthMm < face.widthMm || tight.heightMm < face.heightMm;
  const state = active ? 'area active' : 'area';
  const arm = 5 / pxPerMm;
  return svg`
    ${face.keepOuts.map((keepOut) => {
      const box = {
        left: xMm + keepOut.xMm,
        top: yMm + keepOut.yMm,
        right: xMm + keepOut.xMm + keepOut.widthMm,
        bottom: yMm + keepOut.yMm + keepOut.heightMm,
      };
      return svg`${rect(box, 'keep-out')}<path class="hatch" d=${hatchPath(box, 6 / pxPerMm)}></path>`;
    })}
    ${active ? rect(areaOnView(face, face), 'halo') : nothing}
    ${rect(areaOnView(face, face), state)}
    ${isTight ? rect(areaOnView(face, tight), `${state} tight`) : nothing}
    ${
      active
        ? face.usual.map((usual) => {
            const x = xMm + usual.xMm;
            const y = yMm + usual.yMm;
            return svg`<path class="usual" d="M${x - arm} ${y}h${2 * arm}M${x} ${y - arm}v${2 * arm}"></path>`;
          })
        : nothing
    }`;
}

/** A label at a point of the surface; `anchor` is the point of the label that lies there, as shares of its size. */
export const tag = (className: string, at: Point, anchor: Point, text: string): TemplateResult =>
  html`<span
    class="tag ${className}"
    dir="auto"
    aria-hidden="true"
    ${styleProperties({ transform: `translate(${at.x}px, ${at.y}px) translate(${-anchor.x * 100}%, ${-anchor.y * 100}%)` })}
    >${text}</span
  >`;

/** What a running gesture shows: its guides, and the distances from the center line and from the top. */
export function measureMarks(
  camera: Camera,
  face: Face,
  position: Position,
  snapped: Snapped,
  box: Bounds,
  usualName: string | null,
  words: StageWords,
  say: MessageFormat,
): { readonly lines: TemplateResult; readonly tags: TemplateResult } {
  const px = (xMm: number, yMm: number) =>
    toPx(camera, { x: face.onView.xMm + xMm, y: face.onView.yMm + yMm });
  const center = px(position.xMm, position.yMm);
  const origin = px(0, 0);
  const offCenter = Math.abs(position.xMm) >= 0.005;
  const cap = (x: number, y: number, vertical: boolean) =>
    vertical ? `M${x - 4} ${y}h8` : `M${x} ${y - 4}v8`;
  const down = `M${center.x} ${origin.y}V${center.y}${cap(center.x, origin.y, true)}${cap(center.x, center.y, true)}`;
  const across = offCenter
    ? `M${origin.x} ${center.y}H${center.x}${cap(origin.x, center.y, false)}${cap(center.x, center.y, false)}`
    : '';
  const guideX = snapped.guideX === null ? null : px(snapped.guideX, 0).x;
  const guideY = snapped.guideY === null ? null : px(0, snapped.guideY).y;
  const roomRight = center.x <= camera.widthPx - 90;
  const size = [
    words.wide(say, position.widthMm),
    ...(position.angleDeg === 0 ? [] : [say.angle(position.angleDeg)]),
    ...(usualName === null ? [] : [usualName]),
  ].join(' · ');
  return {
    lines: svg`
      ${guideX === null ? nothing : svg`<path class="guide" d="M${guideX} 0V${camera.heightPx}"></path>`}
      ${guideY === null ? nothing : svg`<path class="guide" d="M0 ${guideY}H${camera.widthPx}"></path>`}
      <path class="measure under" d=${down + across}></path>
      <path class="measure" d=${down + across}></path>`,
    tags: html`
      ${tag(
        'measured',
        { x: center.x + (roomRight ? 6 : -6), y: Math.max(12, (origin.y + center.y) / 2) },
        { x: roomRight ? 0 : 1, y: 0.5 },
        say.len(position.yMm),
      )}
      ${
        offCenter
          ? tag(
              'measured',
              { x: (origin.x + center.x) / 2, y: center.y - 6 },
              { x: 0.5, y: 1 },
              say.len(Math.abs(position.xMm)),
            )
          : nothing
      }
      ${tag(
        'measured',
        {
          x: Math.min(camera.widthPx - 80, Math.max(80, center.x)),
          y: Math.min(camera.heightPx - 24, box.bottom + 10),
        },
        { x: 0.5, y: 0 },
        size,
      )}`,
  };
}
