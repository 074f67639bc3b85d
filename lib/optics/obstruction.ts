/** What a small mirror in front of the large one takes: light and contrast, but no shape. */

/** Brightness of a star's middle with an obstruction. */
export interface ObstructedPeak {
  /** for the same star and aperture, over the unobstructed one: (1 - e^2)^2 */
  readonly sameStar: number;
  /** for the same light let through: 1 - e^2 */
  readonly sameLight: number;
  /** share of the light blocked, e^2 */
  readonly blocked: number;
}

/**
 * How an obstruction dims the middle of a star's image. It is no error of the mirror: keep the two apart.
 *
 * @param obstruction  its width over the aperture, 0 to below 1
 * @throws {RangeError} outside that range
 * @see Born and Wolf 8.6.2 (from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(obstructedPeak(0.2).sameStar.toFixed(4), "0.9216");
 * ```
 */
export function obstructedPeak(obstruction: number): ObstructedPeak {
  if (!(obstruction >= 0 && obstruction < 1)) {
    throw new RangeError(`obstructedPeak requires 0 <= obstruction < 1, got ${obstruction}`);
  }
  const blocked = obstruction * obstruction;
  return { sameStar: (1 - blocked) ** 2, sameLight: 1 - blocked, blocked };
}
