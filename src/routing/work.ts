import type { CompiledCatalog } from '../catalog/compile.ts';
import type { Method, Station, Step, Treatment } from '../catalog/index.ts';
import { stepsOf } from '../catalog/treatments.ts';
import { memoByKey } from '../memo-by-key.ts';
import type { RoutedLine, RoutedPlacement, RoutedSlip } from './routed.ts';

/** A routed placement with the line it belongs to. */
export type PlacedPrint = {
  readonly lineIndex: number;
  readonly line: RoutedLine;
  readonly placement: RoutedPlacement;
};

/** Sheets a method needs for all its prints of an order, nested together where it gangs. */
export type SheetsOf = (method: Method, prints: readonly PlacedPrint[]) => number;

/** The work of one step for a group of prints, in seconds of its station. */
export type StepWork = {
  readonly step: Step;
  /** none for a wait. */
  readonly station: Station | undefined;
  /** prints, pieces or sheets, as the step counts. */
  readonly units: number;
  /** different prints it is set up for. */
  readonly designs: number;
  readonly setUpPerOrderS: number;
  readonly setUpPerDesignS: number;
  readonly batches: number;
  /** all batches together, spoiled pieces left out. */
  readonly runS: number;
};

/**
 * Work of an order that runs as one: prints of one method on the same stations with the same treatments. Steps on
 * sheets at the head of a recipe form a group of their own for all prints of the method, since prints gang across lines.
 */
export type WorkGroup = {
  readonly kind: 'sheets' | 'pieces';
  readonly method: Method;
  readonly treatments: readonly Treatment[];
  readonly prints: readonly PlacedPrint[];
  readonly steps: readonly StepWork[];
  /** group on whose sheets this one waits: index into the list. */
  readonly afterSheets: number | undefined;
};

/** Area a step that counts cm² works over: the box of the turned print, which is what head or nozzle travels over. */
export function workedCm2(placement: Pick<RoutedPlacement, 'boxWidthMm' | 'boxHeightMm'>): number {
  return (placement.boxWidthMm * placement.boxHeightMm) / 100;
}

/**
 * Seconds a step runs for a number of units (prints, pieces or sheets) and the areas of the prints among them:
 * whole batches, plus time per unit, per cm² and per cm² where white is beneath.
 */
export function runSecondsOf(step: Step, units: number, cm2: number, whiteCm2: number): number {
  return (
    Math.ceil(units / step.batchSize) * step.perBatchS +
    units * step.perPrintS +
    cm2 * step.perCm2S +
    whiteCm2 * step.whitePerCm2S
  );
}

/** Pieces made for every good one. */
export function spoilageFactor({ spoilage }: Method): number {
  return 1 + Number(spoilage);
}

/** Crew time to pack an order, minutes. */
export function packingMinutes({ catalog }: CompiledCatalog, pieces: number): number {
  const { perOrderMin, perPieceMin } = catalog.shop.packing;
  return perOrderMin + perPieceMin * pieces;
}

/** Prints of an order by method and stations, in the order in which they go over a piece. */
export function workGroups(routed: RoutedSlip, sheetsOf: SheetsOf): WorkGroup[] {
  const byMethod = new Map<Method, PlacedPrint[]>();
  routed.lines.forEach((line, lineIndex) => {
    for (const placement of line.placements) {
      const prints = byMethod.get(placement.method);
      if (prints === undefined) byMethod.set(placement.method, [{ lineIndex, line, placement }]);
      else prints.push({ lineIndex, line, placement });
    }
  });
  const methods = [...byMethod.keys()].sort((one, other) => one.workOrder - other.workOrder);
  const groups: WorkGroup[] = [];
  for (const method of methods) addMethod(groups, method, byMethod.get(method)!, sheetsOf);
  return groups;
}

