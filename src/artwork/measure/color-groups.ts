import type { ColorGroup } from '../../contract/facts.ts';
import { hexOfRgb } from '../color/hex.ts';
import { lightnessOfRgb } from '../color/lab.ts';
import { separate, whiteFor } from '../color/separation.ts';
import type { ColorBin } from './pixel-stats.ts';

/** Most color groups of an artwork. */
export const MAX_GROUPS = 512;

/** The color groups, most ink first, and the group of each bin. */
export type Grouping = {
  readonly groups: ColorGroup[];
  /** index in `groups` by bin number; only bins with ink. */
  readonly groupOfBin: ReadonlyMap<number, number>;
};

/**
 * Quantizes the color histogram to at most 512 groups. Up to 512 bins are kept as they are. More are split by variance:
 * starting with one box of all bins, the box with the largest weighted variance is split at the mean of its axis of
 * largest variance. Ink is computed for each bin before grouping, so its sums do not depend on the groups.
 */
export function groupColors(bins: readonly ColorBin[]): Grouping {
  const boxes = bins.length <= MAX_GROUPS ? bins.map((bin) => [bin]) : splitByVariance(bins);
  const summaries = boxes.map((members) => ({ members, group: summarize(members) }));
  summaries.sort((one, other) => other.group.alphaSum - one.group.alphaSum);
  const groupOfBin = new Map<number, number>();
  summaries.forEach(({ members }, index) => {
    for (const member of members) groupOfBin.set(member.bin, index);
  });
  return { groups: summaries.map(({ group }) => group), groupOfBin };
}

function summarize(members: readonly ColorBin[]): ColorGroup {
  let alpha = 0;
  let red = 0;
  let green = 0;
  let blue = 0;
  let c = 0;
  let m = 0;
  let y = 0;
  let k = 0;
  let w = 0;
  for (const bin of members) {
    const inks = separate(bin.red, bin.green, bin.blue);
    alpha += bin.alpha;
    red += bin.alpha * bin.red;
    green += bin.alpha * bin.green;
    blue += bin.alpha * bin.blue;
    c += bin.alpha * inks.c;
    m += bin.alpha * inks.m;
    y += bin.alpha * inks.y;
    k += bin.alpha * inks.k;
    w += bin.alpha * whiteFor(lightnessOfRgb(bin.red, bin.green, bin.blue));
  }
  return {
    hex: hexOfRgb(red / alpha, green / alpha, blue / alpha),
    alphaSum: alpha / 255,
    cSum: Math.max(0, c / 255),
    mSum: Math.max(0, m / 255),
    ySum: Math.max(0, y / 255),
    kSum: k / 255,
    wSum: w / 255,
  };
}

type Axis = 'red' | 'green' | 'blue';
type Box = { members: ColorBin[]; axis: Axis; mean: number; variance: number };

function splitByVariance(bins: readonly ColorBin[]): ColorBin[][] {
  const boxes: Box[] = [boxOf([...bins])];
  while (boxes.length < MAX_GROUPS) {
    let widest = 0;
    for (let index = 1; index < boxes.length; index++)
      if (boxes[index]!.variance > boxes[widest]!.variance) widest = index;
    const { members, axis, mean, variance } = boxes[widest]!;
    if (variance <= 0) break;
    const low = members.filter((bin) => bin[axis] <= mean);
    const high = members.filter((bin) => bin[axis] > mean);
    boxes[widest] = boxOf(low);
    boxes.push(boxOf(high));
  }
  return boxes.map((box) => box.members);
}

function boxOf(members: ColorBin[]): Box {
  let alpha = 0;
  const sum = { red: 0, green: 0, blue: 0 };
  const squares = { red: 0, green: 0, blue: 0 };
  for (const bin of members) {
    alpha += bin.alpha;
    for (const axis of ['red', 'green', 'blue'] as const) {
      sum[axis] += bin.alpha * bin[axis];
      squares[axis] += bin.alpha * bin[axis] * bin[axis];
    }
  }
  let best: Axis = 'green';
  let variance = -1;
  for (const axis of ['green', 'red', 'blue'] as const) {
    const own = members.length < 2 ? 0 : squares[axis] - (sum[axis] * sum[axis]) / alpha;
    if (own > variance) {
      variance = own;
      best = axis;
    }
  }
  const mean = sum[best] / alpha;
  // Equal values may differ from their mean by rounding: nothing to split.
  const canSplit = members.some((bin) => bin[best] <= mean) && members.some((bin) => bin[best] > mean);
  return { members, axis: best, mean, variance: canSplit ? variance : 0 };
}
