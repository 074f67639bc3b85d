/** Printables at true scale: templates to cut out and sheets to write on, for A4 and Letter. */
export { centreFinderToPrint, channelGridToPrint, curveGaugeToPrint } from "./curveGauge.ts";
export { flowToPrint, heading, paragraph, type Piece, type RuledColumn, ruledRow } from "./flow.ts";
export { handDrawingsToPrint, type StepDrawn } from "./handDrawings.ts";
export { type Paper, papers, type Printable } from "./printable.ts";
export { type Card, procedureCard } from "./procedureCard.ts";
export {
  initials,
  recordSheet,
  safetySheet,
  type SheetColumn,
  type StageCautions,
  strokeTally,
  whoDecides,
} from "./sheetsToWriteOn.ts";
export { type MaskToPrint, zoneMaskToPrint } from "./zoneMask.ts";
