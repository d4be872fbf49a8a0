import { canonicalJson } from '../../src/canonical-json.ts';
import type {
  Fault,
  OrderRequest,
  ProblemCode,
  QuoteAnswer,
  QuoteRefusal,
} from '../../src/contract/index.ts';
import { sha256 } from '../sha256.ts';
import type { StoreParts } from '../store/store.ts';
import { proofSubject } from './proof-subject.ts';
import type { QuoteClaims } from './quote-token.ts';
import { routeHash } from './quotes.ts';

/** Why an order was refused. */
export type OrderRefusal = {
  readonly code: ProblemCode;
  readonly detail: string;
  readonly faults?: readonly Fault[];
  /** further members of the problem's body. */
  readonly more?: { readonly quote?: QuoteAnswer; readonly refusal?: QuoteRefusal };
};

/**
 * Checks that a token was signed by this shop, for this slip, and is still valid.
 * @param claims null if this shop did not sign the token
 * @param nowMs epoch ms
 */
export function checkToken(
  claims: QuoteClaims | null,
  request: OrderRequest,
  nowMs: number,
): OrderRefusal | undefined {
  if (claims === null)
    return { code: 'quote-altered', detail: 'the token is not one this shop signed; ask for a new quote' };
  if (claims.slip !== sha256(canonicalJson(request.slip)))
    return {
      code: 'slip-differs',
      detail: 'the token belongs to another slip; ask for a quote of this one',
    };
  if (claims.exp * 1000 <= nowMs)
    return {
      code: 'quote-expired',
      detail: `the quote was valid until ${new Date(claims.exp * 1000).toISOString()}; ask for a new one`,
    };
  return undefined;
}

/** Checks that the slip's artworks are still stored, and that the approved proofs are proofs of this slip. */
export async function checkReferences(
  parts: StoreParts,
  shop: string,
  request: OrderRequest,
): Promise<OrderRefusal | undefined> {
  return (await checkArtworks(parts, shop, request)) ?? (await checkProofs(parts, shop, request));
}

async function checkArtworks(
  parts: StoreParts,
  shop: string,
  { slip }: OrderRequest,
): Promise<OrderRefusal | undefined> {
  const places = new Map<string, string>();
  slip.lines.forEach(({ placements }, line) => {
    placements.forEach(({ artwork }, index) => {
      places.set(artwork, `slip.lines.${line}.placements.${index}.artwork`);
    });
  });
  const known = await parts.artworks.known(shop, [...places.keys()]);
  const faults: Fault[] = [...places]
    .filter(([artwork]) => !known.has(artwork))
    .map(([artwork, at]) => ({
      at,
      message: 'the artwork is not known here',
      value: artwork,
      allowed: 'an artwork sent before',
    }));
  if (faults.length === 0) return undefined;
  return { code: 'unknown-artwork', detail: 'an artwork of the slip is gone; send it again', faults };
}

async function checkProofs(
  parts: StoreParts,
  shop: string,
  { slip, proofs }: OrderRequest,
): Promise<OrderRefusal | undefined> {
  const subjectsOfSlip = new Set(slip.lines.map(proofSubject));
  const subjects = await parts.artworks.proofSubjects(shop, proofs);
  const faults: Fault[] = proofs.flatMap((hash, index) =>
    [...(subjects.get(hash) ?? [])].some((subject) => subjectsOfSlip.has(subject))
      ? []
      : [
          {
            at: `proofs.${index}`,
            message: 'this is not a proof of a line of this slip as it is now',
            value: hash,
            allowed: 'the hash of a proof drawn of this slip',
          },
        ],
  );
  if (faults.length === 0) return undefined;
  return { code: 'invalid-input', detail: 'a proof is not of this slip; draw it again', faults };
}

/** Whether a new quote keeps what the signed one promised: the same methods, no dearer, no later. */
export function honors(answer: QuoteAnswer, claims: QuoteClaims): boolean {
  return (
    answer.currency === claims.currency &&
    compareAmounts(answer.total, claims.total) <= 0 &&
    answer.promise.day <= claims.day &&
    routeHash(answer) === claims.route
  );
}

/** Says what of the signed quote a new one does not keep. */
export function describeChange(claims: QuoteClaims, answer: QuoteAnswer): string {
  if (answer.promise.day > claims.day)
    return `the order can no longer be ready on ${claims.day}, but on ${answer.promise.day}`;
  if (compareAmounts(answer.total, claims.total) > 0)
    return `${claims.day} can no longer be kept at ${claims.total} ${claims.currency}, but at ${answer.total}`;
  return `${claims.day} can no longer be kept the way it was quoted`;
}

/** Compares two amounts of one currency, which have the same number of decimals. */
function compareAmounts(one: string, other: string): number {
  const difference = BigInt(one.replace('.', '')) - BigInt(other.replace('.', ''));
  return difference < 0n ? -1 : difference > 0n ? 1 : 0;
}
