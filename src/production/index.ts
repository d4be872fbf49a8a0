/** What the shop floor works from: sheet layouts, plates, lettering, tickets and care cards. Pure functions. */
export { type CareCard, type CareNote, careCard } from './care-card.ts';
export { CAUTION_CODES, CAUTION_DEFERS, type Caution, type CautionCode, cautionsOf } from './cautions.ts';
export { dotShare, type HalftoneOptions, halftone, tintDensity } from './halftone.ts';
export {
  LETTERING_FILES,
  LETTERING_FONTS,
  type LetteringFiles,
  type LetteringFont,
  type LetteringMetrics,
  type LetteringSpec,
  lettering,
  missingLetters,
} from './lettering.ts';
export {
  fitsSheet,
  monotoneSheets,
  type Nest,
  type NestBlock,
  type NestedSheets,
  type NestPrints,
  type NestSheet,
  nest,
  printsPerSheet,
} from './nest.ts';
export { eachSheet, planSheets, type SheetPlan, type SheetPrint, type SizeGroup } from './sheet-plan.ts';
export { ticketOf } from './ticket.ts';
export type { Ticket, TicketHead } from './ticket-types.ts';
export { coverageOfPlate, type Plate, type UnderbaseOptions, underbase } from './underbase.ts';
