import type { Method, Step } from '../catalog/index.ts';
import type { LocalText } from '../contract/index.ts';
import { hundredth } from '../figures.ts';
import type { RoutedLine, RoutedPlacement, RoutedSlip } from '../routing/routed.ts';
import { type PlacedPrint, type WorkGroup, workGroups } from '../routing/work.ts';
import { type Caution, cautionsOf } from './cautions.ts';
import { eachSheet, planSheets, type SheetPlan } from './sheet-plan.ts';

/** A thing of the catalog as the floor reads it. */
export type Named = { readonly id: string; readonly name: LocalText };

/** A print as it is placed on its piece. */
export type TicketPlacement = {
  readonly id: string;
  readonly face: Named;
  readonly method: Named;
  readonly treatments: readonly Named[];
  /** center of the ink: mm right of the face's center line, mm below its top edge. */
  readonly xMm: number;
  readonly yMm: number;
  /** degrees clockwise. */
  readonly angleDeg: number;
  /** ink box before turning. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** white is printed beneath. */
  readonly white: boolean;
  /** how far the white is pulled in, mm. */
  readonly chokeMm: number;
  /** of an artwork: the content hash of its file. */
  readonly artwork?: string;
  /** of names: one for every piece, by size, in the order of the list. */
  readonly names?: readonly { readonly size: string; readonly text: string }[];
};

export type TicketLine = {
  readonly id: string;
  readonly blank: Named;
  readonly color: Named & { readonly hex: string };
  readonly finish: Named;
  readonly pieces: number;
  readonly counts: readonly { readonly size: Named; readonly count: number }[];
  /** in the order in which they go on the piece. */
  readonly placements: readonly TicketPlacement[];
};

/** A step as it is worked: settings from the recipe, amounts from the order. */
export type TicketStep = {
  readonly id: string;
  readonly name: LocalText;
  /** none for a wait. */
  readonly station: Named | undefined;
  readonly per: Step['per'];
  /** prints, pieces or sheets to run, spoiled ones not counted. */
  readonly units: number;
  readonly batches: number;
  readonly batchSize: number;
  readonly waitS: number;
  readonly setUpS: number;
  readonly runS: number;
  readonly settings: Step['settings'];
  readonly hazards: Step['hazards'];
};

/** Work that runs as one, and what it is done to. */
export type TicketWork = {
  readonly method: Named;
  readonly prints: readonly { readonly line: string; readonly placement: string }[];
  readonly steps: readonly TicketStep[];
};

/** Sheets of one consumable: how each is laid out, in the order they are run. */
export type TicketSheets = {
  readonly method: Named;
  readonly consumable: Named;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly sheets: number;
  /** sheets that hold the same are told once. */
  readonly layouts: readonly {
    readonly times: number;
    readonly prints: readonly {
      readonly line: string;
      readonly placement: string;
      /** of names: the one it is. */
      readonly text?: string;
      readonly xMm: number;
      readonly yMm: number;
      readonly turned: boolean;
    }[];
  }[];
};

/** What the shop floor works from. */
export type Ticket = {
  readonly number: string;
  /** the day it must be packed, in the shop's zone. */
  readonly packedDay: string;
  readonly promisedDay: string;
  readonly delivery: string;
  readonly pieces: number;
  readonly lines: readonly TicketLine[];
  /** in working order. */
  readonly work: readonly TicketWork[];
  readonly sheets: readonly TicketSheets[];
  readonly cautions: readonly Caution[];
};

/** What a ticket says of its order beside the work. */
export type TicketHead = Pick<Ticket, 'number' | 'packedDay' | 'promisedDay'>;

/** Writes the ticket of an order. */
export function ticketOf(routed: RoutedSlip, head: TicketHead): Ticket {
  const plans = new Map<Method, readonly SheetPlan[]>();
  const groups = workGroups(routed, (method, prints) => {
    const planned = planSheets(method, prints);
    plans.set(method, planned);
    return planned[0]?.sheets ?? 0;
  });
  // A method whose sheets no step counts is not asked for above.
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
  const inOrder = [...routed.placements].sort((one, other) => one.method.workOrder - other.method.workOrder);
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
    placements: inOrder.map((placement) => placementOf(routed, placement)),
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
