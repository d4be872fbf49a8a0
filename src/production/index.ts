/** What the shop floor works from: sheets, plates, lettering, tickets and care cards. Pure: rasters and data in and out. */
export { type CareCard, type CareNote, careCard } from './care-card.ts';
export { CAUTION_CODES, CAUTION_DEFERS, type Caution, type CautionCode, cautionsOf } from './cautions.ts';
export { dotShare, type HalftoneOptions, halftone, tintDensity } from './halftone.ts';
export {
  LETTERING_FILES,
  LETTERING_FONTS,
  type Lettered,
  type LetteredSize,
  type LetteringFiles,
  type LetteringFont,
  lettering,
  missingLetters,
} from './lettering.ts';
export {
  fitsSheet,
  type Nest,
  type NestBlock,
  type NestedSheets,
  type NestPrints,
  type NestSheet,
  nest,
  printsPerSheet,
  steadySheets,
} from './nest.ts';
export { eachSheet, planSheets, type SheetKind, type SheetPlan, type SheetPrint } from './sheet-plan.ts';
export { type Ticket, type TicketHead, ticketOf } from './ticket.ts';
export { coverageOfPlate, type Plate, type UnderbaseOptions, underbase } from './underbase.ts';
