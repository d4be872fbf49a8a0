import type { CompiledCatalog } from '../catalog/compile.ts';
import type { Method } from '../catalog/index.ts';
import { type Reason, type ReasonCode, reason } from '../contract/index.ts';
import { outcomeOf } from '../routing/choice/model.ts';
import { isBetter, scoreOf } from '../routing/choice/objective.ts';
import type { PrintCandidates } from '../routing/fit/candidates.ts';
import type { RoutedLine, RoutedPlacement } from '../routing/routed.ts';
import type { Route } from './route.ts';

/** From this many pieces on it is worth saying that one set-up serves them all. */
const MANY_PIECES = 12;

/** A reason with its weight: heavier ones come first. */
type Weighed = { readonly weight: number; readonly reason: Reason };

/** Weights of the kinds of reasons: what leaves no choice, then what decides it, then what follows from it. */
const WEIGHT = {
  only: 100,
  finish: 90,
  day: 80,
  policy: 70,
  pieces: 50,
  white: 40,
  treatment: 35,
  bound: 10,
};

/** The quality that a bound of a finish limits, and the parameter that holds it. */
const QUALITY: Partial<Record<ReasonCode, { quality: string; param: string }>> = {
  'hand-too-thick': { quality: 'hand', param: 'hand' },
  'gloss-out-of-bounds': { quality: 'gloss', param: 'gloss' },
  'wash-life-too-short': { quality: 'washLife', param: 'washLife' },
  'breathability-too-low': { quality: 'breathability', param: 'breathability' },
};

/**
 * Why the methods are what they are, heaviest reason first. A reason that holds for several placements is given once. No
 * cost is in it.
 *
 * @param free the route without the needed-by date, where the slip has one
 */
export function becauseOf(
  catalog: CompiledCatalog,
  route: Route,
  free: { readonly route: Route } | undefined,
): Reason[] {
  const found: Weighed[] = [];
  let slot = 0;
  route.routed.lines.forEach((line, index) => {
    route.lines[index]!.prints.forEach((candidates, place) => {
      ofPlacement(catalog, route, found, line, candidates, line.placements[place]!, slot, free);
      slot++;
    });
  });
  if (route.choice.gap > 0)
    found.push({
      weight: WEIGHT.bound,
      reason: reason('bound-reached', { gap: Number(route.choice.gap.toPrecision(3)) }),
    });
  return merged(found);
}

function ofPlacement(
  catalog: CompiledCatalog,
  route: Route,
  found: Weighed[],
  line: RoutedLine,
  candidates: PrintCandidates,
  placement: RoutedPlacement,
  slot: number,
  free: { readonly route: Route } | undefined,
): void {
  const { at } = candidates.print;
  const method = placement.method.id;
  const add = (weight: number, code: ReasonCode, params: Reason['params']): void => {
    found.push({ weight, reason: reason(code, params, at) });
  };
  const isRequested = line.line.method !== undefined;
  if (candidates.fit.length === 1 && !isRequested && catalog.methods.length > 1) {
    add(WEIGHT.only, 'only-fit', { method });
    for (const candidate of candidates.byMethod)
      for (const other of mainReason(candidate.reasons))
        found.push({
          weight: WEIGHT.only - 1,
          reason: withMethod(other, catalog.methods[candidate.method]!),
        });
    finishAsks(catalog, found, line, candidates, at);
  } else if (candidates.fit.length > 1) decided(catalog, route, add, candidates, placement, slot, free);
  if (placement.distinct > 1) add(WEIGHT.pieces, 'each-different', { pieces: line.pieces });
  else if (line.pieces >= MANY_PIECES) add(WEIGHT.pieces, 'many-alike', { pieces: line.pieces, method });
  if (placement.white)
    add(WEIGHT.white, 'underbase-needed', {
      lightness: Math.round(route.lines.find((each) => each.line.line === line.line)!.line.cloth.lab[0]),
      color: line.color.id,
    });
  for (const { id } of placement.treatments)
    add(WEIGHT.treatment, 'treatment-added', { treatment: id, finish: line.finish.id });
}

/** The main reason: the first that is not about the finish, which has a reason of its own. */
function mainReason(reasons: readonly Reason[] | undefined): readonly Reason[] {
  const main = reasons?.find(({ code }) => QUALITY[code] === undefined);
  return main === undefined ? [] : [main];
}

function withMethod(one: Reason, method: Method): Reason {
  return { ...one, params: { ...one.params, method: method.id } };
}

