/** The one door: methods, price and day for a slip. */
export type { CompiledCatalog } from '../catalog/compile.ts';
export type { KnownArtwork, Lettering } from '../routing/fit/print.ts';
export type { ArtworkOf } from '../routing/fit/resolve-slip.ts';
export type { RoutedLine, RoutedPlacement, RoutedSlip } from '../routing/routed.ts';
export { type QuoteInput, type QuoteInternal, type QuoteResult, quote } from './quote.ts';
