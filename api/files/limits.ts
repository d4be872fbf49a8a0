/** How big a file may be before it is looked at, or decoded. */
export type ReadLimits = {
  /** of the file as sent; default 25 MiB. */
  readonly bytes: number;
  /** of the picture, by its header; default 50 million. */
  readonly pixels: number;
  /** longest side of the picture, px; default 20 000. */
  readonly sidePx: number;
};

const MIB = 1024 * 1024;

export const DEFAULT_READ_LIMITS: ReadLimits = { bytes: 25 * MIB, pixels: 50_000_000, sidePx: 20_000 };

/**
 * How finely a drawing (SVG, PDF) is turned into pixels. 4500 px is 381 mm at 300 to the inch; the area keeps a square
 * drawing at 3464 x 3464 px, 293 mm at 300 to the inch. Our own choice: it bounds time and memory.
 */
export const DRAWING_LONG_SIDE_PX = 4500;
export const DRAWING_AREA_PX = 12_000_000;

/** Bounds on an SVG before it is drawn; our own choice, well over what illustrations hold. */
export const SVG_LIMITS = {
  elements: 50_000,
  depth: 128,
  textCharacters: 20_000,
  styleRules: 5_000,
  /** elements after every `use`, pattern, mask and marker has been followed. */
  shownElements: 200_000,
  filterPrimitives: 60,
  /** widest blur, as a share of the drawing's long side. */
  blurShare: 0.25,
  embeddedPictures: 50,
} as const;

/** Scans in a progressive JPEG over a million pixels; encoders make about ten. Each is a pass over the whole picture. */
export const JPEG_SCANS = 100;
