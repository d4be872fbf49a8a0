/** What a key does to the artwork that has the focus. */

import type { Units } from '../format/index.ts';
import { MM_PER_INCH } from '../format/index.ts';
import type { Position } from './geometry/placement-math.ts';
import { clampWidth, roundPosition } from './geometry/placement-math.ts';

/** Steps of one press, mm: with Shift the larger one. In inches a sixteenth and a half. */
export const KEY_STEP_MM: Readonly<
  Record<Units, { readonly small: number; readonly large: number; readonly scale: number }>
> = {
  mm: { small: 1, large: 10, scale: 5 },
  in: { small: MM_PER_INCH / 16, large: MM_PER_INCH / 2, scale: MM_PER_INCH / 4 },
};

/** Turn of one press of `[` or `]`, degrees; with Shift (`{`, `}`) the larger one. */
export const KEY_TURN_DEG = { small: 1, large: 15 } as const;

/** The pressed key, without the event around it. */
export type Press = {
  readonly key: string;
  readonly shift: boolean;
  /** Ctrl, Meta or Alt: left to the browser, unless AltGr was needed to type the character. */
  readonly command: boolean;
};

export type KeyAction =
  | { readonly kind: 'place'; readonly position: Position }
  | { readonly kind: 'remove' }
  | { readonly kind: 'escape' };

/** The action of a key, or null when the key is none of ours. */
export function keyAction(press: Press, position: Position, units: Units): KeyAction | null {
  if (press.command) return null;
  const step = KEY_STEP_MM[units];
  const by = press.shift ? step.large : step.small;
  const place = (change: Partial<Position>): KeyAction => ({
    kind: 'place',
    position: roundPosition({ ...position, ...change }, position),
  });
  const width = (widthMm: number) => place({ widthMm: clampWidth(widthMm) });
  switch (press.key) {
    case 'ArrowLeft':
      return place({ xMm: position.xMm - by });
    case 'ArrowRight':
      return place({ xMm: position.xMm + by });
    case 'ArrowUp':
      return place({ yMm: position.yMm - by });
    case 'ArrowDown':
      return place({ yMm: position.yMm + by });
    case '+':
    case '=':
      return width(position.widthMm + step.scale);
    case '-':
      return width(position.widthMm - step.scale);
    case '[':
      return place({ angleDeg: position.angleDeg - KEY_TURN_DEG.small });
    case ']':
      return place({ angleDeg: position.angleDeg + KEY_TURN_DEG.small });
    case '{':
      return place({ angleDeg: position.angleDeg - KEY_TURN_DEG.large });
    case '}':
      return place({ angleDeg: position.angleDeg + KEY_TURN_DEG.large });
    case 'Delete':
    case 'Backspace':
      return { kind: 'remove' };
    case 'Escape':
      return { kind: 'escape' };
    default:
      return null;
  }
}
