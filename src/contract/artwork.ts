import { z } from 'zod';
import { ArtworkFacts, Remedies, SourceInfo } from './facts.ts';
import { Sha256 } from './ids.ts';

/** An artwork as the shop knows it: the file as sent, with the mends asked for, measured. */
export const ArtworkAnswer = z.strictObject({
  /** content hash of the file as sent. */
  id: Sha256,
  name: z.string(),
  source: SourceInfo,
  remedies: Remedies,
  facts: ArtworkFacts,
  /** address of a picture of it, straight alpha PNG, longest side at most 1600 px. */
  preview: z.string(),
});
export type ArtworkAnswer = z.infer<typeof ArtworkAnswer>;

export const MendRequest = z.strictObject({ remedies: Remedies });
export type MendRequest = z.infer<typeof MendRequest>;
