/** The openings of a zone mask, and where on the mirror the light that comes through one really is. */
import { gaussLegendre } from "../../numeric/quadrature.ts";

/** One zone of a mask, both of its windows taken together. */
export interface Opening {
  /** nearest edge to the axis, on the glass, mm */
  readonly inner: number;
  /** farthest edge, mm */
  readonly outer: number;
}

/** `bands` have one height all along, `sectors` widen with the radius. */
export type OpeningShape = "bands" | "sectors";

/** Places in a window and how much each counts in the balance of the two greys; the weights add up to 1. */
export interface WindowRule {
  /** distance from the middle, mm */
  readonly radii: Float64Array;
  /** one for each radius */
  readonly weights: Float64Array;
}

/**
 * How a window's parts count in the knife's balance: light moved across the knife is r x height of the window.
 *
 *     balance: Int r (x - L(r)) dA = 0      dA ~ dr for bands, r dr for sectors
 *
 * @param opening  edges on the glass, mm; 0 <= inner < outer
 * @param shape    of the window
 * @param count    places, default 16
 * @throws {RangeError} where the edges are out of order
 * @example the reading through a band is the mean over (r)^2, by area
 * ```ts
 * import assert from "node:assert/strict";
 * const { radii, weights } = windowRule({ inner: 30, outer: 45 }, "bands");
 * const mean = radii.reduce((sum, r, i) => sum + (weights[i] ?? 0) * r * r, 0);
 * assert.equal(mean.toFixed(6), "1462.500000");
 * ```
 */
export function windowRule(opening: Opening, shape: OpeningShape, count = 16): WindowRule {
  const { inner, outer } = opening;
  if (!(inner >= 0 && outer > inner && Number.isFinite(outer))) {
    throw new RangeError(
      `windowRule requires 0 <= inner < outer in mm, got inner=${inner}, outer=${outer}`,
    );
  }
  const rule = gaussLegendre(count);
  const radii = Float64Array.from(rule.nodes, (x) => inner + ((outer - inner) * (x + 1)) / 2);
  const raw = radii.map((r, i) => (rule.weights[i] ?? 0) * (shape === "bands" ? r : r * r));
  const sum = raw.reduce((a, b) => a + b, 0);
  return { radii, weights: raw.map((w) => w / sum) };
}

/**
 * The one radius a window stands for, where the ideal reading grows with r^2.
 *
 *     bands  r^2 = (a^2 + b^2) / 2            sectors  r^2 = (3/5) (b^5 - a^5) / (b^3 - a^3)
 *
 * The middle of the window is too small by (b-a)^2/4 in r^2; with windows of one width that hides as focus.
 *
 * @param opening  edges on the glass, mm; 0 <= inner < outer
 * @param shape    of the window; default bands
 * @returns mm
 * @throws {RangeError} where the edges are out of order
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(effectiveRadius({ inner: 0, outer: 30 }).toFixed(4), "21.2132");
 * ```
 */
export function effectiveRadius(
  { inner: a, outer: b }: Opening,
  shape: OpeningShape = "bands",
): number {
  if (!(a >= 0 && b > a && Number.isFinite(b))) {
    throw new RangeError(
      `effectiveRadius requires 0 <= inner < outer in mm, got inner=${a}, outer=${b}`,
    );
  }
  if (shape === "bands") return Math.sqrt((a * a + b * b) / 2);
  return Math.sqrt((0.6 * (b ** 5 - a ** 5)) / (b ** 3 - a ** 3));
}

/** Widest opening that hides no fault of a lap's breadth, share of the judged radius (found by `task trial verdict`). */
export const WIDEST = 0.15;

/**
 * The openings with the wide ones divided, so that no fault of a lap's breadth hides in one.
 *
 * @param openings  of the mask in use, mm
 * @param half      judged radius, mm
 * @param widest    share of the judged radius
 * @returns from the middle outward, edges to half a millimetre; from 0 to the judged edge, gaps closed
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const finer = narrower([{ inner: 0, outer: 30 }, { inner: 30, outer: 37 }, { inner: 37, outer: 45 }], 45, 0.25);
 * assert.deepEqual(finer.map(({ outer }) => outer), [10, 20, 30, 37, 45]);
 * ```
 */
export function narrower(
  openings: readonly Opening[],
  half: number,
  widest: number = WIDEST,
): Opening[] {
  const edges = [...new Set([0, ...openings.flatMap(({ inner, outer }) => [inner, outer]), half])]
    .filter((edge) => edge <= half).sort((a, b) => a - b);
  const wanted = edges.slice(1).flatMap((outer, i) => {
    const inner = edges[i] ?? 0, parts = Math.ceil((outer - inner) / (widest * half) - 1e-9);
    return Array.from(
      { length: parts },
      (_, k) =>
        k === parts - 1 ? outer : Math.round(2 * (inner + (outer - inner) * (k + 1) / parts)) / 2,
    );
  });
  return wanted.map((outer, i) => ({ inner: wanted[i - 1] ?? 0, outer }));
}
