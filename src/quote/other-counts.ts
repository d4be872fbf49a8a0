import type { LineCandidates } from '../routing/build-model.ts';
import { isEnumerable } from '../routing/choice/choose.ts';
import { candidatesOf } from '../routing/fit/candidates.ts';
import { withCount } from '../routing/fit/resolve-slip.ts';
import { type Route, Router, type Setting } from './route.ts';

/** A line in another count, and the slip with it; no router where no method fits a print. */
export type OtherCount = { readonly line: LineCandidates; readonly router: Router | undefined };

/** A slip with other counts of its lines, each worked out once: as another choice, and to see where a method flips. */
export class OtherCounts {
  readonly setting: Setting;
  readonly now: Route;
  readonly #known = new Map<string, OtherCount>();
  /** the lines of the slip as they stand while a method flips. */
  readonly #others: readonly LineCandidates[];

  /** @param setting from `aside` */
  constructor(setting: Setting, now: Route) {
    this.setting = setting;
    this.now = now;
    this.#others = isEnumerable(now.model) ? now.lines : asTheyAre(now);
  }

  /** @param index of the line whose count is another */
  at(index: number, count: number): OtherCount {
    return this.#among(this.now.lines, index, count);
  }

  /**
   * The methods of the line's prints at a count; undefined where it cannot be made. On a slip so large that not all ways
   * are tried, those of the line alone are, the other lines made as they are.
   */
  methodsAt(index: number, count: number): readonly string[] | undefined {
    const prepared = this.#among(this.#others, index, count).router?.prepare();
    if (prepared === undefined || 'why' in prepared) return undefined;
    return prepared.routed.lines[index]!.placements.map(({ method }) => method.id);
  }

  #among(lines: readonly LineCandidates[], index: number, count: number): OtherCount {
    const key = `${lines === this.now.lines} ${index} ${count}`;
    let other = this.#known.get(key);
    if (other === undefined) {
      const line = withCount(this.now.lines[index]!.line, count);
      const prints = candidatesOf(this.setting.catalog, line);
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
    return new Router(this.setting, changed, lines.with(index, other));
  }
}

/** The lines of a slip with nothing left to choose. */
function asTheyAre({ lines, model, choice }: Route): LineCandidates[] {
  let slot = 0;
  return lines.map(({ line, prints }) => ({
    line,
    prints: prints.map((print) => {
      const { method } = model.slots[slot]!.options[choice.chosen[slot++]!]!;
      return { ...print, fit: [method] };
    }),
  }));
}
