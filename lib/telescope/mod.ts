/**
 * From a mirror to a telescope: layout, cell, balance, collimation.
 *
 * Frame, seen from the sky looking down at the mirror: x toward the focuser, y a quarter turn counter-clockwise from x,
 * z up the axis toward the sky, origin at the mirror's vertex. Places of images are those of the unfolded focal plane.
 */
export * from "./balance.ts";
export * from "./cell.ts";
export * from "./collimation.ts";
export * from "./cooling.ts";
export * from "./flat.ts";
export * from "./layout.ts";
export type { PointRing } from "./plate.ts";
export * from "./vignetting.ts";
