export {
  type ArtworkOf,
  type CompiledCatalog,
  type KnownArtwork,
  type Lettering,
  type QuoteInput,
  type QuoteInternal,
  type QuoteResult,
  quote,
  type RoutedLine,
  type RoutedPlacement,
  type RoutedSlip,
} from './quote.ts';