/** Where nothing but the finish rules another method out, the finish decides. */
function finishAsks(
  catalog: CompiledCatalog,
  found: Weighed[],
  line: RoutedLine,
  candidates: PrintCandidates,
  at: string,
): void {
  for (const { reasons, method } of candidates.byMethod) {
    const miss = reasons?.[0];
    if (miss === undefined || reasons!.some(({ code }) => QUALITY[code] === undefined)) continue;
    const { quality, param } = QUALITY[miss.code]!;
    const value = miss.params['most'] ?? miss.params['least']!;
    found.push({
      weight: WEIGHT.finish,
      reason: reason(
        'finish-asks',
        {
          finish: line.finish.id,
          quality,
          value,
          other: catalog.methods[method]!.id,
          otherValue: miss.params[param]!,
        },
        at,
      ),
    });
  }
}

/** Several methods fit: the needed-by date decided, or the shop's policy. */
function decided(
  catalog: CompiledCatalog,
  route: Route,
  add: (weight: number, code: ReasonCode, params: Reason['params']) => void,
  candidates: PrintCandidates,
  placement: RoutedPlacement,
  slot: number,
  free: { readonly route: Route } | undefined,
): void {
  const method = placement.method.id;
  const freeMethod = free && free.route.model.slots[slot]!.options[free.route.choice.chosen[slot]!]!.method;
  const { neededBy } = route.slip;
  if (freeMethod !== undefined && neededBy !== undefined && catalog.methods[freeMethod]!.id !== method) {
    add(WEIGHT.day, 'keeps-needed-by', {
      neededBy,
      method,
      other: catalog.methods[freeMethod]!.id,
      otherDay: free!.route.promised.day,
    });
    return;
  }
  const other = runnerUp(route, slot);
  if (other === undefined) return;
  const otherMethod = catalog.methods[candidates.fit[other.option]!]!.id;
  if (other.equal) {
    add(WEIGHT.policy, 'equal-so-listed-first', { method, other: otherMethod });
    return;
  }
  const chosen = route.choice.chosen.with(slot, other.option);
  switch (catalog.catalog.prices.choose) {
    case 'lowest-price': {
      const difference = route.priceOf(chosen).minus(route.priceOf(route.choice.chosen));
      // Where the price is the same, it must not be called lower.
      if (difference.gt(0)) {
        add(WEIGHT.policy, 'lowest-price', { method, other: otherMethod, difference: difference.toFixed() });
        return;
      }
      break;
    }
    case 'earliest': {
      const otherDay = route.dayOf(chosen);
      const { day } = route.promised;
      if (otherDay !== undefined && otherDay > day) {
        add(WEIGHT.policy, 'earliest-day', { method, other: otherMethod, day, otherDay });
        return;
      }
      break;
    }
    case 'margin-per-bottleneck-minute':
      break;
  }
  add(WEIGHT.policy, 'best-margin-rate', { method, other: otherMethod });
}

/** The best other option of a slot with all else as chosen, and whether it is as good. */
function runnerUp(
  route: Route,
  slot: number,
): { readonly option: number; readonly equal: boolean } | undefined {
  const { model, choice } = route;
  const scored = (option: number) => {
    const chosen = choice.chosen.with(slot, option);
    const { cost, loads } = outcomeOf(model, chosen);
    return scoreOf(route.objective, cost, loads, 0);
  };
  const own = scored(choice.chosen[slot]!);
  let best: { option: number; score: ReturnType<typeof scored> } | undefined;
  for (let option = 0; option < model.slots[slot]!.options.length; option++) {
    if (option === choice.chosen[slot]) continue;
    const score = scored(option);
    if (best === undefined || isBetter(score, best.score)) best = { option, score };
  }
  return best && { option: best.option, equal: !isBetter(own, best.score) && !isBetter(best.score, own) };
}

/** Heaviest first, then in the order of the slip. A reason that repeats is kept for the first place it holds for. */
function merged(found: readonly Weighed[]): Reason[] {
  const order = found.map((each, index) => ({ ...each, index }));
  order.sort((one, other) => other.weight - one.weight || one.index - other.index);
  const seen = new Set<string>();
  return order.flatMap(({ reason: each }) => {
    const key = `${each.code} ${JSON.stringify(each.params)}`;
    if (seen.has(key)) return [];
    seen.add(key);
    return [each];
  });
}
