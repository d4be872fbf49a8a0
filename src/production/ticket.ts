import type { Method } from '../catalog/index.ts';
import { hundredth } from '../figures.ts';
import type { RoutedLine, RoutedPlacement, RoutedSlip } from '../routing/routed.ts';
import { type PlacedPrint, type WorkGroup, workGroups } from '../routing/work.ts';
import { cautionsOf } from './cautions.ts';
import { eachSheet, planSheets, type SheetPlan } from './sheet-plan.ts';
import type {
  Named,
  Ticket,
  TicketHead,
  TicketLine,
  TicketPlacement,
  TicketSheets,
  TicketWork,
} from './ticket-types.ts';

/** The ticket of an order. */
export function ticketOf(routed: RoutedSlip, head: TicketHead): Ticket {
  const plans = new Map<Method, readonly SheetPlan[]>();
  const groups = workGroups(routed, (method, prints) => {
    const planned = planSheets(method, prints);
    plans.set(method, planned);
    return planned[0]?.sheets ?? 0;
  });
  // `workGroups` asks only for methods with a step that runs per sheet.
  for (const [method, prints] of printsByMethod(routed))
    if (!plans.has(method)) plans.set(method, planSheets(method, prints));
  return {
    ...head,
    delivery: routed.slip.delivery,
    pieces: routed.lines.reduce((sum, { pieces }) => sum + pieces, 0),
    lines: routed.lines.map(lineOf),
    work: groups.map(workOf),
    sheets: [...plans.values()].flat().map(sheetsOf),
    cautions: cautionsOf(routed),
  };
}

function printsByMethod(routed: RoutedSlip): Map<Method, PlacedPrint[]> {
  const byMethod = new Map<Method, PlacedPrint[]>();
  routed.lines.forEach((line, lineIndex) => {
    for (const placement of line.placements) {
      const prints = byMethod.get(placement.method) ?? [];
      prints.push({ lineIndex, line, placement });
      byMethod.set(placement.method, prints);
    }
  });
  return byMethod;
}

function named({ id, name }: Named): Named {
  return { id, name };
}

function lineOf(routed: RoutedLine): TicketLine {
  const { line, blank, color, finish, pieces } = routed;
  const inWorkOrder = [...routed.placements].sort(
    (one, other) => one.method.workOrder - other.method.workOrder,
  );
  return {
    id: line.id,
    blank: named(blank),
    color: { ...named(color), hex: color.hex },
    finish: named(finish),
    pieces,
    counts: line.counts.map(({ size, count }) => ({
      size: named(blank.sizes.find(({ id }) => id === size)!),
      count,
    })),
    placements: inWorkOrder.map((placement) => placementOf(routed, placement)),
  };
}

function placementOf({ line }: RoutedLine, placement: RoutedPlacement): TicketPlacement {
  const names = line.names?.id === placement.id ? line.names : undefined;
  const artwork = line.placements.find(({ id }) => id === placement.id);
  const { xMm, yMm, angleDeg } = (names ?? artwork)!;
  return {
    id: placement.id,
    face: named(placement.face),
    method: named(placement.method),
    treatments: placement.treatments.map(named),
    xMm: hundredth(xMm),
    yMm: hundredth(yMm),
    angleDeg: hundredth(angleDeg),
    widthMm: hundredth(placement.widthMm),
    heightMm: hundredth(placement.heightMm),
    white: placement.white,
    chokeMm: placement.method.chokeMm,
    ...(artwork === undefined ? {} : { artwork: artwork.artwork }),
    ...(names === undefined ? {} : { names: names.entries }),
  };
}

function workOf({ method, prints, steps }: WorkGroup): TicketWork {
  return {
    method: named(method),
    prints: prints.map(({ line, placement }) => ({ line: line.line.id, placement: placement.id })),
    steps: steps.map((work) => ({
      id: work.step.id,
      name: work.step.name,
      station: work.station && named(work.station),
      per: work.step.per,
      units: work.units,
      batches: work.batches,
      batchSize: work.step.batchSize,
      waitS: work.step.waitS,
      setUpS: hundredth(work.setUpPerOrderS + work.setUpPerDesignS),
      runS: hundredth(work.runS),
      settings: work.step.settings,
      hazards: work.step.hazards,
    })),
  };
}

function sheetsOf(plan: SheetPlan): TicketSheets {
  type Layout = TicketSheets['layouts'][number];
  const layouts: { times: number; prints: Layout['prints']; key: string }[] = [];
  for (const sheet of eachSheet(plan)) {
    const prints = sheet.map(({ print, copy, xMm, yMm, turned }) => {
      const { line, placement } = print;
      const { names } = line.line;
      const text = names?.id === placement.id ? names.entries[copy]?.text : undefined;
      return {
        line: line.line.id,
        placement: placement.id,
        ...(text === undefined ? {} : { text }),
        xMm: hundredth(xMm),
        yMm: hundredth(yMm),
        turned,
      };
    });
    const key = JSON.stringify(prints);
    const last = layouts.at(-1);
    if (last?.key === key) last.times++;
    else layouts.push({ times: 1, prints, key });
  }
  return {
    method: named(plan.method),
    consumable: named(plan.consumable),
    widthMm: plan.sheet.widthMm,
    heightMm: plan.sheet.heightMm,
    sheets: plan.sheets,
    layouts: layouts.map(({ times, prints }) => ({ times, prints })),
  };
}
