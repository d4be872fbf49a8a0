import type { CompiledCatalog } from '../catalog/compile.ts';
import { type Alternative, type Reason, reason, type Slip } from '../contract/index.ts';
import { digitsOf } from '../figures.ts';
import { listBreaks, money, writeMoney } from '../pricing/index.ts';
import { dayNumber } from '../promise/index.ts';
import type { LineCandidates } from '../routing/build-model.ts';
import { WORK_LIMIT } from '../routing/choice/search/search.ts';
import { candidatesOf } from '../routing/fit/candidates.ts';
import { type ResolvedLine, withFinish, withMethod } from '../routing/fit/resolve-slip.ts';
import type { RoutedSlip } from '../routing/routed.ts';
import type { OtherCounts } from './other-counts.ts';
import { type NoRoute, type Route, Router, type Setting } from './route.ts';

type Change = Alternative['change'];

/** Count steps offered above the count of a line, at most. */
const STEPS_UP = 2;
/**
 * Lines, from the first, for which alternatives are worked out: each is a quote of the whole slip, so that without an end
 * the work would grow with the square of the lines.
 */
export const LINES_WITH_INSTEAD = 12;
/** Part of the work of a choice that one alternative of a large slip may take; small slips are exact all the same. */
const ASIDE = 0.05;

/** Ways of making an alternative whose day is asked of the plan. */
const ASIDE_ASKS = 32;

/** A setting in which an alternative is worked out: there are many of them. */
export function lowEffort(setting: Setting): Setting {
  return { ...setting, workLimit: WORK_LIMIT * ASIDE, maxPlanQueries: ASIDE_ASKS };
}

/**
 * What else the customer could pick: every other finish and method of each line, the next count steps, rush, and no
 * needed-by date. Each says what it would change, or what rules it out. Worked out anew for the whole slip, so that
 * shared sheets, set-ups and the plan are counted.
 */
export function insteadOf(counts: OtherCounts): Alternative[] {
  return new Instead(counts).all();
}

class Instead {
  readonly #setting: Setting;
  readonly #now: Route;
  readonly #found: Alternative[] = [];
  /** ways worked out so far: other finishes and methods often come to the same work. */
  readonly #known: Route[];
  readonly #otherCounts: OtherCounts;

  constructor(counts: OtherCounts) {
    this.#setting = counts.setting;
    this.#now = counts.now;
    this.#otherCounts = counts;
    this.#known = [counts.now];
  }

