import type { ArtworkFacts, SourceInfo } from '../../src/contract/index.ts';
import type { ShopProblem } from '../shop/shop-api.ts';

/** What is known of one file the customer added, or that a restored slip names. */
export type ArtworkItem = {
  /** `unsent-…` until the shop has it, then the content hash. */
  id: string;
  name: string;
  /** share uploaded, 0 to 1; 1 once the shop has it. */
  sent: number;
  state: 'reading' | 'sending' | 'ready' | 'failed';
  problem: ShopProblem | null;
  facts: ArtworkFacts | null;
  source: SourceInfo | null;
  /** address of a picture of it, for an <img> or the drawing. */
  preview: string | null;
};

export const newItem = (id: string): ArtworkItem => ({
  id,
  name: '',
  sent: 0,
  state: 'reading',
  problem: null,
  facts: null,
  source: null,
  preview: null,
});
