/** Shaping: abrasives, strokes and turns, wear, the grinding log and its forecast, coming back from an overshoot. */
export * from "./curveAdvice.ts";
export * from "./curveLog.ts";
export * from "./depthAhead.ts";
export * from "./depthColumns.ts";
export * from "./depthFit.ts";
export * from "./fineAllowance.ts";
export * from "./forecast.ts";
export * from "./grindingLog.ts";
export * from "./misreadDepths.ts";
export * from "./overshoot.ts";
