import { stepsOf } from '../catalog/treatments.ts';
import type { RoutedSlip } from '../routing/routed.ts';

/** Cautions for the shop floor or for the buyer of the goods. */
export const CAUTION_CODES = [
  'hot-surface',
  'curing-fumes',
  'spray-mist',
  'moving-parts',
  'electric',
  'childrens',
  'drinkware',
  'food',
] as const;
export type CautionCode = (typeof CAUTION_CODES)[number];

/** A caution and its source: stations for hazards of the work, lines for uses of the goods. */
export type Caution = {
  readonly code: CautionCode;
  readonly text: string;
  readonly stations: readonly string[];
  readonly lines: readonly string[];
};

/** Ends every caution: those who make or service the equipment know better. */
export const CAUTION_DEFERS =
  "Where they differ, the maker's data sheet, local codes and licensed practice come first.";

const TEXTS: Readonly<Record<CautionCode, string>> = {
  'hot-surface':
    'Presses and dryers burn at a touch, also for a while after they are off. Keep hands, hair and loose cloth clear; wear gloves made for heat.',
  'curing-fumes':
    'Heated inks, toners, films and pretreatment give off fumes. Run the extraction, keep the room aired, and stop when eyes or throat sting.',
  'spray-mist':
    'Sprayed pretreatment hangs in the air as mist. Close the cabinet, run the extraction, keep it off skin and out of eyes and lungs.',
  'moving-parts':
    'Platens, carriages and belts pinch and pull. Keep hands, hair and loose cloth out while they run.',
  electric:
    'Live parts lie behind the covers. Pull the plug before opening them; leave repairs to those trained for it.',
  childrens:
    "Goods for children: use only inks, films and threads whose makers state that they are meant for children's wear, and keep that statement with the order. Nothing small may come off. Sleepwear has rules of its own.",
  drinkware:
    'Drinking vessels: keep all print off the rim and everything that touches the lip or the drink, as the face of the blank says.',
  food: 'Goods that touch food: print only on the outside, with materials whose makers state that they are meant for it.',
};

/** All cautions of an order, each once: for the hazards of its steps and for the uses of its blanks. */
export function cautionsOf(routed: RoutedSlip): Caution[] {
  const stations = new Map<CautionCode, Set<string>>();
  const lines = new Map<CautionCode, Set<string>>();
  const add = (to: Map<CautionCode, Set<string>>, code: CautionCode, id: string): void => {
    const ids = to.get(code);
    if (ids === undefined) to.set(code, new Set([id]));
    else ids.add(id);
  };
  for (const { line, blank, placements } of routed.lines) {
    for (const use of blank.use) add(lines, use, line.id);
    for (const { method, treatments, stations: chosen } of placements)
      for (const step of stepsOf(method, treatments))
        for (const hazard of step.hazards) add(stations, hazard, chosen.get(step.id)?.id ?? step.id);
  }
  return CAUTION_CODES.flatMap((code): Caution[] => {
    if (!stations.has(code) && !lines.has(code)) return [];
    return [
      {
        code,
        text: `${TEXTS[code]} ${CAUTION_DEFERS}`,
        stations: [...(stations.get(code) ?? [])],
        lines: [...(lines.get(code) ?? [])],
      },
    ];
  });
}
