import type { FindingInput } from '../../src/artwork/index.ts';
import type { Finding, Remedy } from '../../src/contract/index.ts';
import { ArtworkReader } from './artwork-reader.ts';
import type { RemediedArtwork } from './local-reader.ts';

let reader: ArtworkReader | null = null;

/**
 * Facts and a picture of a file as mended, worked out beside the main thread; null where only the shop can read it.
 * The picture's address is the caller's to revoke.
 */
export async function readInWorker(
  file: File,
  remedies: readonly Remedy[],
  signal: AbortSignal,
): Promise<RemediedArtwork | null> {
  reader ??= new ArtworkReader();
  const local = await reader.read(file, remedies, { signal });
  return local && { facts: local.facts, preview: URL.createObjectURL(local.picture) };
}

/** What the check notices about a file, before the shop has it; null where only the shop can say. */
export async function findInWorker(
  file: File,
  remedies: readonly Remedy[],
  input: Omit<FindingInput, 'facts'>,
  signal: AbortSignal,
): Promise<readonly Finding[] | null> {
  reader ??= new ArtworkReader();
  return reader.find(file, remedies, input, signal);
}
