import { z } from 'zod';
import { Id, Sha256 } from './ids.ts';
import { Slip } from './slip.ts';

/** Asks for a proof of one view of one line. */
export const ProofRequest = z.strictObject({
  slip: Slip,
  /** a line of the slip. */
  line: Id,
  /** a view of the line's blank. */
  view: Id,
});
export type ProofRequest = z.infer<typeof ProofRequest>;

/** A rendered proof; an order that carries its hash approves it. */
export const ProofAnswer = z.strictObject({
  line: Id,
  view: Id,
  /** content hash of the picture. */
  hash: Sha256,
  /** address of the picture, PNG. */
  url: z.string(),
  /** if every piece has its own name or number: the one shown, which is the first, and the number of pieces. */
  name: z.strictObject({ text: z.string(), pieces: z.int().positive() }).optional(),
});
export type ProofAnswer = z.infer<typeof ProofAnswer>;
