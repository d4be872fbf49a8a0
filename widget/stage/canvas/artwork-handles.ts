/** The handles around the selected artwork, as Fabric controls: four corners that scale it and one that turns it. */
import { Control, controlsUtils, type InteractiveFabricObject, type TransformActionHandler } from 'fabric/es';
import type { Grip } from '../geometry/gesture.ts';
import type { Corner } from '../geometry/placement-math.ts';

const CORNERS = {
  tl: { x: -1, y: -1 },
  tr: { x: 1, y: -1 },
  br: { x: 1, y: 1 },
  bl: { x: -1, y: 1 },
} as const satisfies Record<string, Corner>;

/** Side of the square that takes the pointer, CSS px: for a mouse or pen, and for a finger. */
export const HANDLE_PX = { fine: 28, coarse: 44 } as const;
/** What is drawn of it, as shares of that side. */
const SQUARE_SHARE = 10 / 28;
const CIRCLE_SHARE = 13 / 28;
const OUTLINE_PX = 1.5;
/** Length of the line to the turning handle, CSS px. */
const STALK_PX = 24;

/**
 * The control only reports the movement. What it does to the slip's numbers is worked out from the pointer, so that
 * they are never read back from the object.
 */
const report = (event: 'scaling' | 'rotating'): TransformActionHandler =>
  controlsUtils.wrapWithFireEvent(event, () => true);

function drawHandle(
  this: Control,
  pen: CanvasRenderingContext2D,
  left: number,
  top: number,
  _style: unknown,
  object: InteractiveFabricObject,
): void {
  pen.save();
  pen.translate(left, top);
  pen.rotate((object.getTotalAngle() * Math.PI) / 180);
  pen.fillStyle = object.cornerColor;
  pen.strokeStyle = object.cornerStrokeColor;
  pen.lineWidth = Math.max(1, Math.floor(OUTLINE_PX * object.borderScaleFactor)); // whole px, as CSS borders are
  pen.beginPath();
  if (this.actionName === 'rotate') {
    pen.arc(0, 0, (object.cornerSize * CIRCLE_SHARE - pen.lineWidth) / 2, 0, 2 * Math.PI);
  } else {
    const side = object.cornerSize * SQUARE_SHARE - pen.lineWidth;
    pen.rect(-side / 2, -side / 2, side, side);
  }
  pen.fill();
  pen.stroke();
  pen.restore();
}

const cornerHandle = ({ x, y }: Corner): Control =>
  new Control({
    x: x / 2,
    y: y / 2,
    actionName: 'scale',
    actionHandler: report('scaling'),
    cursorStyleHandler: controlsUtils.scaleCursorStyleHandler,
    render: drawHandle,
  });

/** A fresh set, since each artwork lays out its own. */
export const createHandles = () => ({
  tl: cornerHandle(CORNERS.tl),
  tr: cornerHandle(CORNERS.tr),
  br: cornerHandle(CORNERS.br),
  bl: cornerHandle(CORNERS.bl),
  turn: new Control({
    actionName: 'rotate',
    actionHandler: report('rotating'),
    cursorStyle: 'grab',
    withConnection: true,
    render: drawHandle,
  }),
});
export type Handles = ReturnType<typeof createHandles>;

/** What a press took hold of, by the action and the key of the control that Fabric names. */
export function gripOf(action: string | undefined, key: string): Grip {
  if (action === 'rotate') return 'turn';
  return action === 'scale' && Object.hasOwn(CORNERS, key) ? CORNERS[key as keyof typeof CORNERS] : 'body';
}

/**
 * Puts the handles in their places.
 *
 * @param box size and center of the artwork, canvas px.
 * @param pixelRatio canvas px per CSS px.
 */
export function layOutHandles(
  handles: Handles,
  box: { readonly width: number; readonly height: number; readonly centerY: number },
  angleDeg: number,
  pixelRatio: number,
): void {
  // handles stand off a small artwork, so that its middle stays free to grab
  const standOff = Math.max(0, 15 * pixelRatio - Math.min(box.width, box.height) / 4);
  for (const [key, { x, y }] of Object.entries(CORNERS)) {
    const handle = handles[key as keyof typeof CORNERS];
    handle.offsetX = x * standOff;
    handle.offsetY = y * standOff;
  }
  const stalk = STALK_PX * pixelRatio + standOff;
  const top = box.centerY - Math.cos((angleDeg * Math.PI) / 180) * (box.height / 2 + stalk);
  // below the artwork when there is no room above it
  const side = top > 14 * pixelRatio ? -1 : 1;
  handles.turn.y = side / 2;
  handles.turn.offsetY = side * stalk;
}
