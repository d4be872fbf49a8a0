import type { Slip } from '../contract/index.ts';
import {
  type BillOfCost,
  costOf,
  type Money,
  money,
  nestedSheets,
  type PricedSlip,
  priceSlip,
} from '../pricing/index.ts';
import type { DeliveryRule, EpochS, Job, PromisedDay } from '../promise/index.ts';
import { buildModel, type LineCandidates } from '../routing/build-model.ts';
import type { Choice } from '../routing/choice/choice.ts';
import type { ChoiceModel } from '../routing/choice/model.ts';
import type { Objective } from '../routing/choice/objective.ts';
import { jobOf } from '../routing/job.ts';
import type { RoutedSlip } from '../routing/routed.ts';
import { MICRO } from '../routing/unit-costs.ts';
import { MethodChoice, type NoRoute } from './method-choice.ts';
import { PlanQuery, type RouteContext } from './plan-query.ts';
import { isSameWork } from './same-work.ts';

/** A slip with its methods chosen, costed and priced, before the plan is asked for its day. */
export type PricedRoute = {
  readonly choice: Choice;
  /** what it was chosen by. */
  readonly objective: Objective;
  readonly routed: RoutedSlip;
  readonly priced: PricedSlip;
  /** the cheapest way that keeps the day, on which the price stands and from which other counts are priced. */
  readonly cheapest: Choice;
  readonly cheapestRouted: RoutedSlip;
  readonly cheapestBill: BillOfCost;
};

/** A slip with its methods chosen, costed, priced and promised. */
export type Route = PricedRoute & {
  readonly slip: Slip;
  readonly lines: readonly LineCandidates[];
  readonly model: ChoiceModel;
  readonly bill: BillOfCost;
  /** worked out when first asked for. */
  readonly job: () => Job;
  readonly endsAt: EpochS;
  readonly packingS: number;
  readonly rule: DeliveryRule;
  readonly promised: PromisedDay;
  /** the slip's total if it were made with these options. */
  readonly priceOf: (chosen: readonly number[]) => Money;
  /** the day if it were made with these options; undefined when it is beyond the plan. */
  readonly dayOf: (chosen: readonly number[]) => string | undefined;
};

/**
 * Chooses, costs, prices and promises. Every print must have a method that fits.
 *
 * The price stands on the cheapest way that keeps the needed-by date, whatever way the shop then prefers: a customer
 * never pays for the shop's preference.
 *
 * @param known routes in the same context: where the work is the same, so is its end, and the plan is not asked again
 */
export function routeSlip(
  context: RouteContext,
  slip: Slip,
  lines: readonly LineCandidates[],
  known: readonly Route[] = [],
): Route | NoRoute {
  return new Router(context, slip, lines).route(known);
}

/** Routes a slip in two steps. The first needs the plan only when there is a day to keep. */
export class Router {
  readonly slip: Slip;
  readonly #context: RouteContext;
  readonly #lines: readonly LineCandidates[];
  readonly #model: ChoiceModel;
  readonly #plan: PlanQuery;
  #priced: PricedRoute | NoRoute | undefined;

  constructor(context: RouteContext, slip: Slip, lines: readonly LineCandidates[]) {
    this.slip = slip;
    this.#context = context;
    this.#lines = lines;
    this.#model = buildModel(context.catalog, lines);
    this.#plan = new PlanQuery(context, slip);
  }

  /** Chooses and prices, once. */
  price(): PricedRoute | NoRoute {
    this.#priced ??= this.#price();
    return this.#priced;
  }

  #price(): PricedRoute | NoRoute {
    const { catalog } = this.#context;
    const methods = new MethodChoice({
      model: this.#model,
      plan: this.#plan,
      endOf: (chosen, giveUpAfter) => this.#endOf(chosen, giveUpAfter),
      policy: catalog.catalog.prices.choose,
      neededBy: this.slip.neededBy,
      limits: this.#context,
    });
    const cheapest = methods.cheapest();
    if (cheapest === undefined) return methods.whyNone();
    const cheapestRouted = this.#routedOf(cheapest.chosen);
    const cheapestBill = costOf(catalog, cheapestRouted);
    const priced = priceSlip(catalog, cheapestRouted, cheapestBill);
    const { choice, objective } = methods.preferred(cheapest, priced.net.toNumber() * MICRO);
    const isCheapest = choice.chosen.every((option, slot) => option === cheapest.chosen[slot]);
    const routed = isCheapest ? cheapestRouted : this.#routedOf(choice.chosen);
    return { choice, objective, routed, priced, cheapest, cheapestRouted, cheapestBill };
  }

  /** Chooses, prices and promises, as `routeSlip`. */
  route(known: readonly Route[]): Route | NoRoute {
    const pricedRoute = this.price();
    if ('why' in pricedRoute) return pricedRoute;
    const { routed, cheapestRouted, cheapestBill } = pricedRoute;
    const { catalog } = this.#context;
    let job: Job | undefined;
    const jobOnce = (): Job => {
      job ??= jobOf(routed, 'quote', nestedSheets);
      return job;
    };
    const same = known.find(
      (other) => other.slip.rush === this.slip.rush && isSameWork(routed, other.routed),
    );
    const endsAt = same === undefined ? this.#plan.endOf(jobOnce()) : same.endsAt;
    const promised = this.#plan.promiseFor(endsAt);
    if (promised === undefined) return { why: 'plan-full', horizonDays: this.#plan.horizonDays };
    return {
      ...pricedRoute,
      slip: this.slip,
      lines: this.#lines,
      model: this.#model,
      bill: routed === cheapestRouted ? cheapestBill : costOf(catalog, routed),
      job: jobOnce,
      endsAt,
      packingS: this.#plan.packingS,
      rule: this.#plan.rule,
      promised,
      priceOf: (chosen) => this.#priceOf(chosen),
      dayOf: (chosen) => this.#plan.promiseFor(this.#endOf(chosen))?.day,
    };
  }

  #endOf(chosen: readonly number[], giveUpAfter?: EpochS): EpochS {
    return this.#plan.endOf(jobOf(this.#routedOf(chosen), 'quote', nestedSheets), giveUpAfter);
  }

  #priceOf(chosen: readonly number[]): Money {
    const { catalog } = this.#context;
    const routed = this.#routedOf(chosen);
    return money(priceSlip(catalog, routed, costOf(catalog, routed)).total);
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
