/** Throws of the wavefront about its middle, and what each amounts to. */
import { phaseSumSquared } from "../numeric/phaseSum.ts";
import type { RandomSource } from "../numeric/random.ts";

/** One entry for each draw. */
export interface Draws {
  /** nm of wavefront */
  readonly pv: Float64Array;
  readonly rms: Float64Array;
  /** exact, on the axis, at the focus of least rms */
  readonly strehl: Float64Array;
  /** added to the reference's conic constant */
  readonly conic: Float64Array;
}

/** Rows are grid places, nm, and last the conic. */
export interface Loose {
  readonly middle: Float64Array;
  /** what one unit normal each adds to all rows */
  readonly columns: readonly Float64Array[];
}

/** How a draw is judged. */
export interface Judging {
  /** of the grid's places, summing to 1 */
  readonly weights: Float64Array;
  /** nm */
  readonly wavelength: number;
  /** degrees of freedom of the scatter; Infinity where it is known */
  readonly dof: number;
}

/** Normals are made for so many draws at once: fast, and small enough for the nearest memory. */
const BATCH = 64;

/**
 * Throws and judges draws number `begin` up to `end`.
 *
 * @param loose    middle and columns
 * @param judging  weights, wavelength, degrees of freedom
 * @param source   random numbers
 * @param into     where the results go
 * @example a wavefront that is known: all draws are alike
 * ```ts
 * import assert from "node:assert/strict";
 * import { random } from "../numeric/random.ts";
 * const [pv = [], rms = [], strehl = [], conic = []] = [1, 2, 3, 4].map(() => new Float64Array(2));
 * const into = { pv, rms, strehl, conic } as Draws;
 * const middle = Float64Array.of(-10, 10, -1);
 * throwAbout({ middle, columns: [] }, { weights: Float64Array.of(0.5, 0.5), wavelength: 550, dof: 8 }, random(1), 0, 2, into);
 * assert.deepEqual([...into.pv, ...into.rms, ...into.conic], [20, 20, 10, 10, -1, -1]);
 * ```
 */
export function throwAbout(
  loose: Loose,
  judging: Judging,
  source: RandomSource,
  begin: number,
  end: number,
  into: Draws,
): void {
  const { dof } = judging, count = loose.columns.length;
  const normals = new Float64Array(BATCH * count), row = new Float64Array(loose.middle.length);
  for (let d = begin; d < end; d++) {
    const at = (d - begin) % BATCH;
    if (at === 0) source.fillNormal(normals);
    const stretch = Number.isFinite(dof) ? Math.sqrt(dof / source.chiSquare(dof)) : 1;
    throwRow(loose, normals, at * count, stretch, row);
    judgeRow(row, judging, d, into);
  }
}

/** The middle and every column times its normal, four columns at a time. */
function throwRow(
  { middle, columns }: Loose,
  normals: Float64Array,
  first: number,
  stretch: number,
  row: Float64Array,
): void {
  row.set(middle);
  let k = 0;
  for (; k + 3 < columns.length; k += 4) {
    const a = columns[k] as Float64Array, b = columns[k + 1] as Float64Array;
    const c = columns[k + 2] as Float64Array, e = columns[k + 3] as Float64Array;
    const p = stretch * (normals[first + k] as number);
    const q = stretch * (normals[first + k + 1] as number);
    const r = stretch * (normals[first + k + 2] as number);
    const s = stretch * (normals[first + k + 3] as number);
    for (let i = 0; i < row.length; i++) {
      row[i] = (row[i] as number) + (p * (a[i] as number) + q * (b[i] as number)) +
        (r * (c[i] as number) + s * (e[i] as number));
    }
  }
  for (; k < columns.length; k++) {
    const a = columns[k] as Float64Array, p = stretch * (normals[first + k] as number);
    for (let i = 0; i < row.length; i++) row[i] = (row[i] as number) + p * (a[i] as number);
  }
}

function judgeRow(
  row: Float64Array,
  { weights, wavelength }: Judging,
  d: number,
  into: Draws,
): void {
  let low = Infinity, high = -Infinity, square = 0;
  for (let i = 0; i < weights.length; i++) {
    const w = row[i] as number;
    if (w < low) low = w;
    if (w > high) high = w;
    square += (weights[i] as number) * w * w;
  }
  into.pv[d] = high - low;
  into.rms[d] = Math.sqrt(square);
  into.strehl[d] = phaseSumSquared(row, weights, 1 / wavelength);
  into.conic[d] = row[weights.length] as number;
}
