import type { CompiledCatalog } from '../catalog/compile.ts';
import { type Alternative, type Reason, reason, type Slip } from '../contract/index.ts';
import { listBreaks, money, writeMoney } from '../pricing/index.ts';
import { dayNumber } from '../promise/index.ts';
import type { LineCandidates } from './build-model.ts';
import { candidatesOf } from './candidates.ts';
import { WORK_LIMIT } from './choose.ts';
import { type ResolvedLine, withCount, withFinish, withMethod } from './resolve.ts';
import { methodsFor, type NoRoute, type Route, routeSlip, type Setting } from './route.ts';
import type { RoutedSlip } from './routed.ts';

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
/** Counts tried for the one at which the method flips. */
const FLIP_COUNTS = [1, 6, 12, 24, 48, 96, 250, 500, 1000] as const;

/**
 * What else the customer could pick: every other finish and method of each line, the next count steps, rush, and no
 * needed-by date. Each says what it would change, or what rules it out. Worked out anew for the whole slip, so that
 * shared sheets, set-ups and the plan are counted.
 */
export function insteadOf(setting: Setting, now: Route): Alternative[] {
  return new Instead({ ...setting, workLimit: WORK_LIMIT * ASIDE }, now).all();
}

class Instead {
  readonly #setting: Setting;
  readonly #now: Route;
  readonly #found: Alternative[] = [];
  /** ways worked out so far: other finishes and methods often come to the same work. */
  readonly #known: Route[];

  constructor(setting: Setting, now: Route) {
    this.#setting = setting;
    this.#now = now;
    this.#known = [now];
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
    for (const count of countSteps(this.#setting.catalog, this.#now.routed, index))
      this.#line({ kind: 'count', line: line.line.id, count }, withCount(line, count), index);
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
    const prints = candidatesOf(this.#setting.catalog, line);
    const unfit = prints.filter(({ fit }) => fit.length === 0);
    if (unfit.length > 0) {
      const asked = change.kind === 'method' ? change.method : undefined;
      const reasons = unfit.flatMap((print) => [
        ...print.reasons,
        ...unfitReasons(this.#setting.catalog, print, asked),
      ]);
      this.#found.push(ruledOut(change, ...reasons));
      return;
    }
    const lines = this.#now.lines.with(index, { line, prints });
    const slip = { ...this.#now.slip, lines: this.#now.slip.lines.with(index, line.line) };
    this.#found.push(this.#slip(change, slip, lines, index));
  }

  #slip(change: Change, slip: Slip, lines: readonly LineCandidates[], index?: number): Alternative {
    const then = routeSlip(this.#setting, slip, lines, this.#known);
    if ('why' in then) return ruledOut(change, noRouteReason(slip, then));
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
    case 'apart':
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

/**
 * The counts of a line nearest to its own, up and down, at which the shop would choose another method for its first
 * placement: found by trying usual counts and halving between the two where it flips.
 */
export function flipsOf(setting: Setting, now: Route, index: number): Reason[] {
  const { line, prints } = now.lines[index]!;
  if (line.line.names !== undefined || line.line.method !== undefined) return [];
  if (prints.every(({ fit }) => fit.length < 2)) return [];
  const own = now.routed.lines[index]!.placements[0]!.method.id;
  const methodAt = (count: number): string | undefined => {
    const other = withCount(line, count);
    const lines = now.lines.with(index, { line: other, prints: candidatesOf(setting.catalog, other) });
    if (lines[index]!.prints.some(({ fit }) => fit.length === 0)) return undefined;
    const slip = { ...now.slip, lines: now.slip.lines.with(index, other.line) };
    const then = methodsFor({ ...setting, workLimit: WORK_LIMIT * ASIDE }, slip, lines);
    return then && then.lines[index]!.placements[0]!.method.id;
  };
  const search = (counts: readonly number[]): { count: number; method: string } | undefined => {
    let same = line.pieces;
    for (const count of counts) {
      const method = methodAt(count);
      if (method === undefined) return undefined;
      if (method === own) {
        same = count;
        continue;
      }
      let flipped = { count, method };
      while (Math.abs(flipped.count - same) > 1) {
        const middle = Math.floor((flipped.count + same) / 2);
        const there = methodAt(middle);
        if (there === undefined || there === own) same = middle;
        else flipped = { count: middle, method: there };
      }
      return flipped;
    }
    return undefined;
  };
  const up = search(FLIP_COUNTS.filter((count) => count > line.pieces));
  const down = search(FLIP_COUNTS.filter((count) => count < line.pieces).reverse());
  const at = `lines.${line.index}`;
  return [
    ...(up === undefined ? [] : [reason('method-flips-at', up, at)]),
    ...(down === undefined ? [] : [reason('method-flips-below', down, at)]),
  ];
}

function digitsOf(amount: string): number {
  return amount.split('.')[1]?.length ?? 0;
}
