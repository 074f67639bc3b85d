/** How much contrast of fine detail the image keeps: the modulation transfer function of a round mirror. */
import { gaussLegendre } from "../numeric/quadrature.ts";

/**
 * Contrast kept at a spatial frequency, for a wavefront that depends on the radius only.
 *
 * The overlap of the open ring with itself, shifted. Without a wavefront it is three lenses of two circles,
 *
 *     T = (I(1, 1) - 2 I(1, e) + I(e, e)) / pi (1 - e^2),   circles apart by twice the frequency
 *
 * and with one it is integrated line by line along the shift.
 *
 * @param ofCutoff     frequency over the cut-off 1/(wavelength x focal ratio), 0 to 1
 * @param obstruction  width of the obstruction over the aperture, 0 to below 1; default 0
 * @param waves        wavefront at q = (r/a)^2, waves; default none
 * @returns 1 at frequency 0, 0 at the cut-off; negative where black and white change places
 * @throws {RangeError} outside those ranges
 * @see O'Neill, J. Opt. Soc. Am. 46, 285 (1956); Schroeder, Astronomical Optics, chapter 11 (reckoned anew in tests/optics/secondRoute.py)
 * @example half the cut-off, clear and behind a flat of a quarter of the width
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(contrastAt(0.5).toFixed(4), "0.3910");
 * assert.equal(contrastAt(0.5, 0.25).toFixed(4), "0.3539");
 * ```
 */
export function contrastAt(
  ofCutoff: number,
  obstruction = 0,
  waves?: (q: number) => number,
): number {
  if (!(ofCutoff >= 0 && ofCutoff <= 1 && obstruction >= 0 && obstruction < 1)) {
    throw new RangeError(
      `contrastAt requires 0 <= ofCutoff <= 1 and 0 <= obstruction < 1, got ofCutoff=${ofCutoff}, obstruction=${obstruction}`,
    );
  }
  const open = Math.PI * (1 - obstruction * obstruction);
  if (waves !== undefined) return byLines(ofCutoff, obstruction, waves) / open;
  const apart = 2 * ofCutoff, e = obstruction;
  const lens = overlapOfCircles(1, 1, apart) - 2 * overlapOfCircles(1, e, apart) +
    overlapOfCircles(e, e, apart);
  return Math.max(0, lens / open);
}

const LINES = gaussLegendre(40), PIECE = gaussLegendre(24);

/** Heights at which lines begin to meet another edge: tops of the holes, where circles cross, the lens's own top. */
function bends(shift: number, e: number): number[] {
  const top = Math.sqrt(1 - shift * shift), out = [0, top];
  if (e > 0 && shift > 0) {
    const crossing = (e * e - 1) / (4 * shift) + shift; // from the hole's middle to where it meets the other rim
    for (const y2 of [e * e, e * e - shift * shift, e * e - crossing * crossing]) {
      if (y2 > 0 && Math.sqrt(y2) < top) out.push(Math.sqrt(y2));
    }
  } else if (e > 0) out.push(e);
  return out.sort((a, b) => a - b);
}

/** Overlap weighted by the wavefront: between two bends widths change like a root at either end, so lines crowd there. */
function byLines(shift: number, obstruction: number, waves: (q: number) => number): number {
  const heights = bends(shift, obstruction);
  let sum = 0;
  for (let k = 1; k < heights.length; k++) {
    const low = heights[k - 1] ?? 0, half = ((heights[k] ?? 0) - low) / 2;
    if (half < 1e-12) continue;
    LINES.nodes.forEach((node, i) => {
      const t = (node * Math.PI) / 2, y = low + half * (1 + Math.sin(t));
      sum += (LINES.weights[i] ?? 0) * (Math.PI / 2) * half * Math.cos(t) *
        alongLine(y, shift, obstruction, waves);
    });
  }
  return 2 * sum;
}

/** Integral over x at height y where both shifted apertures are open; the phase is odd in x, so only cosines stay. */
function alongLine(
  y: number,
  shift: number,
  obstruction: number,
  waves: (q: number) => number,
): number {
  const outer = Math.sqrt(Math.max(1 - y * y, 0)) - shift;
  if (outer <= 0) return 0;
  const hole = Math.sqrt(Math.max(obstruction * obstruction - y * y, 0));
  const cuts = [-outer, outer];
  if (hole > 0) { for (const side of [-1, 1]) cuts.push(side * shift - hole, side * shift + hole); }
  const ends = [...cuts].filter((x) => Math.abs(x) <= outer).sort((a, b) => a - b);
  let sum = 0;
  for (let k = 1; k < ends.length; k++) {
    const a = ends[k - 1] ?? 0, b = ends[k] ?? 0, middle = (a + b) / 2;
    const shut = hole > 0 && (Math.abs(middle - shift) < hole || Math.abs(middle + shift) < hole);
    if (!shut && b > a) sum += piece(a, b, y, shift, waves);
  }
  return sum;
}

function piece(
  a: number,
  b: number,
  y: number,
  shift: number,
  waves: (q: number) => number,
): number {
  let sum = 0;
  PIECE.nodes.forEach((node, i) => {
    const x = a + ((b - a) * (node + 1)) / 2;
    const difference = waves((x + shift) ** 2 + y * y) - waves((x - shift) ** 2 + y * y);
    sum += ((PIECE.weights[i] ?? 0) * (b - a) / 2) * Math.cos(2 * Math.PI * difference);
  });
  return sum;
}

// The lens that two circles have in common.

/**
 * Area common to two circles.
 *
 * @param a         radius, 0 or more
 * @param b         radius, 0 or more
 * @param distance  between their centres, 0 or more
 * @throws {RangeError} below 0
 * @see two circular segments: plane geometry
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(overlapOfCircles(1, 1, 0), Math.PI);
 * assert.equal(overlapOfCircles(1, 1, 2), 0);
 * ```
 */
export function overlapOfCircles(a: number, b: number, distance: number): number {
  if (!(a >= 0 && b >= 0 && distance >= 0)) {
    throw new RangeError(
      `overlapOfCircles requires lengths of 0 or more, got a=${a}, b=${b}, distance=${distance}`,
    );
  }
  if (distance >= a + b) return 0;
  if (distance <= Math.abs(a - b)) return Math.PI * Math.min(a, b) ** 2;
  const toChord = (distance ** 2 + a ** 2 - b ** 2) / (2 * distance);
  const half = Math.sqrt(Math.max(0, a ** 2 - toChord ** 2));
  const sector = (radius: number, x: number): number =>
    radius ** 2 * Math.atan2(half, x) - x * half;
  return sector(a, toChord) + sector(b, distance - toChord);
}
