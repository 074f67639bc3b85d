/** Draws of the wavefront about its middle, and what each amounts to. */
import { phaseSumSquared } from "../../numeric/phasors.ts";
import type { RandomSource } from "../../numeric/random.ts";
import { besselJ } from "../../optics/airy.ts";

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
  /** where astigmatism is known: (r/a)^2 of the places, and one amplitude of glass at the rim for each draw, nm */
  readonly astigmatism?: { readonly q: Float64Array; readonly amplitudes: Float64Array };
}

/** Normals are made for so many draws at once: fast, and small enough for the nearest memory. */
const BATCH = 64;
/** So many draws are made in one pass over the columns, which are then read once for all of them; divides BATCH. */
const TOGETHER = 4;

/**
 * Draws and judges number number `begin` up to `end`.
 *
 * @param loose    middle and columns
 * @param judging  weights, wavelength, degrees of freedom
 * @param source   random numbers
 * @param into     where the results go
 * @example a wavefront that is known: all draws are alike
 * ```ts
 * import assert from "node:assert/strict";
 * import { random } from "../../numeric/random.ts";
 * const [pv = [], rms = [], strehl = [], conic = []] = [1, 2, 3, 4].map(() => new Float64Array(2));
 * const into = { pv, rms, strehl, conic } as Draws;
 * const middle = Float64Array.of(-10, 10, -1);
 * drawAbout({ middle, columns: [] }, { weights: Float64Array.of(0.5, 0.5), wavelength: 550, dof: 8 }, random(1), 0, 2, into);
 * assert.deepEqual([...into.pv, ...into.rms, ...into.conic], [20, 20, 10, 10, -1, -1]);
 * ```
 */
export function drawAbout(
  loose: Loose,
  judging: Judging,
  source: RandomSource,
  begin: number,
  end: number,
  into: Draws,
): void {
  const { middle } = loose, columns = evenly(loose), count = columns.length;
  const rows = rowsOf(middle.length);
  // what lies beyond the normals that are drawn is read with the last rows, which nobody looks at
  if (normals.length < BATCH * count) normals = new Float64Array(BATCH * count);
  for (let first = begin; first < end; first += BATCH) {
    const here = Math.min(BATCH, end - first);
    fillStretched(normals.subarray(0, here * count), count, judging.dof, source);
    for (let d = 0; d < here; d += TOGETHER) {
      drawRows(middle, columns, normals, d * count, rows);
      for (let j = 0; j < TOGETHER && d + j < here; j++) {
        judgeRow(rows[j] as Float64Array, judging, first + d + j, into);
      }
    }
  }
}

/** Work space of the draws of one make, used by the next: normals, and rows for those that are made at once. */
let normals = new Float64Array(0), room: readonly Float64Array[] = [];

function rowsOf(length: number): readonly Float64Array[] {
  if (room[0]?.length !== length) {
    room = Array.from({ length: TOGETHER }, () => new Float64Array(length));
  }
  return room;
}

/** The columns, with an empty one more where their number is odd. */
function evenly({ middle, columns }: Loose): readonly Float64Array[] {
  return columns.length % 2 === 0 ? columns : [...columns, new Float64Array(middle.length)];
}

/** Normals for draws of `count` each, those of one draw stretched together where the scatter is known by few readings. */
function fillStretched(
  normals: Float64Array,
  count: number,
  dof: number,
  source: RandomSource,
): void {
  source.fillNormal(normals);
  if (!Number.isFinite(dof)) return;
  for (let first = 0; first < normals.length; first += count) {
    const stretch = Math.sqrt(dof / source.chiSquare(dof));
    for (let k = first; k < first + count; k++) normals[k] = stretch * (normals[k] as number);
  }
}