function addMethod(
  groups: WorkGroup[],
  method: Method,
  prints: readonly PlacedPrint[],
  sheetsOf: SheetsOf,
): void {
  let head = 0;
  while (head < method.steps.length && method.steps[head]!.per === 'sheet') head++;
  const sheets = stepsNeedSheets(method) ? sheetsOf(method, prints) : 0;
  const all = sumsOf(prints);
  let afterSheets: number | undefined;
  if (head > 0) {
    afterSheets = groups.length;
    const steps = method.steps.slice(0, head);
    groups.push({
      kind: 'sheets',
      method,
      treatments: [],
      prints,
      steps: steps.map((step) => work(step, prints[0]!, all, sheets)),
      afterSheets: undefined,
    });
  }
  for (const like of alike(prints)) {
    const { treatments } = like[0]!.placement;
    const steps = stepsOf(method, treatments).slice(head);
    const sums = like === prints ? all : sumsOf(like);
    const theirs = like === prints ? sheets : Math.ceil(sheets * (like.length / prints.length));
    groups.push({
      kind: 'pieces',
      method,
      treatments,
      prints: like,
      steps: steps.map((step) => work(step, like[0]!, sums, theirs)),
      afterSheets,
    });
  }
}

function stepsNeedSheets(method: Method): boolean {
  return (
    method.steps.some(({ per }) => per === 'sheet') ||
    method.treatments.some(({ steps }) => steps.some(({ per }) => per === 'sheet'))
  );
}

/** Prints with the same stations and treatments, in the order of the slip. */
function alike(prints: readonly PlacedPrint[]): (readonly PlacedPrint[])[] {
  if (prints.length === 1) return [prints];
  const groups = new Map<string, PlacedPrint[]>();
  for (const print of prints) {
    const key = runKeyOf(print.placement);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [print]);
    else group.push(print);
  }
  return groups.size === 1 ? [prints] : [...groups.values()];
}

/** The same for placements of a method with the same treatments on the same stations. */
const runKeyOf = memoByKey((placement: RoutedPlacement): string => {
  let key = '';
  for (const { id } of placement.treatments) key += `${id} `;
  return key + stationsKeyOf(placement);
});

/** The same for placements on the same stations. */
export function stationsKeyOf({ stations }: Pick<RoutedPlacement, 'stations'>): string {
  let key = '';
  for (const [step, station] of stations) key += `${step}=${station.id} `;
  return key;
}

/** What the steps of a group count. */
type Sums = {
  readonly prints: number;
  readonly pieces: number;
  readonly cm2: number;
  readonly whiteCm2: number;
  readonly designs: number;
};

function sumsOf(group: readonly PlacedPrint[]): Sums {
  let prints = 0;
  let pieces = 0;
  let cm2 = 0;
  let whiteCm2 = 0;
  let lastLine = -1;
  const distinct = new Map<string, number>();
  for (const { lineIndex, line, placement } of group) {
    prints += line.pieces;
    if (lineIndex !== lastLine) pieces += line.pieces;
    lastLine = lineIndex;
    const area = workedCm2(placement) * line.pieces;
    cm2 += area;
    if (placement.white) whiteCm2 += area;
    distinct.set(placement.design, placement.distinct);
  }
  let designs = 0;
  for (const each of distinct.values()) designs += each;
  return { prints, pieces, cm2, whiteCm2, designs };
}

function work(step: Step, first: PlacedPrint, sums: Sums, sheets: number): StepWork {
  const units = step.per === 'print' ? sums.prints : step.per === 'piece' ? sums.pieces : sheets;
  return {
    step,
    station: first.placement.stations.get(step.id),
    units,
    designs: sums.designs,
    setUpPerOrderS: step.setUpPerOrderS,
    setUpPerDesignS: step.setUpPerDesignS * sums.designs,
    batches: Math.max(1, Math.ceil(units / step.batchSize)),
    runS: runSecondsOf(step, units, sums.cm2, sums.whiteCm2),
  };
}
