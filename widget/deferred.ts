import { Lazy } from './lazy.ts';
import type { DeferredParts } from './parts/deferred-parts.ts';

type Bundle = typeof import('./deferred-bundle.ts');

/** Code the slip does not need until the customer has begun. It is one file, loaded when the first of it is used. */
export type Deferred = DeferredParts & {
  readonly redraw: Lazy<Bundle['redraw']>;
  readonly localReader: Lazy<Bundle['localReader']>;
  readonly uploadFile: Lazy<Bundle['uploadFile']>;
  readonly fileStorage: Lazy<Bundle['fileStorage']>;
  readonly nameDrawing: Lazy<Bundle['nameDrawing']>;
  readonly NamePreviews: Lazy<Bundle['NamePreviews']>;
  readonly ArtworkPlacer: Lazy<Bundle['ArtworkPlacer']>;
  readonly OrderController: Lazy<Bundle['OrderController']>;
};

/**
 * @param changed called when the code has arrived
 * @param adopt takes the styles of the deferred parts, before any of them is drawn
 * @param loadWords loads the messages of the deferred parts
 */
export function deferredCode(
  changed: () => void,
  adopt: (styles: Bundle['styles']) => void,
  loadWords: () => Promise<unknown> | undefined,
): Deferred {
  const part = <Name extends keyof Bundle>(name: Name): Lazy<Bundle[Name]> =>
    new Lazy(async () => {
      const [bundle] = await Promise.all([import('./deferred-bundle.ts'), loadWords()]);
      adopt(bundle.styles);
      return bundle[name];
    }, changed);
  return {
    placement: part('placement'),
    names: part('names'),
    calendar: part('calendar'),
    ladder: part('ladder'),
    reasons: part('reasons'),
    orderForm: part('orderForm'),
    orderStatus: part('orderStatus'),
    readCounts: part('readCounts'),
    redraw: part('redraw'),
    localReader: part('localReader'),
    uploadFile: part('uploadFile'),
    fileStorage: part('fileStorage'),
    nameDrawing: part('nameDrawing'),
    NamePreviews: part('NamePreviews'),
    ArtworkPlacer: part('ArtworkPlacer'),
    OrderController: part('OrderController'),
  };
}
