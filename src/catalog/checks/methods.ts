import type { Method, Step, Treatment } from '../method.ts';
import type { Finish, Station } from '../shop.ts';
import { bestVariant } from '../treatments.ts';
import { type FaultList, type Sections, withIndex } from './sections.ts';

/** Checks methods, stations and finishes, and their references to each other. */
export function checkMethods(sections: Sections, list: FaultList): void {
  for (const what of ['stations', 'methods', 'finishes', 'deliveries'] as const) {
    list.requireUnique(
      what,
      sections[what].map(({ index, item }) => ({ index, id: item.id })),
      what.replace(/ies$/, 'y').replace(/(?<=h)es$|s$/, ''),
    );
  }
  const stations = new Map(sections.stations.map(({ item }) => [item.id, item]));
  for (const { index, item } of sections.methods)
    checkMethod(`methods.${index}`, item, sections, stations, list);
  checkFinishes(sections, list);
  checkStations(sections, list);
}

function checkMethod(
  at: string,
  method: Method,
  sections: Sections,
  stations: ReadonlyMap<string, Station>,
  list: FaultList,
): void {
  const { limits } = method;
  list.requireUnique(`${at}.consumables`, withIndex(method.consumables), 'consumable');
  list.requireUnique(`${at}.treatments`, withIndex(method.treatments), 'treatment');
  checkSteps(at, method, sections, stations, list);
  method.notWith.forEach((id, index) => {
    list.requireKnown(`${at}.notWith.${index}`, id, sections.ids.methods, 'method');
  });
  if (limits.goodDpi < limits.leastDpi)
    list.add(
      `${at}.limits.goodDpi`,
      limits.goodDpi,
      'the good dpi is under the least',
      `at least ${limits.leastDpi}`,
    );
  if (limits.clothLightness && limits.clothLightness.least > limits.clothLightness.most)
    list.add(
      `${at}.limits.clothLightness.least`,
      limits.clothLightness.least,
      'the least cloth lightness is over the most',
      `at most ${limits.clothLightness.most}`,
    );
  const most = limits.pieces?.most ?? null;
  if (limits.pieces && most !== null && limits.pieces.least > most)
    list.add(
      `${at}.limits.pieces.least`,
      limits.pieces.least,
      'the least piece count is over the most',
      `at most ${most}`,
    );
  if (Number(method.spoilage) >= 1)
    list.add(`${at}.spoilage`, method.spoilage, 'every piece would be spoiled', 'less than 1');
  method.consumables.forEach(({ driver }, index) => {
    if (driver.kind !== 'per-sheet') return;
    const room = Math.min(driver.sheetWidthMm, driver.sheetHeightMm) - 2 * driver.marginMm;
    if (room <= 0)
      list.add(
        `${at}.consumables.${index}.driver.marginMm`,
        driver.marginMm,
        'the margins leave nothing of the sheet',
        `less than ${Math.min(driver.sheetWidthMm, driver.sheetHeightMm) / 2} mm`,
      );
  });
  if (!method.consumables.some(({ driver }) => driver.kind === 'per-sheet'))
    for (const [place, step] of stepsOf(at, method))
      if (step.per === 'sheet')
        list.add(
          `${place}.per`,
          'sheet',
          'the method has no consumable that comes in sheets',
          'print, piece',
        );
}

/** The steps of the method and of its treatments, with their paths. */
function stepsOf(at: string, method: Method): [string, Step][] {
  return [
    ...method.steps.map((step, index): [string, Step] => [`${at}.steps.${index}`, step]),
    ...method.treatments.flatMap((treatment: Treatment, t) =>
      treatment.steps.map((step, index): [string, Step] => [`${at}.treatments.${t}.steps.${index}`, step]),
    ),
  ];
}

