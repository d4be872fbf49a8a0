import { Lazy } from '../lazy.ts';

type Parts = typeof import('./deferred-bundle.ts');

/**
 * Parts that the first sight of the slip does not need: fetched when the first of them is.
 *
 * @param dress takes their styles, before the first of them is shown.
 * @param words fetches what they say.
 */
export function laterParts(
  changed: () => void,
  dress: (styles: Parts['styles']) => void,
  words: () => Promise<unknown> | undefined,
) {
  const part = <Name extends keyof Parts>(name: Name): Lazy<Parts[Name]> =>
    new Lazy(async () => {
      const [parts] = await Promise.all([import('./deferred-bundle.ts'), words()]);
      dress(parts.styles);
      return parts[name];
    }, changed);
  return {
    placement: part('placement'),
    names: part('names'),
    days: part('days'),
    ladder: part('ladder'),
    why: part('why'),
    order: part('order'),
    status: part('status'),
    readCounts: part('readCounts'),
    readInWorker: part('readInWorker'),
    redraw: part('redraw'),
    Ordering: part('Ordering'),
    ShownNames: part('ShownNames'),
    Placing: part('Placing'),
    fileKeeper: part('fileKeeper'),
    namePicture: part('namePicture'),
    sendFile: part('sendFile'),
  };
}
export type LaterParts = ReturnType<typeof laterParts>;
