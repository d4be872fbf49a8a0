import type { CompiledCatalog } from '../catalog/compile.ts';
import { piecesOf, type Slip } from '../contract/index.ts';
import {
  type BillOfCost,
  costOf,
  type Money,
  money,
  nestedSheets,
  type PricedSlip,
  priceSlip,
} from '../pricing/index.ts';
import {
  completionTime,
  type DeliveryRule,
  type EpochS,
  type Job,
  latestEnd,
  type Plan,
  type PromisedDay,
  promiseDay,
} from '../promise/index.ts';
import { buildModel, type LineCandidates } from '../routing/build-model.ts';
import { type Choice, type ChooseOptions, gapFrom } from '../routing/choice/choice.ts';
import { choose, hasMoreCombinations, isEnumerable } from '../routing/choice/choose.ts';
import type { ChoiceModel } from '../routing/choice/model.ts';
import type { Objective } from '../routing/choice/objective.ts';
import { jobOf, longestStepS } from '../routing/job.ts';
import type { RoutedPlacement, RoutedSlip } from '../routing/routed.ts';
import { MICRO } from '../routing/unit-costs.ts';
import { packingMinutes } from '../routing/work.ts';

/** What a slip is routed against. */
export type Setting = {
  readonly catalog: CompiledCatalog;
  readonly plan: Plan;
  /** nothing is made before this. */
  readonly notBefore: EpochS;
  /**
   * end of a job that may use the slack of orders already promised, never later than without; absent: rush changes the
   * price alone.
   */
  readonly rushEnd: ((job: Job, notBefore: EpochS) => EpochS | undefined) | undefined;
  /** options a search for the choice may look at; absent: `WORK_LIMIT`. */
  readonly workLimit?: number | undefined;
  /** ways of making a slip whose day may be asked of the plan; absent: `ASKED_OF_PLAN` or, of a large slip, `ASKED_OF_MANY`. */
  readonly maxPlanQueries?: number | undefined;
};

/** A slip with its methods chosen, costed, priced and promised. */
export type Route = {
  readonly slip: Slip;
  readonly lines: readonly LineCandidates[];
  readonly model: ChoiceModel;
  readonly choice: Choice;
  /** what it was chosen by. */
  readonly objective: Objective;
  /** the cheapest way that keeps the day, on which the price stands. */
  readonly cheapest: Choice;
  readonly routed: RoutedSlip;
  /** worked out when asked for. */
  readonly bill: () => BillOfCost;
  readonly priced: PricedSlip;
  /** the cheapest way and its cost, from which other counts are priced. */
  readonly cheapestRouted: RoutedSlip;
  readonly cheapestBill: BillOfCost;
  /** worked out when asked for. */
  readonly job: () => Job;
  readonly endsAt: EpochS;
  readonly packingS: number;
  readonly promised: PromisedDay;
  /** the slip's total if it were made that way. */
  readonly priceOf: (chosen: readonly number[]) => Money;
  /** the day if it were made that way; undefined: not within the plan. */
  readonly dayOf: (chosen: readonly number[]) => string | undefined;
};

/** Why a slip whose prints all have a fit method cannot be made all the same. */
export type NoRoute =
  | { readonly why: 'incompatible' }
  | { readonly why: 'too-early'; readonly earliest: PromisedDay }
  | { readonly why: 'plan-full'; readonly horizonDays: number };

/** Packing, open seconds of the shop. */
export function packingSeconds(catalog: CompiledCatalog, slip: Slip): number {
  return (
    60 *
    packingMinutes(
      catalog,
      slip.lines.reduce((sum, line) => sum + piecesOf(line), 0),
    )
  );
}

/** How the slip leaves the shop. */
export function deliveryRule(catalog: CompiledCatalog, slip: Slip): DeliveryRule {
  const { kind, workingDays } = catalog.deliveries.get(slip.delivery)!;
  return { kind, workingDays, handOverBy: null };
}

/**
 * Chooses, costs, prices and promises. Every print must have a fit method.
 *
 * The price stands on the cheapest way that keeps the needed-by date, whatever way the shop then prefers: a customer
 * never pays for the shop's preference.
 *
 * @param known routes of the same setting: where the work is the same, so is its end, and the plan is not asked again
 */
export function routeSlip(
  setting: Setting,
  slip: Slip,
  lines: readonly LineCandidates[],
  known: readonly Route[] = [],
): Route | NoRoute {
  return new Router(setting, slip, lines).route(known);
}

