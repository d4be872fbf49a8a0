/** Limits on a file, checked before it is decoded. */
export type ReadLimits = {
  /** of the file; default 25 MiB. */
  readonly bytes: number;
  /** of the picture, by its header; default 40 million. Fewer for kinds whose decoders take more memory. */
  readonly pixels: number;
  /** longest side of the picture, px; default 20 000. */
  readonly sidePx: number;
};

const MIB = 1024 * 1024;

export const DEFAULT_READ_LIMITS: ReadLimits = { bytes: 25 * MIB, pixels: 40_000_000, sidePx: 20_000 };

/** Limits on an SVG before it is drawn; our own choice, far above what illustrations need. */
export const SVG_LIMITS = {
  elements: 50_000,
  depth: 128,
  textCharacters: 20_000,
  styleRules: 5_000,
  /** elements once every `use`, pattern, mask and marker is expanded. */
  shownElements: 200_000,
  filterPrimitives: 60,
  embeddedPictures: 50,
} as const;

/** Scans in a JPEG of over a million pixels. Encoders write about ten; each is a pass over the whole picture. */
export const JPEG_SCANS = 100;
