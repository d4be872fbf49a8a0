import type { LineCandidates } from '../routing/build-model.ts';
import { isEnumerable } from '../routing/choice/choose.ts';
import { candidatesOf } from '../routing/fit/candidates.ts';
import { withCount } from '../routing/fit/resolve-slip.ts';
import type { RouteContext } from './plan-query.ts';
import { type Route, Router } from './route.ts';

/** A line with another count, and a router of the slip with it; no router where no method fits a print. */
export type OtherCount = { readonly line: LineCandidates; readonly router: Router | undefined };

/** A slip with other counts of its lines, each worked out once: for alternatives, and to find where a method changes. */
export class OtherCounts {
  readonly context: RouteContext;
  readonly now: Route;
  readonly #known = new Map<string, OtherCount>();
  /** the lines used to find where a method changes. */
  readonly #others: readonly LineCandidates[];

  /** @param context from `lowEffort` */
  constructor(context: RouteContext, now: Route) {
    this.context = context;
    this.now = now;
    this.#others = isEnumerable(now.model) ? now.lines : withMethodsFixed(now);
  }

  /** @param index of the line whose count is another */
  at(index: number, count: number): OtherCount {
    return this.#among(this.now.lines, index, count);
  }

  /**
   * The methods of the line's prints at a count; undefined where it cannot be made. On a slip so large that combinations
   * are not all tried, the other lines keep their methods.
   */
  methodsAt(index: number, count: number): readonly string[] | undefined {
    const prepared = this.#among(this.#others, index, count).router?.price();
    if (prepared === undefined || 'why' in prepared) return undefined;
    return prepared.routed.lines[index]!.placements.map(({ method }) => method.id);
  }

  #among(lines: readonly LineCandidates[], index: number, count: number): OtherCount {
    const key = `${lines === this.now.lines} ${index} ${count}`;
    let other = this.#known.get(key);
    if (other === undefined) {
      const line = withCount(this.now.lines[index]!.line, count);
      const prints = candidatesOf(this.context.catalog, line);
      const fits = prints.every(({ fit }) => fit.length > 0);
      other = {
        line: { line, prints },
        router: fits ? this.#router(lines, index, { line, prints }) : undefined,
      };
      this.#known.set(key, other);
    }
    return other;
  }

  #router(lines: readonly LineCandidates[], index: number, other: LineCandidates): Router {
    const { slip } = this.now;
    const changed = { ...slip, lines: slip.lines.with(index, other.line.line) };
    return new Router(this.context, changed, lines.with(index, other));
  }
}

/** The lines of a slip, each print with its chosen method only. */
function withMethodsFixed({ lines, model, choice }: Route): LineCandidates[] {
  let slot = 0;
  return lines.map(({ line, prints }) => ({
    line,
    prints: prints.map((print) => {
      const { method } = model.slots[slot]!.options[choice.chosen[slot++]!]!;
      return { ...print, fit: [method] };
    }),
  }));
}
