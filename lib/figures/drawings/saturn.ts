/** Saturn itself: how bright it is at each place, and how large an eyepiece shows a degree of it on the page. */

/** px for one degree in the eyepiece, as if the sheet were 600 mm away at 96 px an inch. */
export const PX_PER_DEGREE = (600 * Math.PI) / 180 * (96 / 25.4);

/** The two bright rings by their edges, in parts of the outermost, with the dark gap between (COMMON PRACTICE: 136 775, 122 170, 117 580, 92 000 km, to half a per cent). */
export const RINGS = [
  { outer: 1, inner: 0.8932, light: 0.62 },
  { outer: 0.8597, inner: 0.6726, light: 0.9 },
] as const;
/** The globe's light, and how flat it is (READ 0.09796, as ssystem_major.ini of Debian's stellarium-data 0.22.2). */
const GLOBE = 0.85, FLAT = 0.902;

/** How Saturn stands in the sky of one night. */
export interface SaturnShape {
  /** length of the rings and width of the globe, arcseconds */
  readonly ringsArcsec: number;
  /** width of the globe, arcseconds */
  readonly globeArcsec: number;
  /** how far the rings are open, rad; + where their north face is seen, the near half then lying south */
  readonly ringTilt: number;
}

/**
 * Light of the planet at a place from its middle, 0 to 1.
 *
 * @param shape  sizes above 0
 * @param x  arcseconds
 * @param y  arcseconds, downward: the near half of the rings
 * @example black sky, and the bright ring
 * ```ts
 * import assert from "node:assert/strict";
 * const shape = { ringsArcsec: 44.7, globeArcsec: 19.7, ringTilt: 0.13 };
 * assert.deepEqual([saturnLight(shape, 30, 0), saturnLight(shape, 17, 0)], [0, 0.9]);
 * ```
 */
export function saturnLight(shape: SaturnShape, x: number, y: number): number {
  const globe = shape.globeArcsec / 2, open = Math.sin(shape.ringTilt);
  const onGlobe = Math.hypot(x / globe, y / globe / FLAT) <= 1;
  const r = Math.hypot(x, open === 0 ? Infinity : y / open) / (shape.ringsArcsec / 2);
  const ring = RINGS.find(({ outer, inner }) => r <= outer && r >= inner)?.light ?? 0;
  const inFront = y * open > 0;
  if (onGlobe) return inFront && ring > 0 ? ring : GLOBE;
  return ring;
}
