import type { FindingInput } from '../../src/artwork/index.ts';
import type { ArtworkFacts, Finding, Remedy } from '../../src/contract/index.ts';

/** A file and the remedies to apply. `key` identifies the file, so that its pixels are kept between jobs. */
export type ArtworkJob = {
  readonly key: string;
  readonly file: Blob;
  readonly remedies: readonly Remedy[];
};

/** A request to the worker, which handles one at a time. */
export type WorkerRequest = { readonly job: number } & ArtworkJob &
  (
    | { readonly kind: 'read'; readonly pictureSidePx: number }
    | { readonly kind: 'find'; readonly input: Omit<FindingInput, 'facts'> }
  );

/** An artwork as the page could read it. */
export type LocalArtwork = {
  readonly facts: ArtworkFacts;
  /** a PNG with straight alpha, its longest side as requested. */
  readonly picture: Blob;
};

/** Why only the shop can read a file. */
export type Unread = 'not-a-local-kind' | 'too-many-pixels' | 'not-decoded';

export type WorkerAnswer = { readonly job: number } & (
  | { readonly kind: 'read'; readonly artwork: LocalArtwork }
  | { readonly kind: 'found'; readonly findings: readonly Finding[] }
  | { readonly kind: 'unread'; readonly why: Unread }
);
