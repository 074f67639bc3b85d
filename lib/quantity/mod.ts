/** Units, measured values and their uncertainty. */
export * from "./coverage.ts";
export * from "./format.ts";
export * from "./measured.ts";
export * from "./propagate.ts";
export * from "./typeB.ts";
export * from "./units.ts";
