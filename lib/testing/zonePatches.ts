/**
 * Patches of glass that were worked more, or less, than the rest: a turned edge, a ring, a hill in the middle.
 *
 * A patch is a height over q = (r/a)^2, random inside a bell about its place and nothing far from it. Of all heights of
 * the form bell(x) g(x), with x = (q - place) / width and g a smooth random curve that forgets itself over m widths, the
 * first terms of the exact expansion are kept (exp(x x' / m^2), in their covariance, written as its power series):
 *
 *     exp(-x^2 (1 + 1/m^2) / 2) (x/m)^j / sqrt(j!),  j = 0, 1, 2 ..., one unit normal each
 */
export interface Patch {
  /** of its middle, in q */
  readonly place: number;
  /** standard deviation of the bell, in q */
  readonly width: number;
  /** over how many widths its height forgets itself */
  readonly memory: number;
}

/** Terms of each patch. */
export const PATCH_TERMS = 8;

/** How far a patch reaches to both sides of its middle, in parts of the mirror's radius. */
const REACH = 0.15;
/** Middles over the mirror's radius, and memories: what a lap does to the edge turns less often than what it does within. */
const PLACES: readonly (readonly [middle: number, memory: number])[] = [
  [0.35, 0.8],
  [0.55, 0.8],
  [0.7, 0.8],
  [0.85, 1.2],
  [1, 1.3],
];
export const PATCHES: readonly Patch[] = PLACES.map(([middle, memory]) => ({
  place: middle * middle,
  width: 2 * middle * REACH,
  memory,
}));

/**
 * Heights of a patch's terms at one place, for unit size.
 *
 * @param patch  where, how wide, how smooth
 * @param q      (r/a)^2
 * @returns one height for each term
 * @example in its middle only the first term is there
 * ```ts
 * import assert from "node:assert/strict";
 * const [first, ...others] = patchHeights({ place: 0.5, width: 0.1, memory: 1 }, 0.5);
 * assert.equal(first, 1);
 * assert.ok(others.every((height) => height === 0));
 * ```
 */
export function patchHeights({ place, width, memory }: Patch, q: number): Float64Array {
  const x = (q - place) / width, out = new Float64Array(PATCH_TERMS);
  let term = Math.exp((-steepness(memory) * x * x) / 2);
  for (let j = 0; j < PATCH_TERMS; j++) {
    out[j] = term;
    term *= x / (memory * Math.sqrt(j + 1));
  }
  return out;
}

/**
 * Their slopes, in units of height for one unit of q.
 *
 * @example a term's slope is what its height changes by
 * ```ts
 * import assert from "node:assert/strict";
 * const patch = { place: 0.5, width: 0.1, memory: 1 }, step = 1e-6;
 * const [, after = 0] = patchHeights(patch, 0.55 + step), [, before = 0] = patchHeights(patch, 0.55);
 * assert.ok(Math.abs((patchSlopes(patch, 0.55)[1] ?? 0) - (after - before) / step) < 1e-3);
 * ```
 */
export function patchSlopes(patch: Patch, q: number): Float64Array {
  const { place, width, memory } = patch;
  const x = (q - place) / width, heights = patchHeights(patch, q), out = heights.slice();
  for (let j = 0; j < PATCH_TERMS; j++) {
    const before = j === 0 ? 0 : (Math.sqrt(j) / memory) * (heights[j - 1] as number);
    out[j] = (before - steepness(memory) * x * (heights[j] as number)) / width;
  }
  return out;
}

/** What bell and smooth curve together fall by. */
function steepness(memory: number): number {
  return 1 + 1 / (memory * memory);
}
