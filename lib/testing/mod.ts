/** Tests of the finished glass: knife, zones, star, and what they prove. */
export * from "./knife.ts";
export * from "./mask.ts";
export * from "./openings.ts";
export * from "./ronchi.ts";
export * from "./ronchiBands.ts";
export * from "./ronchiPicture.ts";
export * from "./star.ts";
export * from "./throws.ts";
export * from "./verdict.ts";
export * from "./zoneAdvice.ts";
export * from "./zoneFigure.ts";
export * from "./zoneMethods.ts";
export * from "./zoneModel.ts";
export * from "./zoneOperator.ts";
export * from "./zonePosterior.ts";
export * from "./zoneRuns.ts";
export * from "./zones.ts";
