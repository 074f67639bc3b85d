/** A star image as pixels: rings of light from its brightness along a radius. */
import type { StarBrightness } from "./starPlan.ts";
import { type Pixels, pixels } from "./pixels.ts";

/** Drawn brightness is this power of the true one, or the rings would be lost in the dark. */
export const stretch = 0.4;

/**
 * The image of a star, as far out as the profile goes, brighter where faint.
 *
 * @param star     brightness in even steps from the middle
 * @param size     pixels across
 * @example the middle of a perfect star is white
 * ```ts
 * import assert from "node:assert/strict";
 * import { starPlan } from "./starPlan.ts";
 * const { grid, image } = starPlan(40, 4, 20);
 * const star = starPixels(image(new Float64Array(grid.q.length)), 3);
 * assert.equal(star.values[4]?.toFixed(6), "1.000000");
 * ```
 */
export function starPixels({ brightness }: StarBrightness, size = 71): Pixels {
  const last = brightness.length - 1;
  return pixels(size, (x, y) => {
    const at = Math.sqrt(x * x + y * y) * last, i = Math.floor(at);
    if (i >= last) return at === last ? (brightness[last] ?? 0) ** stretch : 0;
    const share = at - i;
    const value = (1 - share) * (brightness[i] ?? 0) + share * (brightness[i + 1] ?? 0);
    return Math.max(0, value) ** stretch;
  });
}
