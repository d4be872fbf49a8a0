import type { FindingInput } from '../../src/artwork/index.ts';
import type { ArtworkFacts, Finding, Remedy } from '../../src/contract/index.ts';

/** A file with the mends asked for. `key` names the file, so that its pixels are kept between jobs. */
export type ArtworkJob = {
  readonly key: string;
  readonly file: Blob;
  readonly remedies: readonly Remedy[];
};

/** What the page asks of the worker; one job at a time. */
export type WorkerRequest = { readonly job: number } & ArtworkJob &
  (
    | { readonly kind: 'read'; readonly pictureSidePx: number }
    | { readonly kind: 'find'; readonly input: Omit<FindingInput, 'facts'> }
  );

/** An artwork as the page could read it. */
export type LocalArtwork = {
  readonly facts: ArtworkFacts;
  /** a PNG of it, straight alpha, its longest side as asked. */
  readonly picture: Blob;
};

/** Why a file is left to the shop. */
export type Unread = 'not-a-local-kind' | 'too-many-pixels' | 'not-decoded';

export type WorkerAnswer = { readonly job: number } & (
  | { readonly kind: 'read'; readonly artwork: LocalArtwork }
  | { readonly kind: 'found'; readonly findings: readonly Finding[] }
  | { readonly kind: 'unread'; readonly why: Unread }
);
