import type { Blank, BlankColor, Face } from '../catalog/blank.ts';
import type { Method, Treatment } from '../catalog/method.ts';
import type { Finish, Station } from '../catalog/shop.ts';
import type { Qualities, Slip, SlipLine } from '../contract/index.ts';

/** Ink area by channel: cm² at full coverage (coverage times printed area). */
export type InkArea = {
  readonly c: number;
  readonly m: number;
  readonly y: number;
  readonly k: number;
  readonly w: number;
};

/** A placement with its method and every figure needed to cost, schedule and make it. */
export type RoutedPlacement = {
  readonly id: string;
  readonly face: Face;
  /** equal for prints of the same artwork, remedies, size and method. Set-up per design is paid once for each. */
  readonly design: string;
  readonly method: Method;
  readonly treatments: readonly Treatment[];
  readonly qualities: Qualities;
  /** printed ink box before rotation, mm. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** upright box around the rotated ink, mm: what beds and sheets must hold. */
  readonly boxWidthMm: number;
  readonly boxHeightMm: number;
  readonly ink: InkArea;
  /** whether white is printed beneath it on this cloth. */
  readonly white: boolean;
  /** how many different prints there are among the line's pieces: 1, or the number of different names. */
  readonly distinct: number;
  /** the station of each step, by step id, steps of treatments included; none for waits. */
  readonly stations: ReadonlyMap<string, Station>;
};

/** A line with every placement routed. */
export type RoutedLine = {
  readonly line: SlipLine;
  readonly blank: Blank;
  readonly color: BlankColor;
  readonly finish: Finish;
  readonly pieces: number;
  readonly placements: readonly RoutedPlacement[];
};

/** A slip with every line routed. */
export type RoutedSlip = { readonly slip: Slip; readonly lines: readonly RoutedLine[] };
