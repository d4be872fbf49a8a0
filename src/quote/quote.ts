import { canonicalJson } from '../canonical-json.ts';
import type { CompiledCatalog } from '../catalog/compile.ts';
import type {
  Fault,
  QuoteAnswer,
  QuotedPlacement,
  QuoteRefusal,
  Reason,
  Rung,
  Slip,
} from '../contract/index.ts';
import { reason } from '../contract/index.ts';
import { tenth } from '../figures.ts';
import { type BillOfCost, ladderOf } from '../pricing/index.ts';
import { type EpochS, type Job, type Plan, releaseTime } from '../promise/index.ts';
import type { LineCandidates } from '../routing/build-model.ts';
import { candidatesOf } from '../routing/fit/candidates.ts';
import { type Lettering, plainLettering } from '../routing/fit/print.ts';
import { findingsForMethod } from '../routing/fit/print-findings.ts';
import { type ArtworkOf, resolveSlip, type SlipFaults } from '../routing/fit/resolve-slip.ts';
import type { RoutedSlip } from '../routing/routed.ts';
import { becauseOf } from './because.ts';
import { insteadOf, LINES_WITH_INSTEAD, lowEffort, noRouteReason } from './instead.ts';
import { flipsOf } from './method-flips.ts';
import { OtherCounts } from './other-counts.ts';
import { findingsOfAll, refusalOf } from './refusal.ts';
import { type NoRoute, type Route, routeSlip, type Setting } from './route.ts';

export type { CompiledCatalog } from '../catalog/compile.ts';
export type { KnownArtwork, Lettering } from '../routing/fit/print.ts';
export type { ArtworkOf } from '../routing/fit/resolve-slip.ts';
export type { RoutedLine, RoutedPlacement, RoutedSlip } from '../routing/routed.ts';

/** All a quote depends on. */
export type QuoteInput = {
  readonly catalog: CompiledCatalog;
  /** as parsed by the contract's `Slip`. */
  readonly slip: Slip;
  readonly artwork: ArtworkOf;
  /** what is booked; its shop compiled from the same catalog (`shopSpecOf`) for at least the calendar's horizon from `now`. */
  readonly plan: Plan;
  /** version of the bookings the plan was made of. */
  readonly planVersion: number;
  readonly now: EpochS;
  /** SHA-256 of a text in UTF-8, 64 hexadecimal digits. */
  readonly hash: (text: string) => string;
  /** leave out `instead` and the ladders. Default false. */
  readonly brief?: boolean | undefined;
  /** the faces of type for names. Default `plainLettering`. */
  readonly lettering?: Lettering | undefined;
  /** end of a job that may use the slack of orders already promised; absent: rush changes the price alone. */
  readonly rushEnd?: ((job: Job, notBefore: EpochS) => EpochS | undefined) | undefined;
};

/** What stands behind a quote; owner only. */
export type QuoteInternal = {
  readonly routed: RoutedSlip;
  readonly bill: BillOfCost;
  /** for the owner alone: where the margin floor raised a price. */
  readonly ownerReasons: readonly Reason[];
  /** the work to book; give it the order's id. */
  readonly job: Job;
  /** nothing of it is booked before this. */
  readonly notBefore: EpochS;
  /** the last step is done. */
  readonly endsAt: EpochS;
  readonly packingS: number;
};

/** A quote, a refusal with its reasons, or the faults of the slip. */
export type QuoteResult =
  | { readonly answer: QuoteAnswer; readonly internal: QuoteInternal; readonly faults?: undefined }
  | { readonly answer: QuoteRefusal; readonly internal?: undefined; readonly faults?: undefined }
  | {
      readonly faults: readonly Fault[];
      readonly code: SlipFaults['code'];
      readonly answer?: undefined;
      readonly internal?: undefined;
    };

/**
 * The one door: methods, price and day for a slip, with the reasons.
 *
 * Refusals are answers with reasons; names the catalog does not know are faults. The answer holds nothing of what
 * things cost the shop; `internal` does, and stays with the owner.
 */
export function quote(input: QuoteInput): QuoteResult {
  const { catalog, slip, plan, now } = input;
  const resolved = resolveSlip(catalog, slip, input.artwork, input.lettering ?? plainLettering);
  if ('faults' in resolved) return resolved;
  const lines: LineCandidates[] = resolved.lines.map((line) => ({
    line,
    prints: candidatesOf(catalog, line),
  }));
  const refused = refusalOf(catalog, lines);
  if (refused !== undefined) return { answer: { ...refusalHead(input), ...refused, instead: [] } };
  const { notBefore, afterCutoff } = releaseTime(plan.shop, now);
  const setting: Setting = { catalog, plan, notBefore, rushEnd: input.rushEnd };
  const route = routeSlip(setting, slip, lines);
  if ('why' in route) return { answer: noRouteAnswer(input, setting, lines, route) };
  return {
    answer: answerOf(input, setting, route, afterCutoff),
    internal: {
      routed: route.routed,
      get bill() {
        return route.bill();
      },
      ownerReasons: route.priced.ownerReasons,
      get job() {
        return route.job();
      },
      notBefore,
      endsAt: route.endsAt,
      packingS: route.packingS,
    },
  };
}

