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

/** Counts the sheets that a method needs for all its prints of an order. */
export type SheetsOf = (method: Method, prints: readonly PlacedPrint[]) => number;

/** The work of one step for a group of prints, in seconds of its station. */
export type StepWork = {
  readonly step: Step;
  /** undefined for a wait. */
  readonly station: Station | undefined;
  /** prints, pieces or sheets, whichever the step counts. */
  readonly units: number;
  /** how many different prints it is set up for. */
  readonly designs: number;
  readonly setUpPerOrderS: number;
  readonly setUpPerDesignS: number;
  readonly batches: number;
  /** all batches together, without spoiled pieces. */
  readonly runS: number;
};

/**
 * Work of an order that runs together: prints of one method on the same stations with the same treatments. Steps on sheets
 * at the start of a recipe form one group for all prints of the method, since prints gang across lines.
 */
export type WorkGroup = {
  readonly kind: 'sheets' | 'pieces';
  readonly method: Method;
  readonly treatments: readonly Treatment[];
  readonly prints: readonly PlacedPrint[];
  readonly steps: readonly StepWork[];
  /** index of the group whose sheets this one needs. */
  readonly afterSheets: number | undefined;
};

/** Area for steps that count cm²: the upright box around the print, which the head or nozzle travels over. */
export function workedCm2(placement: Pick<RoutedPlacement, 'boxWidthMm' | 'boxHeightMm'>): number {
  return (placement.boxWidthMm * placement.boxHeightMm) / 100;
}

/**
 * Seconds that a step runs for `units` prints, pieces or sheets: whole batches, plus time per unit, per cm² and per cm²
 * with white beneath.
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

/** The work of an order in groups, in the order in which the methods come on a piece. */
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
  let firstOnPieces = 0;
  while (firstOnPieces < method.steps.length && method.steps[firstOnPieces]!.per === 'sheet') firstOnPieces++;
  const sheets = stepsNeedSheets(method) ? sheetsOf(method, prints) : 0;
  const all = sumsOf(prints);
  let afterSheets: number | undefined;
  if (firstOnPieces > 0) {
    afterSheets = groups.length;
    const steps = method.steps.slice(0, firstOnPieces);
    groups.push({
      kind: 'sheets',
      method,
      treatments: [],
      prints,
      steps: steps.map((step) => stepWork(step, prints[0]!, all, sheets)),
      afterSheets: undefined,
    });
  }
  for (const group of byRun(prints)) {
    const { treatments } = group[0]!.placement;
    const steps = stepsOf(method, treatments).slice(firstOnPieces);
    const isAll = group === prints;
    const sums = isAll ? all : sumsOf(group);
    const groupSheets = isAll ? sheets : Math.ceil(sheets * (group.length / prints.length));
    groups.push({
      kind: 'pieces',
      method,
      treatments,
      prints: group,
      steps: steps.map((step) => stepWork(step, group[0]!, sums, groupSheets)),
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

/** Prints grouped by stations and treatments, each group in the order of the slip. */
function byRun(prints: readonly PlacedPrint[]): (readonly PlacedPrint[])[] {
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

/** Equal for placements with the same treatments on the same stations. */
const runKeyOf = memoByKey((placement: RoutedPlacement): string => {
  let key = '';
  for (const { id } of placement.treatments) key += `${id} `;
  return key + stationsKeyOf(placement);
});

/** Equal for placements on the same stations. */
export function stationsKeyOf({ stations }: Pick<RoutedPlacement, 'stations'>): string {
  let key = '';
  for (const [step, station] of stations) key += `${step}=${station.id} `;
  return key;
}

/** What steps count in a group of prints. */
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

function stepWork(step: Step, first: PlacedPrint, sums: Sums, sheets: number): StepWork {
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
