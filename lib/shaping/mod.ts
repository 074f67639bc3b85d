/** Shaping: abrasives, strokes and turns, wear, the grinding log and its forecast, coming back from an overshoot. */
export * from "./curveLog.ts";
export * from "./depthFit.ts";
export * from "./fineAllowance.ts";
export * from "./forecast.ts";
export * from "./grindingLog.ts";
export * from "./overshoot.ts";