function checkSteps(
  at: string,
  method: Method,
  sections: Sections,
  stations: ReadonlyMap<string, Station>,
  list: FaultList,
): void {
  const steps = stepsOf(at, method);
  const first = new Map<string, string>();
  for (const [place, step] of steps) {
    const before = first.get(step.id);
    if (before === undefined) first.set(step.id, place);
    else list.add(`${place}.id`, step.id, `step "${step.id}" is there twice`, `an id not used by ${before}`);
    step.stations.forEach((id, index) => {
      list.requireKnown(`${place}.stations.${index}`, id, sections.ids.stations, 'station');
    });
    if (step.stations.length === 0) checkWait(place, step, list);
    // A step per sheet works on the flat sheet, whatever the surface of the piece.
    const anyKnown = step.stations.some((id) => stations.has(id));
    const unseen = step.stations.some((id) => sections.ids.stations.has(id) && !stations.has(id));
    if (!anyKnown || unseen) continue;
    const surfaces = step.per === 'sheet' ? (['flat'] as const) : method.limits.surfaces;
    for (const surface of surfaces)
      if (!step.stations.some((id) => stations.get(id)?.surfaces.includes(surface)))
        list.add(
          `${place}.stations`,
          step.stations.join(', '),
          `none of the stations of step "${step.id}" takes the surface "${surface}"`,
          step.per === 'sheet'
            ? 'a station that takes flat sheets'
            : 'a station for every surface the method takes, or fewer surfaces',
        );
  }
  if (steps.every(([, step]) => step.stations.length === 0))
    list.add(
      `${at}.steps`,
      'only waits',
      'no step of the method uses a station',
      'at least one step with a station',
    );
  else if (!method.steps.some((step) => step.onBed))
    list.add(
      `${at}.steps`,
      'no step with "onBed"',
      'no step of the method lies on a bed, so nothing bounds the size of its prints',
      'at least one step with onBed: true',
    );
}

function checkWait(place: string, step: Step, list: FaultList): void {
  const runs = step.perBatchS + step.perPrintS + step.perCm2S + step.whitePerCm2S;
  if (runs > 0 || step.setUpPerOrderS + step.setUpPerDesignS > 0)
    list.add(
      `${place}.stations`,
      'none',
      'a step with set-up or running time needs a station',
      'at least one station',
    );
  if (step.onBed) list.add(`${place}.onBed`, true, 'a wait lies on no bed', 'false');
}

function checkFinishes(sections: Sections, list: FaultList): void {
  const treatments = new Set(
    sections.methods.flatMap(({ item }) => item.treatments.map((treatment) => treatment.id)),
  );
  for (const { index, item } of sections.finishes) {
    const at = `finishes.${index}`;
    const { glossLeast, glossMost } = item.bounds;
    const crossed = glossLeast !== undefined && glossMost !== undefined && glossLeast > glossMost;
    if (crossed)
      list.add(
        `${at}.bounds.glossLeast`,
        glossLeast,
        'the least gloss is over the most',
        `at most ${glossMost}`,
      );
    if (!sections.complete.methods) continue;
    item.treatments.forEach((id, place) => {
      list.requireKnown(`${at}.treatments.${place}`, id, treatments, 'treatment of any method');
    });
    if (
      !crossed &&
      sections.methods.length > 0 &&
      !sections.methods.some(({ item: method }) => bestVariant(method, item).meets)
    )
      list.add(
        `${at}.bounds`,
        boundsText(item),
        `no method can meet the finish "${item.id}"`,
        'bounds that at least one method meets, with or without its treatments',
      );
  }
}

function boundsText(finish: Finish): string {
  return Object.entries(finish.bounds)
    .map(([bound, value]) => `${bound} ${value}`)
    .join(', ');
}

function checkStations(sections: Sections, list: FaultList): void {
  const sizes = new Set(sections.blanks.flatMap(({ item }) => item.sizes.map(({ id }) => id)));
  for (const { index, item } of sections.stations) {
    const at = `stations.${index}`;
    for (const [size, bed] of Object.entries(item.bedBySize)) {
      if (sections.complete.blanks)
        list.requireKnown(`${at}.bedBySize.${size}`, size, sizes, 'size of any blank');
      if (bed.widthMm > item.bedWidthMm || bed.heightMm > item.bedHeightMm)
        list.add(
          `${at}.bedBySize.${size}`,
          `${bed.widthMm} x ${bed.heightMm} mm`,
          'the bed of a size is larger than the bed',
          `at most ${item.bedWidthMm} x ${item.bedHeightMm} mm`,
        );
    }
    item.maintenance.forEach(({ from, to }, place) => {
      if (from >= to)
        list.add(
          `${at}.maintenance.${place}.to`,
          to,
          'the maintenance ends before it begins',
          `after ${from}`,
        );
    });
  }
}
