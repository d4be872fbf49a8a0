import { type Reason, type ReasonCode, reason } from '../../contract/index.ts';

/** Every code that says why a method does not fit a print. Each has an answer in nearest-changes.ts. */
export type UnfitCode = Extract<
  ReasonCode,
  | 'nothing-to-print'
  | 'off-the-face'
  | 'in-keep-out'
  | 'surface-unfit'
  | 'fiber-unfit'
  | 'cloth-too-light'
  | 'cloth-too-dark'
  | 'too-few-pieces'
  | 'too-many-pieces'
  | 'hand-too-thick'
  | 'gloss-out-of-bounds'
  | 'wash-life-too-short'
  | 'breathability-too-low'
  | 'no-station'
  | 'too-large-for-bed'
  | 'too-large-for-sheet'
  | 'line-too-thin'
  | 'gap-too-thin'
  | 'too-few-pixels'
  | 'soft-alpha-lost'
>;

/** A reason why a method does not fit a print. */
export type UnfitReason = Reason & { readonly code: UnfitCode };

/** Builds such a reason. `at` is a path into the slip. */
export function unfit(code: UnfitCode, params: Reason['params'], at: string): UnfitReason {
  return { ...reason(code, params, at), code };
}
