import type { CompiledCatalog } from '../catalog/compile.ts';
import { piecesOf, type Slip } from '../contract/index.ts';
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
import { longestStepS } from '../routing/job.ts';
import { packingMinutes } from '../routing/work.ts';

/** What a slip is routed with. */
export type RouteContext = {
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
  /** ways to make a slip whose day may be asked of the plan; absent: a limit that depends on the size of the slip. */
  readonly maxPlanQueries?: number | undefined;
};

/** What the plan says of one slip. */
export class PlanQuery {
  /** packing, open seconds of the shop. */
  readonly packingS: number;
  /** how the slip leaves the shop. */
  readonly rule: DeliveryRule;
  readonly #context: RouteContext;
  readonly #rush: boolean;

  constructor(context: RouteContext, slip: Slip) {
    const { catalog } = context;
    const pieces = slip.lines.reduce((sum, line) => sum + piecesOf(line), 0);
    const { kind, workingDays } = catalog.deliveries.get(slip.delivery)!;
    this.packingS = 60 * packingMinutes(catalog, pieces);
    this.rule = { kind, workingDays, handOverBy: null };
    this.#context = context;
    this.#rush = slip.rush;
  }

  get horizonDays(): number {
    return this.#context.plan.shop.days;
  }

  /** End of the job in the plan; Infinity when it cannot be placed, or not by `giveUpAfter`. */
  endOf(job: Job, giveUpAfter: EpochS = Number.POSITIVE_INFINITY): EpochS {
    const { plan, notBefore, rushEnd } = this.#context;
    if (longestStepS(job) > plan.shop.to - plan.shop.from) return Number.POSITIVE_INFINITY;
    const rushed = this.#rush ? rushEnd?.(job, notBefore) : undefined;
    return rushed ?? completionTime(plan, job, notBefore, giveUpAfter);
  }

  /** The day promised when the work ends then; undefined when it is beyond the plan. */
  promiseFor(endsAt: EpochS): PromisedDay | undefined {
    if (!Number.isFinite(endsAt)) return undefined;
    return promiseDay(this.#context.plan.shop, endsAt, this.packingS, this.rule) ?? undefined;
  }

  /** The latest end of work that keeps a needed-by date; undefined when none does. */
  latestEndFor(day: string): EpochS | undefined {
    const { shop } = this.#context.plan;
    return latestEnd(shop, { day, packingS: this.packingS, rule: this.rule }) ?? undefined;
  }

  /** Open time of each station until an instant, ms: no choice can load it longer. */
  openMs(stations: readonly string[], by: EpochS): number[] {
    const { plan, notBefore } = this.#context;
    const { shop } = plan;
    return stations.map((id) => {
      const station = shop.stations.get(id);
      if (station === undefined) return 0;
      let openS = 0;
      for (let unit = 0; unit < station.count; unit++) {
        const { hours } = shop.units[station.firstUnit + unit]!;
        openS = Math.max(openS, hours.openSecondsAt(by) - hours.openSecondsAt(notBefore));
      }
      return openS * 1000;
    });
  }
}