/** What a route is before the plan is asked for its day. */
export type Prepared = Pick<
  Route,
  'choice' | 'objective' | 'cheapest' | 'routed' | 'priced' | 'cheapestRouted' | 'cheapestBill'
>;

/** A slip about to be routed: its methods and price are worked out without the plan, unless there is a day to keep. */
export class Router {
  #prepared: Prepared | NoRoute | undefined;
  readonly #setting: Setting;
  readonly slip: Slip;
  readonly #lines: readonly LineCandidates[];
  readonly #model: ChoiceModel;
  readonly #packingS: number;
  readonly #rule: DeliveryRule;
  readonly #asks: number;

  constructor(setting: Setting, slip: Slip, lines: readonly LineCandidates[]) {
    this.#setting = setting;
    this.slip = slip;
    this.#lines = lines;
    this.#model = buildModel(setting.catalog, lines);
    this.#packingS = packingSeconds(setting.catalog, slip);
    this.#rule = deliveryRule(setting.catalog, slip);
    this.#asks = setting.maxPlanQueries ?? (isEnumerable(this.#model) ? ASKED_OF_PLAN : ASKED_OF_MANY);
  }

  /** Chooses and prices, once. */
  prepare(): Prepared | NoRoute {
    this.#prepared ??= this.#prepare();
    return this.#prepared;
  }

  #prepare(): Prepared | NoRoute {
    const { catalog } = this.#setting;
    const bound = this.#bound();
    const cheapest = bound && (this.#choose({ kind: 'least-cost' }, bound) ?? this.#fastest(bound));
    if (bound === undefined || cheapest === undefined) return this.#whyNot(this.slip.neededBy !== undefined);
    const cheapestRouted = this.#routedOf(cheapest.chosen);
    const cheapestBill = costOf(catalog, cheapestRouted);
    const priced = priceSlip(catalog, cheapestRouted, cheapestBill);
    const objective = this.#objective(priced.net.toNumber() * MICRO);
    const choice = this.#preferred(cheapest, objective, bound);
    const same = choice.chosen.every((option, slot) => option === cheapest.chosen[slot]);
    const routed = same ? cheapestRouted : this.#routedOf(choice.chosen);
    return { choice, objective, cheapest, routed, priced, cheapestRouted, cheapestBill };
  }

  /** As `routeSlip`. */
  route(known: readonly Route[]): Route | NoRoute {
    const prepared = this.prepare();
    if ('why' in prepared) return prepared;
    const { routed, cheapestRouted, cheapestBill } = prepared;
    const { catalog, plan } = this.#setting;
    let made: Job | undefined;
    const job = (): Job => {
      made ??= jobOf(routed, 'quote', nestedSheets);
      return made;
    };
    let billed: BillOfCost | undefined = routed === cheapestRouted ? cheapestBill : undefined;
    const same = known.find((other) => other.slip.rush === this.slip.rush && sameWork(routed, other.routed));
    const endsAt = same === undefined ? this.#endOf(job()) : same.endsAt;
    const promised = Number.isFinite(endsAt)
      ? promiseDay(plan.shop, endsAt, this.#packingS, this.#rule)
      : undefined;
    if (promised === undefined) return this.#full();
    return {
      ...prepared,
      slip: this.slip,
      lines: this.#lines,
      model: this.#model,
      bill: () => {
        billed ??= costOf(catalog, routed);
        return billed;
      },
      job,
      endsAt,
      packingS: this.#packingS,
      promised,
      priceOf: (chosen) => this.#priceOf(chosen),
      dayOf: (chosen) => this.#dayOf(this.#endOf(this.#jobOf(chosen))),
    };
  }

  /** What the needed-by date asks of a choice; undefined when no end of work can keep it. */
  #bound(): Bound | undefined {
    const { neededBy } = this.slip;
    const { workLimit } = this.#setting;
    if (neededBy === undefined) return { workLimit };
    const by = latestEnd(this.#setting.plan.shop, {
      day: neededBy,
      packingS: this.#packingS,
      rule: this.#rule,
    });
    return by === undefined
      ? undefined
      : { by, workLimit, ...this.#endsBy(by), capacityMs: this.#openMs(by) };
  }

