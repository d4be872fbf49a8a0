import { z } from 'zod';
import { ArtworkFacts, Remedies, SourceInfo } from './facts.ts';
import { Sha256 } from './ids.ts';

/** An uploaded artwork with its remedies, and the measurements of the result. */
export const ArtworkAnswer = z.strictObject({
  /** content hash of the uploaded file. */
  id: Sha256,
  name: z.string(),
  source: SourceInfo,
  remedies: Remedies,
  facts: ArtworkFacts,
  /** address of a preview: PNG with straight alpha, longest side at most 1600 px. */
  preview: z.string(),
});
export type ArtworkAnswer = z.infer<typeof ArtworkAnswer>;

/** Asks for the measurements of an artwork with other remedies. */
export const MendRequest = z.strictObject({ remedies: Remedies });
export type MendRequest = z.infer<typeof MendRequest>;
