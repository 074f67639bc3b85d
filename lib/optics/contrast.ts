/** How much contrast of fine detail the image keeps: the modulation transfer function of a round mirror. */
import { gaussLegendre } from "../numeric/quadrature.ts";

/**
 * Contrast kept at a spatial frequency, for a wavefront that depends on the radius only.
 *
 * The overlap of the aperture with itself, shifted, integrated line by line along the shift.
 *
 * @param ofCutoff     frequency over the cut-off 1/(wavelength x focal ratio), 0 to 1
 * @param obstruction  width of the obstruction over the aperture, 0 to below 1; default 0
 * @param waves        wavefront at q = (r/a)^2, waves; default none
 * @returns 1 at frequency 0, 0 at the cut-off; negative where black and white change places
 * @throws {RangeError} outside those ranges
 * @see Schroeder, Astronomical Optics, chapter 11 (from memory)
 * @example half the cut-off
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(contrastAt(0.5).toFixed(4), "0.3910");
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
  let sum = 0;
  const rule = gaussLegendre(LINES);
  // y = sin t crowds the lines toward the top of the lens, where its width falls like a root
  const top = Math.sqrt(1 - ofCutoff * ofCutoff);
  rule.nodes.forEach((node, i) => {
    const t = ((node + 1) * Math.PI) / 4, y = top * Math.sin(t);
    sum += (rule.weights[i] ?? 0) * (Math.PI / 4) * top * Math.cos(t) *
      alongLine(y, ofCutoff, obstruction, waves);
  });
  return (2 * sum) / (Math.PI * (1 - obstruction * obstruction));
}

const LINES = 160;

/** Integral over x at height y where both shifted apertures are open; the phase is odd in x, so only cosines stay. */
function alongLine(
  y: number,
  shift: number,
  obstruction: number,
  waves?: (q: number) => number,
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

const PIECE = gaussLegendre(24);

function piece(
  a: number,
  b: number,
  y: number,
  shift: number,
  waves?: (q: number) => number,
): number {
  if (waves === undefined) return b - a;
  let sum = 0;
  PIECE.nodes.forEach((node, i) => {
    const x = a + ((b - a) * (node + 1)) / 2;
    const difference = waves((x + shift) ** 2 + y * y) - waves((x - shift) ** 2 + y * y);
    sum += ((PIECE.weights[i] ?? 0) * (b - a) / 2) * Math.cos(2 * Math.PI * difference);
  });
  return sum;
}
