/** How big a file may be before it is looked at, or decoded. */
export type ReadLimits = {
  /** of the file as sent; default 25 MiB. */
  readonly bytes: number;
  /** of the picture, by its header; default 40 million. Kinds whose decoders hold more of it are read up to fewer. */
  readonly pixels: number;
  /** longest side of the picture, px; default 20 000. */
  readonly sidePx: number;
};

const MIB = 1024 * 1024;

export const DEFAULT_READ_LIMITS: ReadLimits = { bytes: 25 * MIB, pixels: 40_000_000, sidePx: 20_000 };

/** Bounds on an SVG before it is drawn; our own choice, well over what illustrations hold. */
export const SVG_LIMITS = {
  elements: 50_000,
  depth: 128,
  textCharacters: 20_000,
  styleRules: 5_000,
  /** elements after every `use`, pattern, mask and marker has been followed. */
  shownElements: 200_000,
  filterPrimitives: 60,
  embeddedPictures: 50,
} as const;

/** Scans in a progressive JPEG over a million pixels; encoders make about ten. Each is a pass over the whole picture. */
export const JPEG_SCANS = 100;
