import type { LineCandidates } from './build-model.ts';
import { candidatesOf } from './candidates.ts';
import { withCount } from './resolve.ts';
import { type Route, Router, type Setting } from './route.ts';

/** A line in another count, and the slip with it; no router where no method fits a print. */
export type OtherCount = { readonly line: LineCandidates; readonly router: Router | undefined };

/** A slip with other counts of its lines, each worked out once: as another choice, and to see where a method flips. */
export class OtherCounts {
  readonly #setting: Setting;
  readonly #now: Route;
  readonly #known = new Map<string, OtherCount>();

  constructor(setting: Setting, now: Route) {
    this.#setting = setting;
    this.#now = now;
  }

  /** @param index of the line whose count is another */
  at(index: number, count: number): OtherCount {
    const key = `${index} ${count}`;
    let other = this.#known.get(key);
    if (other === undefined) {
      const line = withCount(this.#now.lines[index]!.line, count);
      const prints = candidatesOf(this.#setting.catalog, line);
      other = { line: { line, prints }, router: this.#routerOf({ line, prints }, index) };
      this.#known.set(key, other);
    }
    return other;
  }

  /** The methods of the line's prints at a count; undefined where it cannot be made. */
  methodsAt(index: number, count: number): readonly string[] | undefined {
    const prepared = this.at(index, count).router?.prepare();
    if (prepared === undefined || 'why' in prepared) return undefined;
    return prepared.routed.lines[index]!.placements.map(({ method }) => method.id);
  }

  #routerOf(other: LineCandidates, index: number): Router | undefined {
    if (other.prints.some(({ fit }) => fit.length === 0)) return undefined;
    const { slip, lines } = this.#now;
    const changed = { ...slip, lines: slip.lines.with(index, other.line.line) };
    return new Router(this.#setting, changed, lines.with(index, other));
  }
}
