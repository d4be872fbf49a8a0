import { Lazy } from '../controllers/lazy.ts';

/** Parts that the first sight of the slip does not need: each is fetched when it is. */
export function laterParts(changed: () => void) {
  return {
    placement: new Lazy(() => import('./placement-part.ts'), changed),
    names: new Lazy(() => import('./names-row.ts'), changed),
    days: new Lazy(() => import('./days-part.ts'), changed),
    ladder: new Lazy(() => import('./ladder.ts'), changed),
    why: new Lazy(() => import('./why-part.ts'), changed),
    order: new Lazy(() => import('./order-part.ts'), changed),
  };
}
export type LaterParts = ReturnType<typeof laterParts>;