  all(): Alternative[] {
    this.#now.lines.slice(0, LINES_WITH_INSTEAD).forEach(({ line }, index) => {
      this.#finishes(line, index);
      this.#methods(line, index);
      this.#counts(line, index);
    });
    this.#rush();
    this.#neededBy();
    return this.#found;
  }

  #finishes(line: ResolvedLine, index: number): void {
    for (const finish of this.#setting.catalog.finishes.values())
      if (finish !== line.finish)
        this.#line(
          { kind: 'finish', line: line.line.id, finish: finish.finish.id },
          withFinish(line, finish),
          index,
        );
  }

  #methods(line: ResolvedLine, index: number): void {
    const used = new Set(this.#now.routed.lines[index]!.placements.map(({ method }) => method.id));
    for (const { id } of this.#setting.catalog.methods)
      if (used.size > 1 || !used.has(id))
        this.#line({ kind: 'method', line: line.line.id, method: id }, withMethod(line, id), index);
  }

  #counts(line: ResolvedLine, index: number): void {
    // A name belongs to its piece: another count would need other names.
    if (line.line.names !== undefined) return;
    for (const count of countSteps(this.#setting.catalog, this.#now.routed, index)) {
      const change: Change = { kind: 'count', line: line.line.id, count };
      const { line: other, router } = this.#otherCounts.at(index, count);
      this.#found.push(
        router === undefined ? this.#unfit(change, other) : this.#routed(change, router, index),
      );
    }
  }

  #rush(): void {
    const { slip } = this.#now;
    if (this.#setting.catalog.catalog.prices.rush === null) return;
    const change: Change = { kind: 'rush', rush: !slip.rush };
    const other = this.#slip(change, { ...slip, rush: !slip.rush }, this.#now.lines);
    // A fee for no earlier day is nothing to offer; without rush the same day is, for less.
    const isVain = change.rush && other.possible && other.dayShift! >= 0;
    this.#found.push(
      isVain
        ? ruledOut(change, reason('rush-brings-nothing-earlier', { day: this.#now.promised.day }))
        : other,
    );
  }

  #neededBy(): void {
    const { neededBy, ...rest } = this.#now.slip;
    if (neededBy !== undefined)
      this.#found.push(this.#slip({ kind: 'needed-by', neededBy: null }, rest, this.#now.lines));
  }

  #line(change: Change, line: ResolvedLine, index: number): void {
    const other = { line, prints: candidatesOf(this.#setting.catalog, line) };
    if (other.prints.some(({ fit }) => fit.length === 0)) {
      this.#found.push(this.#unfit(change, other));
      return;
    }
    const lines = this.#now.lines.with(index, other);
    const slip = { ...this.#now.slip, lines: this.#now.slip.lines.with(index, line.line) };
    this.#found.push(this.#slip(change, slip, lines, index));
  }

  #unfit(change: Change, { prints }: LineCandidates): Alternative {
    const asked = change.kind === 'method' ? change.method : undefined;
    const unfit = prints.filter(({ fit }) => fit.length === 0);
    const reasons = unfit.flatMap((print) => [
      ...print.reasons,
      ...unfitReasons(this.#setting.catalog, print, asked),
    ]);
    return ruledOut(change, ...reasons);
  }

  #slip(change: Change, slip: Slip, lines: readonly LineCandidates[], index?: number): Alternative {
    return this.#routed(change, new Router(this.#setting, slip, lines), index);
  }

  #routed(change: Change, router: Router, index: number | undefined): Alternative {
    const then = router.route(this.#known);
    if ('why' in then) return ruledOut(change, noRouteReason(router.slip, then));
    this.#known.push(then);
    return this.#compared(change, then, index);
  }

  #compared(change: Change, then: Route, index: number | undefined): Alternative {
    const now = this.#now;
    const digits = digitsOf(now.priced.total);
    const difference = money(then.priced.total).minus(now.priced.total);
    const line = index === undefined ? undefined : then.routed.lines[index]!;
    const first = line?.placements[0];
    return {
      change,
      possible: true,
      total: then.priced.total,
      difference: writeMoney(difference, digits),
      ...(index === undefined ? {} : { unit: then.priced.unitOf(index) }),
      day: then.promised.day,
      dayShift: dayNumber(then.promised.day) - dayNumber(now.promised.day),
      ...(first === undefined ? {} : { method: first.method.id, qualities: first.qualities }),
      reasons: [],
    };
  }
}

/** Why no method fits a print; with a method asked for, its reasons alone. */
export function unfitReasons(
  catalog: CompiledCatalog,
  { byMethod }: LineCandidates['prints'][number],
  asked: string | undefined,
): Reason[] {
  return byMethod.flatMap(({ method, reasons }) => {
    const { id } = catalog.methods[method]!;
    if (asked !== undefined && id !== asked) return [];
    return (reasons ?? []).map((each) => ({ ...each, params: { ...each.params, method: id } }));
  });
}

function ruledOut(change: Change, ...reasons: Reason[]): Alternative {
  return { change, possible: false, reasons };
}

/** A slip that cannot be routed, as a reason. */
export function noRouteReason({ neededBy }: Slip, no: NoRoute): Reason {
  switch (no.why) {
    case 'incompatible':
      return reason('not-together-on-a-piece', {});
    case 'too-early':
      return reason('needed-by-too-early', { neededBy: neededBy ?? '', earliest: no.earliest.day });
    case 'plan-full':
      return reason('plan-full', { horizonDays: no.horizonDays });
  }
}

/** The next counts at which the list price of one piece falls; without a list, twice the count. */
function countSteps(catalog: CompiledCatalog, routed: RoutedSlip, index: number): number[] {
  const { pieces } = routed.lines[index]!;
  const breaks = listBreaks(catalog, routed, index);
  if (breaks === undefined) return [pieces * 2];
  return breaks.filter((from) => from > pieces).slice(0, STEPS_UP);
}
