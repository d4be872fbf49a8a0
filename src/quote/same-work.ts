import type { RoutedPlacement, RoutedSlip } from '../routing/routed.ts';

/** Whether two routed slips are the same work: pieces, prints, methods, treatments and stations. */
export function isSameWork(one: RoutedSlip, other: RoutedSlip): boolean {
  return (
    one.lines.length === other.lines.length &&
    one.lines.every((line, index) => {
      const twin = other.lines[index]!;
      return (
        line.pieces === twin.pieces &&
        line.color === twin.color &&
        line.blank === twin.blank &&
        line.placements.length === twin.placements.length &&
        line.placements.every((placement, place) => isSamePrint(placement, twin.placements[place]!))
      );
    })
  );
}

function isSamePrint(one: RoutedPlacement, other: RoutedPlacement): boolean {
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
