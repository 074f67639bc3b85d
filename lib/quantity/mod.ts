/** Units, measured values and their uncertainty. */
export * from "./coverage.ts";
export * from "./derivative.ts";
export * from "./distributions.ts";
export * from "./format.ts";
export * from "./measured.ts";
export type { Misconception, MisconceptionName } from "./misconceptions.ts";
export * from "./monteCarlo.ts";
export * from "./propagate.ts";
export * from "./typeB.ts";
export * from "./units.ts";
