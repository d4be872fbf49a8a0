import type { FindingInput } from '../../src/artwork/index.ts';
import type { ArtworkFacts, Finding, Remedy } from '../../src/contract/index.ts';

/** An artwork with remedies applied: its facts, and the address of a picture of it. */
export type RemediedArtwork = { facts: ArtworkFacts; preview: string };

/** Reads files in the page, before the shop has them. Resolves with null for what only the shop can read. */
export type LocalReader = {
  read(file: File, remedies: readonly Remedy[], signal: AbortSignal): Promise<RemediedArtwork | null>;
  findings(
    file: File,
    remedies: readonly Remedy[],
    input: Omit<FindingInput, 'facts'>,
    signal: AbortSignal,
  ): Promise<readonly Finding[] | null>;
};

/** What the caches of the artwork library ask of it. */
export type LibrarySource = {
  file(id: string): File | undefined;
  localReader(): LocalReader | null;
  /** aborted when the slip leaves the page. */
  signal(): AbortSignal;
  /** called when an answer has arrived. */
  changed(): void;
};

/** Key of an artwork with remedies; begins with the artwork's id and a space. */
export const remedyKey = (id: string, remedies: readonly Remedy[]): string =>
  `${id} ${JSON.stringify(remedies)}`;
