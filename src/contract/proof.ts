import { z } from 'zod';
import { Id, Sha256 } from './ids.ts';
import { Slip } from './slip.ts';

/** Asks for a picture of one side of one line as it will be printed. */
export const ProofRequest = z.strictObject({
  slip: Slip,
  /** a line of the slip. */
  line: Id,
  /** a view of the line's blank. */
  view: Id,
});
export type ProofRequest = z.infer<typeof ProofRequest>;

/** A proof drawn; ordering with its hash approves it. */
export const ProofAnswer = z.strictObject({
  line: Id,
  view: Id,
  /** content hash of the picture. */
  hash: Sha256,
  /** address of the picture, PNG. */
  url: z.string(),
  /** where every piece has a name or number of its own: the one shown, the first piece's, and how many pieces have one. */
  name: z.strictObject({ text: z.string(), pieces: z.int().positive() }).optional(),
});
export type ProofAnswer = z.infer<typeof ProofAnswer>;
