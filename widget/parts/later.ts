import { Lazy } from '../controllers/lazy.ts';

type Parts = typeof import('./later-parts.ts');

/** Parts that the first sight of the slip does not need: fetched when the first of them is. */
export function laterParts(changed: () => void) {
  const part = <Name extends keyof Parts>(name: Name): Lazy<Parts[Name]> =>
    new Lazy(async () => (await import('./later-parts.ts'))[name], changed);
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
    placeArtwork: part('placeArtwork'),
    fileKeeper: part('fileKeeper'),
    namePicture: part('namePicture'),
    sendFile: part('sendFile'),
  };
}
export type LaterParts = ReturnType<typeof laterParts>;