/** Four rows at once, each the middle and every column times its own normal; two columns at a time. */
function drawRows(
  middle: Float64Array,
  columns: readonly Float64Array[],
  normals: Float64Array,
  first: number,
  rows: readonly Float64Array[],
): void {
  const a = rows[0] as Float64Array, b = rows[1] as Float64Array;
  const c = rows[2] as Float64Array, d = rows[3] as Float64Array;
  a.set(middle), b.set(middle), c.set(middle), d.set(middle);
  for (let k = 0; k < columns.length; k += 2) {
    const one = columns[k] as Float64Array, two = columns[k + 1] as Float64Array;
    let at = first + k;
    const a1 = normals[at] as number, a2 = normals[at + 1] as number;
    at += columns.length;
    const b1 = normals[at] as number, b2 = normals[at + 1] as number;
    at += columns.length;
    const c1 = normals[at] as number, c2 = normals[at + 1] as number;
    at += columns.length;
    const d1 = normals[at] as number, d2 = normals[at + 1] as number;
    for (let i = 0; i < one.length; i++) {
      const x = one[i] as number, y = two[i] as number;
      a[i] = (a[i] as number) + (a1 * x + a2 * y);
      b[i] = (b[i] as number) + (b1 * x + b2 * y);
      c[i] = (c[i] as number) + (c1 * x + c2 * y);
      d[i] = (d[i] as number) + (d1 * x + d2 * y);
    }
  }
}

/** Judges one surface and writes what it amounts to at place `d`; its row ends with the conic. */
export function judgeRow(row: Float64Array, judging: Judging, d: number, into: Draws): void {
  const { weights, wavelength, astigmatism } = judging;
  into.conic[d] = row[weights.length] as number;
  if (astigmatism !== undefined) return judgeTwofold(row, judging, d, into);
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
}

/**
 * The same with 2 A q cos 2 phi on top, A of glass: round every ring the wavefront goes up and down by b = 2 A q.
 *
 * Its mean square is b^2 / 2, and the mean of exp(i b cos 2 phi) is J0(b) (derived: the integral is J0).
 */
function judgeTwofold(
  row: Float64Array,
  { weights, wavelength, astigmatism }: Judging,
  d: number,
  into: Draws,
): void {
  const { q, amplitudes } = astigmatism as NonNullable<Judging["astigmatism"]>;
  const amplitude = 2 * (amplitudes[d % amplitudes.length] as number);
  if (dimmed.length !== weights.length) dimmed = new Float64Array(weights.length);
  const turns = (2 * Math.PI * amplitude) / wavelength, terms = termsOf(turns * turns / 4);
  let low = Infinity, high = -Infinity, square = 0;
  for (let i = 0; i < weights.length; i++) {
    const w = row[i] as number, swing = amplitude * (q[i] as number);
    if (w - swing < low) low = w - swing;
    if (w + swing > high) high = w + swing;
    square += (weights[i] as number) * (w * w + (swing * swing) / 2);
    dimmed[i] = (weights[i] as number) * bessel0(turns * (q[i] as number), terms);
  }
  into.pv[d] = high - low;
  into.rms[d] = Math.sqrt(square);
  into.strehl[d] = phaseSumSquared(row, dimmed, 1 / wavelength);
}

/** Work space of one draw, overwritten by the next. */
let dimmed = new Float64Array(0);

/** 1 / (k!)^2: J0(x) is the sum of these times the powers of -(x / 2)^2. */
const SERIES = Float64Array.from({ length: 17 }, (_, k) => 1 / factorial(k) ** 2);

function factorial(k: number): number {
  return k < 2 ? 1 : k * factorial(k - 1);
}

/** Terms of the series that tell it to 1e-13 where the square of half the argument is `square` at most; none where it is too long. */
function termsOf(square: number): number {
  if (square > 6.25) return 0;
  let power = 1, k = 1;
  while (k < SERIES.length && (power *= square) * (SERIES[k] as number) > 1e-13) k++;
  return k;
}

/** J0 by so many terms of its series, or by its integral. */
function bessel0(x: number, terms: number): number {
  if (terms === 0) return besselJ(0, x);
  const u = -(x * x) / 4;
  let sum = 0;
  for (let k = terms - 1; k >= 0; k--) sum = sum * u + (SERIES[k] as number);
  return sum;
}