  /** Chooses within a bound. What was not asked about for want of asks may be better: then the gap says by how much. */
  #choose(objective: Objective, bound: Bound): Choice | undefined {
    const choice = choose(this.#model, objective, bound);
    if (choice === undefined || !bound.wasCut?.()) return choice;
    const { workLimit, capacityMs } = bound;
    const best = choose(this.#model, objective, { workLimit, capacityMs });
    return best === undefined ? choice : { ...choice, gap: gapFrom(objective, choice, best) };
  }

  /** The owner's policy as an objective. */
  #objective(worth: number): Objective {
    switch (this.#setting.catalog.catalog.prices.choose) {
      case 'lowest-price':
        return { kind: 'least-cost' };
      case 'earliest':
        return { kind: 'least-load', startsMs: this.#model.stations.map(() => 0) };
      case 'margin-per-bottleneck-minute':
        return { kind: 'best-rate', worth };
    }
  }

  #preferred(cheapest: Choice, objective: Objective, bound: Bound): Choice {
    const oneWay = this.#model.slots.every(({ options }) => options.length === 1);
    if (objective.kind === 'least-cost' || oneWay) return cheapest;
    if (objective.kind === 'least-load') return this.#earliest(cheapest, objective, bound);
    return this.#choose(objective, bound) ?? cheapest;
  }

  /**
   * The earliest promise. Few enough combinations are all asked of the plan; of more, the one that is through first by
   * its stations' loads alone.
   */
  #earliest(cheapest: Choice, objective: Objective, bound: Bound): Choice {
    if (hasMoreCombinations(this.#model, Math.min(this.#asks, DAYS_COMPARED)))
      return this.#choose(objective, bound) ?? cheapest;
    let best = cheapest;
    let bestEnd = this.#endOf(this.#jobOf(cheapest.chosen));
    let bestDay = this.#dayOf(bestEnd) ?? LAST_DAY;
    choose(
      this.#model,
      { kind: 'least-cost' },
      {
        accept: (chosen) => {
          const end = this.#endOf(this.#jobOf(chosen), bestEnd);
          const day = this.#dayOf(end) ?? LAST_DAY;
          if (day < bestDay || (day === bestDay && end < bestEnd)) {
            bestEnd = end;
            bestDay = day;
            best = { ...cheapest, chosen: [...chosen] };
          }
          // Never taken, so that every choice is asked about.
          return false;
        },
      },
    );
    return best === cheapest ? best : this.#settled(best.chosen);
  }

  #settled(chosen: readonly number[]): Choice {
    const only: ChoiceModel = {
      ...this.#model,
      slots: this.#model.slots.map(({ line, options }, slot) => ({
        line,
        options: [options[chosen[slot]!]!],
      })),
    };
    return { ...choose(only, { kind: 'least-cost' })!, chosen };
  }

  #priceOf(chosen: readonly number[]): Money {
    const routed = this.#routedOf(chosen);
    return money(priceSlip(this.#setting.catalog, routed, costOf(this.#setting.catalog, routed)).total);
  }

  #dayOf(endsAt: EpochS): string | undefined {
    const promised = Number.isFinite(endsAt)
      ? promiseDay(this.#setting.plan.shop, endsAt, this.#packingS, this.#rule)
      : undefined;
    return promised?.day;
  }

  #whyNot(withDay: boolean): NoRoute {
    if (choose(this.#model, { kind: 'least-cost' }) === undefined) return { why: 'incompatible' };
    if (!withDay) return this.#full();
    const fastest = choose(this.#model, { kind: 'least-load', startsMs: this.#model.stations.map(() => 0) })!;
    const endsAt = this.#endOf(this.#jobOf(fastest.chosen));
    const earliest = Number.isFinite(endsAt)
      ? promiseDay(this.#setting.plan.shop, endsAt, this.#packingS, this.#rule)
      : undefined;
    return earliest === undefined ? this.#full() : { why: 'too-early', earliest };
  }

  #full(): NoRoute {
    return { why: 'plan-full', horizonDays: this.#setting.plan.shop.days };
  }

  /** Whether a way of making the slip ends by an instant; never so once the plan was asked often enough. */
  #endsBy(by: EpochS): Pick<Bound, 'accept' | 'wasCut'> {
    const known = new Map<string, boolean>();
    let cut = false;
    return {
      accept: (chosen) => {
        const key = chosen.join();
        let ends = known.get(key);
        if (ends === undefined && known.size < this.#asks) {
          ends = this.#endOf(this.#jobOf(chosen), by) <= by;
          known.set(key, ends);
        }
        cut ||= ends === undefined;
        return ends ?? false;
      },
      wasCut: () => cut,
    };
  }

  /** Where none of the ways asked about is in time: the one with least load, if that is. */
  #fastest({ by, workLimit }: Bound): Choice | undefined {
    if (by === undefined) return undefined;
    const startsMs = this.#model.stations.map(() => 0);
    const fastest = choose(this.#model, { kind: 'least-load', startsMs }, { workLimit });
    if (fastest === undefined || this.#endOf(this.#jobOf(fastest.chosen), by) > by) return undefined;
    const choice = this.#settled(fastest.chosen);
    const least = choose(this.#model, { kind: 'least-cost' }, { workLimit })!;
    return { ...choice, gap: gapFrom({ kind: 'least-cost' }, choice, least) };
  }

  #jobOf(chosen: readonly number[]): Job {
    return jobOf(this.#routedOf(chosen), 'quote', nestedSheets);
  }

  /** End of the job in the plan; Infinity when it cannot be placed, or not by `giveUpAfter`. */
  #endOf(job: Job, giveUpAfter: EpochS = Number.POSITIVE_INFINITY): EpochS {
    const { plan, notBefore, rushEnd } = this.#setting;
    if (longestStepS(job) > plan.shop.to - plan.shop.from) return Number.POSITIVE_INFINITY;
    const rushed = this.slip.rush ? rushEnd?.(job, notBefore) : undefined;
    return rushed ?? completionTime(plan, job, notBefore, giveUpAfter);
  }

  /** Open time of each station until an instant, ms: no choice can load it longer. */
  #openMs(by: EpochS): number[] {
    const { shop } = this.#setting.plan;
    return this.#model.stations.map((id) => {
      const station = shop.stations.get(id);
      if (station === undefined) return 0;
      let most = 0;
      for (let unit = 0; unit < station.count; unit++) {
        const { hours } = shop.units[station.firstUnit + unit]!;
        most = Math.max(most, hours.openSecondsAt(by) - hours.openSecondsAt(this.#setting.notBefore));
      }
      return most * 1000;
    });
  }

  #routedOf(chosen: readonly number[]): RoutedSlip {
    let slot = 0;
    return {
      slip: this.slip,
      lines: this.#lines.map(({ line, prints }) => ({
        line: line.line,
        blank: line.blank.blank,
        color: line.cloth.color,
        finish: line.finish.finish,
        pieces: line.pieces,
        placements: prints.map(({ fit, byMethod }) => byMethod[fit[chosen[slot++]!]!]!.routed!),
      })),
    };
  }
}

