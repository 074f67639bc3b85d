/** Numerical tools the rest of the kit stands on: fits, quantiles, random numbers, splines, quadrature. */
export * from "./leastSquares.ts";
export * from "./quantiles.ts";
export * from "./random.ts";
export * from "./specialFunctions.ts";
export * from "./spline.ts";
