import type { Catalog } from '../catalog/index.ts';
import type { EpochS, PromisedDay } from '../promise/index.ts';
import { type Choice, type ChooseOptions, gapFrom } from '../routing/choice/choice.ts';
import { choose, hasMoreCombinations, isEnumerable } from '../routing/choice/choose.ts';
import type { ChoiceModel } from '../routing/choice/model.ts';
import type { Objective } from '../routing/choice/objective.ts';
import type { PlanQuery, RouteContext } from './plan-query.ts';

/** Why a slip cannot be made although every print has a method that fits. */
export type NoRoute =
  | { readonly why: 'incompatible' }
  | { readonly why: 'too-early'; readonly earliest: PromisedDay }
  | { readonly why: 'plan-full'; readonly horizonDays: number };

/** After every day a promise can have. */
const LAST_DAY = '9999-12-31';
/** Up to this many combinations are all asked of the plan when the earliest day is wanted. */
const DAYS_COMPARED = 256;
/** Ways whose day is asked of the plan where a day is to be kept: all combinations, where all are tried. */
const MAX_PLAN_QUERIES = 1024;
/** The same where they are searched: each takes a millisecond or more. */
const MAX_PLAN_QUERIES_OF_SEARCH = 128;

/** A slip whose methods are chosen. */
export type ChoiceInput = {
  readonly model: ChoiceModel;
  readonly plan: PlanQuery;
  /** end of the work when made with these options; Infinity when it cannot be placed, or not by `giveUpAfter`. */
  readonly endOf: (chosen: readonly number[], giveUpAfter?: EpochS) => EpochS;
  readonly policy: Catalog['prices']['choose'];
  readonly neededBy: string | undefined;
  readonly limits: Pick<RouteContext, 'workLimit' | 'maxPlanQueries'>;
};

/** What the needed-by date requires of a choice. */
type DayBound = ChooseOptions & {
  /** the work must end by then. */
  readonly by?: EpochS;
  /** whether a choice was refused because the plan had been asked too often. */
  readonly wasCut?: () => boolean;
};

/** Chooses the methods of a slip by the owner's policy, keeping its needed-by date. */
export class MethodChoice {
  readonly #input: ChoiceInput;
  readonly #maxPlanQueries: number;
  /** undefined when no end of work keeps the needed-by date. */
  readonly #bound: DayBound | undefined;

  constructor(input: ChoiceInput) {
    this.#input = input;
    this.#maxPlanQueries =
      input.limits.maxPlanQueries ??
      (isEnumerable(input.model) ? MAX_PLAN_QUERIES : MAX_PLAN_QUERIES_OF_SEARCH);
    this.#bound = this.#dayBound();
  }

