import type { Step } from '../catalog/index.ts';
import type { RoutedLine } from '../routing/routed.ts';
import { type PlacedPrint, type StepWork, workedCm2 } from '../routing/work.ts';

/** Who pays for an item: one line of the slip, or every line by its weight. */
export type Payer = number | (() => readonly number[]);

/** The weight of a print, given with its place among the prints. */
type WeightOf = (print: PlacedPrint, place: number) => number;

/** The line all these prints are for; undefined where they are for several. */
export function onlyLine(prints: readonly PlacedPrint[]): number | undefined {
  const { lineIndex } = prints[0]!;
  return prints.every((print) => print.lineIndex === lineIndex) ? lineIndex : undefined;
}

/**
 * Who pays for what these prints use: their line when they are all for one; else every line by the weights of its prints,
 * or by pieces when all weights are 0.
 */
export function payerOf(
  lines: readonly RoutedLine[],
  prints: readonly PlacedPrint[],
  weight: () => WeightOf,
): Payer {
  const line = onlyLine(prints);
  if (line !== undefined) return line;
  return () => {
    const weightOf = weight();
    const weights = lines.map(() => 0);
    prints.forEach((print, place) => {
      weights[print.lineIndex]! += weightOf(print, place);
    });
    if (weights.some((sum) => sum > 0)) return weights;
    for (const print of prints) weights[print.lineIndex] = print.line.pieces;
    return weights;
  };
}

/** Weights for sheets: by area. */
export function areaWeight({ placement, line }: PlacedPrint): number {
  return workedCm2(placement) * line.pieces;
}

/** Weights for a step's running time: seconds each print takes, had batches and sheets not to be whole. */
export function runWeight(step: Step, prints: readonly PlacedPrint[]): WeightOf {
  const perUnitS = step.perBatchS / step.batchSize + step.perPrintS;
  return (print, place) => {
    const { placement, line, lineIndex } = print;
    const cm2 = areaWeight(print);
    const areaS = cm2 * (step.perCm2S + (placement.white ? step.whitePerCm2S : 0));
    switch (step.per) {
      case 'sheet':
        return perUnitS * cm2 + areaS;
      case 'piece':
        return (prints[place - 1]?.lineIndex === lineIndex ? 0 : perUnitS * line.pieces) + areaS;
      case 'print':
        return perUnitS * line.pieces + areaS;
    }
  };
}

/** Weights for a step's set-ups: that of the order by pieces, that of a design by pieces among those with the design. */
export function setUpWeight(work: StepWork, prints: readonly PlacedPrint[]): WeightOf {
  let pieces = 0;
  const byDesign = new Map<string, number>();
  for (const { placement, line } of prints) {
    pieces += line.pieces;
    byDesign.set(placement.design, (byDesign.get(placement.design) ?? 0) + line.pieces);
  }
  return ({ placement, line }) =>
    (work.setUpPerOrderS * line.pieces) / pieces +
    (work.step.setUpPerDesignS * placement.distinct * line.pieces) / byDesign.get(placement.design)!;
}
