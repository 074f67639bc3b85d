/** Numerical tools the rest of the kit stands on: fits, quantiles, random numbers, splines, quadrature. */
export * from "./cannotTell.ts";
export * from "./fft.ts";
export * from "./leastSquares.ts";
export * from "./outliers.ts";
export * from "./quadrature.ts";
export * from "./quantiles.ts";
export { random, type RandomSource } from "./random.ts";
export * from "./rootFinding.ts";
export type { Matrix } from "./smallMatrix.ts";
export * from "./specialFunctions.ts";
export * from "./spline.ts";