  /** The cheapest choice that keeps the day; undefined when there is none. */
  cheapest(): Choice | undefined {
    const bound = this.#bound;
    return bound && (this.#choose({ kind: 'least-cost' }, bound) ?? this.#fastest(bound));
  }

  /**
   * The choice that the owner's policy prefers.
   *
   * @param cheapest what `cheapest` returned
   * @param worth what the slip sells for, millionths of the currency's unit
   */
  preferred(cheapest: Choice, worth: number): { readonly choice: Choice; readonly objective: Objective } {
    const objective = this.#objective(worth);
    return { choice: this.#preferred(cheapest, objective, this.#bound!), objective };
  }

  /** Why there is no choice. */
  whyNone(): NoRoute {
    const { model, plan, neededBy, endOf } = this.#input;
    const full: NoRoute = { why: 'plan-full', horizonDays: plan.horizonDays };
    if (choose(model, { kind: 'least-cost' }) === undefined) return { why: 'incompatible' };
    if (neededBy === undefined) return full;
    const fastest = choose(model, this.#leastLoad())!;
    const earliest = plan.promiseFor(endOf(fastest.chosen));
    return earliest === undefined ? full : { why: 'too-early', earliest };
  }

  #dayBound(): DayBound | undefined {
    const { model, plan, neededBy, limits } = this.#input;
    const { workLimit } = limits;
    if (neededBy === undefined) return { workLimit };
    const by = plan.latestEndFor(neededBy);
    if (by === undefined) return undefined;
    return { by, workLimit, ...this.#endsBy(by), capacityMs: plan.openMs(model.stations, by) };
  }

  /** Whether a choice ends by an instant; never so once the plan was asked often enough. */
  #endsBy(by: EpochS): Pick<DayBound, 'accept' | 'wasCut'> {
    const known = new Map<string, boolean>();
    let cut = false;
    return {
      accept: (chosen) => {
        const key = chosen.join();
        let ends = known.get(key);
        if (ends === undefined && known.size < this.#maxPlanQueries) {
          ends = this.#input.endOf(chosen, by) <= by;
          known.set(key, ends);
        }
        cut ||= ends === undefined;
        return ends ?? false;
      },
      wasCut: () => cut,
    };
  }

  /** Chooses within a bound. A choice that the plan was not asked about may be better: then the gap says by how much. */
  #choose(objective: Objective, bound: DayBound): Choice | undefined {
    const { model } = this.#input;
    const choice = choose(model, objective, bound);
    if (choice === undefined || !bound.wasCut?.()) return choice;
    const { workLimit, capacityMs } = bound;
    const best = choose(model, objective, { workLimit, capacityMs });
    return best === undefined ? choice : { ...choice, gap: gapFrom(objective, choice, best) };
  }

  /** Where no choice the plan was asked about is in time: the one with the least load, if that is. */
  #fastest({ by, workLimit }: DayBound): Choice | undefined {
    if (by === undefined) return undefined;
    const { model, endOf } = this.#input;
    const fastest = choose(model, this.#leastLoad(), { workLimit });
    if (fastest === undefined || endOf(fastest.chosen, by) > by) return undefined;
    const choice = this.#asChoice(fastest.chosen);
    const least = choose(model, { kind: 'least-cost' }, { workLimit })!;
    return { ...choice, gap: gapFrom({ kind: 'least-cost' }, choice, least) };
  }

  /** The owner's policy as an objective. */
  #objective(worth: number): Objective {
    switch (this.#input.policy) {
      case 'lowest-price':
        return { kind: 'least-cost' };
      case 'earliest':
        return this.#leastLoad();
      case 'margin-per-bottleneck-minute':
        return { kind: 'best-rate', worth };
    }
  }

  #leastLoad(): Objective {
    return { kind: 'least-load', startsMs: this.#input.model.stations.map(() => 0) };
  }

  #preferred(cheapest: Choice, objective: Objective, bound: DayBound): Choice {
    const { model } = this.#input;
    const hasNoOther = model.slots.every(({ options }) => options.length === 1);
    if (objective.kind === 'least-cost' || hasNoOther) return cheapest;
    const comparesDays =
      objective.kind === 'least-load' &&
      !hasMoreCombinations(model, Math.min(this.#maxPlanQueries, DAYS_COMPARED));
    if (comparesDays) return this.#earliest(cheapest);
    return this.#choose(objective, bound) ?? cheapest;
  }

  /** The choice with the earliest promise, all being asked of the plan. */
  #earliest(cheapest: Choice): Choice {
    const { model, plan, endOf } = this.#input;
    const dayOf = (endsAt: EpochS): string => plan.promiseFor(endsAt)?.day ?? LAST_DAY;
    let best = cheapest.chosen;
    let bestEnd = endOf(best);
    let bestDay = dayOf(bestEnd);
    choose(
      model,
      { kind: 'least-cost' },
      {
        accept: (chosen) => {
          const end = endOf(chosen, bestEnd);
          const day = dayOf(end);
          if (day < bestDay || (day === bestDay && end < bestEnd)) {
            bestEnd = end;
            bestDay = day;
            best = [...chosen];
          }
          // Refused, so that every combination is asked about.
          return false;
        },
      },
    );
    return best === cheapest.chosen ? cheapest : this.#asChoice(best);
  }

  /** These options, evaluated. */
  #asChoice(chosen: readonly number[]): Choice {
    const { model } = this.#input;
    const slots = model.slots.map(({ line, options }, slot) => ({
      line,
      options: [options[chosen[slot]!]!],
    }));
    return { ...choose({ ...model, slots }, { kind: 'least-cost' })!, chosen };
  }
}
