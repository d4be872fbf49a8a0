import type { Step } from '../catalog/index.ts';
import type { LocalText } from '../contract/index.ts';
import type { Caution } from './cautions.ts';

/** Something from the catalog, by id and name. */
export type Named = { readonly id: string; readonly name: LocalText };

/** A print and its position on the piece. */
export type TicketPlacement = {
  readonly id: string;
  readonly face: Named;
  readonly method: Named;
  readonly treatments: readonly Named[];
  /** center of the ink: mm right of the center line of the printable area, mm below its top edge. */
  readonly xMm: number;
  readonly yMm: number;
  /** degrees clockwise. */
  readonly angleDeg: number;
  /** ink box before rotation. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** white is printed beneath. */
  readonly white: boolean;
  /** how far the edge of the white is pulled in, mm. */
  readonly chokeMm: number;
  /** for an artwork: the content hash of its file. */
  readonly artwork?: string;
  /** for names: one for each piece, in the order of the list. */
  readonly names?: readonly { readonly size: string; readonly text: string }[];
};

export type TicketLine = {
  readonly id: string;
  readonly blank: Named;
  readonly color: Named & { readonly hex: string };
  readonly finish: Named;
  readonly pieces: number;
  readonly counts: readonly { readonly size: Named; readonly count: number }[];
  /** in the order in which they are printed. */
  readonly placements: readonly TicketPlacement[];
};

/** A step of production: settings from the recipe, amounts from the order. */
export type TicketStep = {
  readonly id: string;
  readonly name: LocalText;
  /** undefined for a wait. */
  readonly station: Named | undefined;
  readonly per: Step['per'];
  /** prints, pieces or sheets to run, without spoilage. */
  readonly units: number;
  readonly batches: number;
  readonly batchSize: number;
  readonly waitS: number;
  readonly setUpS: number;
  readonly runS: number;
  readonly settings: Step['settings'];
  readonly hazards: Step['hazards'];
};

/** Steps that are run together, and for which prints. */
export type TicketWork = {
  readonly method: Named;
  readonly prints: readonly { readonly line: string; readonly placement: string }[];
  readonly steps: readonly TicketStep[];
};

/** Sheets of one consumable: their layouts, in the order they are run. */
export type TicketSheets = {
  readonly method: Named;
  readonly consumable: Named;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly sheets: number;
  /** consecutive sheets with the same prints are one layout. */
  readonly layouts: readonly {
    readonly times: number;
    readonly prints: readonly {
      readonly line: string;
      readonly placement: string;
      /** for names: the text. */
      readonly text?: string;
      readonly xMm: number;
      readonly yMm: number;
      readonly turned: boolean;
    }[];
  }[];
};

/** What the shop floor works from. Stored and sent as JSON. */
export type Ticket = {
  readonly number: string;
  /** the day it must be packed, in the shop's zone. */
  readonly packedDay: string;
  readonly promisedDay: string;
  readonly delivery: string;
  readonly pieces: number;
  readonly lines: readonly TicketLine[];
  /** in the order of production. */
  readonly work: readonly TicketWork[];
  readonly sheets: readonly TicketSheets[];
  readonly cautions: readonly Caution[];
};

/** What a ticket needs to know of its order besides the work. */
export type TicketHead = Pick<Ticket, 'number' | 'packedDay' | 'promisedDay'>;