function answerOf(input: QuoteInput, setting: Setting, route: Route, afterCutoff: boolean): QuoteAnswer {
  const { catalog, slip, now } = input;
  const brief = input.brief ?? false;
  const { priced, promised } = route;
  const counts = brief ? undefined : new OtherCounts(lowEffort(setting), route);
  const validUntil = instant(now + 60 * catalog.catalog.shop.quoteMinutes);
  return {
    kind: 'quote',
    at: instant(now),
    validUntil,
    currency: priced.currency,
    catalogVersion: catalog.version,
    slipHash: input.hash(canonicalJson(slip)),
    lines: priced.lines.map((line, index) => ({
      ...line,
      sizes: [...line.sizes],
      charges: [...line.charges],
      placements: placementsOf(route, index),
      ladder: brief ? [] : ladder(catalog, route, index),
    })),
    fees: [...priced.fees],
    subtotal: priced.subtotal,
    tax: priced.tax,
    total: priced.total,
    promise: {
      day: promised.day,
      packedDay: promised.packedDay,
      delivery: slip.delivery,
      planVersion: input.planVersion,
      validUntil,
    },
    because: [
      ...becauseOf(catalog, route, brief ? undefined : freeOf(setting, route)),
      ...dayReasons(catalog, afterCutoff),
      ...priced.reasons,
      ...(counts === undefined
        ? []
        : route.lines.slice(0, LINES_WITH_INSTEAD).flatMap((_, index) => flipsOf(counts, index))),
    ],
    instead: counts === undefined ? [] : insteadOf(counts),
  };
}

function placementsOf(route: Route, index: number): QuotedPlacement[] {
  const routed = route.routed.lines[index]!;
  const { line, prints } = route.lines[index]!;
  return routed.placements.map((placement, place) => ({
    id: placement.id,
    face: placement.face.id,
    method: { id: placement.method.id, name: placement.method.name },
    treatments: placement.treatments.map(({ id }) => id),
    qualities: placement.qualities,
    printedMm: { widthMm: tenth(placement.widthMm), heightMm: tenth(placement.heightMm) },
    findings: [
      ...findingsForMethod(prints[place]!.print, line.cloth.color.hex, line.blank.blank, placement.method),
    ],
  }));
}

function ladder(catalog: CompiledCatalog, route: Route, index: number): Rung[] {
  return [...ladderOf(catalog, route.cheapestRouted, index, route.cheapestBill)];
}

/** The same slip without its needed-by date, to tell what the date decides. */
function freeOf(setting: Setting, route: Route): { readonly route: Route } | undefined {
  const { neededBy, ...rest } = route.slip;
  if (neededBy === undefined) return undefined;
  const free = routeSlip(setting, rest, route.lines, [route]);
  return 'why' in free ? undefined : { route: free };
}

function dayReasons(catalog: CompiledCatalog, afterCutoff: boolean): Reason[] {
  const { cutoff } = catalog.catalog.calendar;
  return afterCutoff && cutoff !== null ? [reason('after-cutoff', { cutoff })] : [];
}

function refusalHead(
  input: QuoteInput,
): Pick<QuoteRefusal, 'kind' | 'at' | 'currency' | 'catalogVersion' | 'slipHash'> {
  return {
    kind: 'refusal',
    at: instant(input.now),
    currency: input.catalog.catalog.shop.currency,
    catalogVersion: input.catalog.version,
    slipHash: input.hash(canonicalJson(input.slip)),
  };
}

/** Every print can be made, but not together, or not in time. */
function noRouteAnswer(
  input: QuoteInput,
  setting: Setting,
  lines: readonly LineCandidates[],
  no: NoRoute,
): QuoteRefusal {
  const { slip, catalog } = input;
  const nearest: Reason[] = [];
  if (no.why === 'too-early') {
    nearest.push(reason('choose-later-day', { day: no.earliest.day }));
    const rushed = rushDay(setting, slip, lines);
    const fee = catalog.catalog.prices.rush?.fee;
    if (rushed !== undefined && fee !== undefined) nearest.unshift(reason('pay-rush', { fee, day: rushed }));
  }
  return {
    ...refusalHead(input),
    reasons: [noRouteReason(slip, no)],
    nearest,
    findings: findingsOfAll(catalog, lines),
    instead: [],
  };
}

/** The day with rush, where the shop offers it and it keeps the needed-by date. */
function rushDay(setting: Setting, slip: Slip, lines: readonly LineCandidates[]): string | undefined {
  if (slip.rush || setting.rushEnd === undefined || setting.catalog.catalog.prices.rush === null)
    return undefined;
  const rushed = routeSlip(setting, { ...slip, rush: true }, lines);
  return 'why' in rushed ? undefined : rushed.promised.day;
}

function instant(epochS: EpochS): string {
  return new Date(epochS * 1000).toISOString();
}
