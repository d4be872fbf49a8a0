import type { OrderPlaced } from '../../src/contract/index.ts';
import type { ProofAnswer, ShopProblem } from './shop-api.ts';

/** Where ordering stands. */
export type Ordering = {
  readonly step: 'closed' | 'open' | 'sending' | 'placed';
  readonly proofs: readonly (ProofAnswer & { readonly title: string })[];
  readonly proofsMissing: boolean;
  readonly approved: boolean;
  readonly contact: {
    readonly name: string;
    readonly email: string;
    readonly phone: string;
    readonly note: string;
  };
  readonly problem: ShopProblem | null;
  readonly placed: OrderPlaced | null;
};

export const NOT_ORDERING: Ordering = {
  step: 'closed',
  proofs: [],
  proofsMissing: false,
  approved: false,
  contact: { name: '', email: '', phone: '', note: '' },
  problem: null,
  placed: null,
};