/** What binds a choice, and the instant by which its work must end. */
type Bound = ChooseOptions & {
  readonly by?: EpochS;
  /** whether some choice was turned down without the plan being asked. */
  readonly wasCut?: () => boolean;
};

/** After every day a promise can have. */
const LAST_DAY = '9999-12-31';
/** Combinations that are all asked of the plan when the earliest day is wanted. */
const DAYS_COMPARED = 256;
/** Ways whose day is asked of the plan where one is to be kept: all there are of those that are simply all tried. */
const ASKED_OF_PLAN = 1024;
/** The same of those that are searched: each takes a millisecond and more. */
const ASKED_OF_MANY = 128;

/** Whether two routed slips are the same work for the floor: pieces, prints, methods, treatments and stations. */
function sameWork(one: RoutedSlip, other: RoutedSlip): boolean {
  return (
    one.lines.length === other.lines.length &&
    one.lines.every((line, index) => {
      const twin = other.lines[index]!;
      return (
        line.pieces === twin.pieces &&
        line.color === twin.color &&
        line.blank === twin.blank &&
        line.placements.length === twin.placements.length &&
        line.placements.every((placement, place) => samePrint(placement, twin.placements[place]!))
      );
    })
  );
}

function samePrint(one: RoutedPlacement, other: RoutedPlacement): boolean {
  if (one === other) return true;
  return (
    one.design === other.design &&
    one.method === other.method &&
    one.face === other.face &&
    one.boxWidthMm === other.boxWidthMm &&
    one.boxHeightMm === other.boxHeightMm &&
    one.treatments.length === other.treatments.length &&
    one.treatments.every((treatment, index) => treatment === other.treatments[index]) &&
    [...one.stations].every(([step, station]) => other.stations.get(step) === station)
  );
}
