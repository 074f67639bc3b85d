/** A round plate on points: how it sags under its own weight, harmonic by harmonic. */
import { gaussLegendre } from "../numeric/quadrature.ts";
import { given } from "./ranges.ts";

/** Equal points on one ring, evenly round; `turn` moves the first away from the x axis. */
export interface PointRing {
  /** how many points */
  readonly points: number;
  /** of the ring, in units of the plate's radius; above 0, at most 1 */
  readonly radius: number;
  /** rad; default 0 */
  readonly turn?: number;
}

/** The sag of a plate; heights in units of q a^4 / D, load x radius^4 / bending stiffness. */
export interface Sag {
  /** height at (r, angle), r in units of the radius; mean over the face is 0, + toward the points' far side */
  readonly at: (r: number, angle: number) => number;
  /** RMS about the mean */
  readonly rms: number;
  /** RMS with focus (r^2) taken away too */
  readonly rmsRefocused: number;
}

interface Harmonic {
  readonly n: number;
  readonly coefficients: Float64Array;
  readonly sine: boolean;
}

const NODES = 70;

/** r^n P_k^(0,n)(2r^2 - 1), k = 0 ... count-1, with first and second derivative: the radial part of a disc's polynomials. */
function radials(n: number, count: number, r: number): [Float64Array, Float64Array, Float64Array] {
  const x = 2 * r * r - 1,
    p = [jacobi(n, count, x, 0), jacobi(n, count, x, 1), jacobi(n, count, x, 2)];
  const out: [Float64Array, Float64Array, Float64Array] = [
    new Float64Array(count),
    new Float64Array(count),
    new Float64Array(count),
  ];
  const rn = r ** n,
    r1 = n === 0 ? 0 : n * r ** (n - 1),
    r2 = n < 2 ? 0 : n * (n - 1) * r ** (n - 2);
  for (let k = 0; k < count; k++) {
    const f = p[0]?.[k] ?? 0, d = (p[1]?.[k] ?? 0) * 4 * r;
    const dd = (p[2]?.[k] ?? 0) * 16 * r * r + (p[1]?.[k] ?? 0) * 4;
    out[0][k] = rn * f;
    out[1][k] = r1 * f + rn * d;
    out[2][k] = r2 * f + 2 * r1 * d + rn * dd;
  }
  return out;
}

/** Derivative of order d of the Jacobi polynomials P_k^(0,n): a Jacobi polynomial of its own, of two lower. */
function jacobi(n: number, count: number, x: number, d: number): Float64Array {
  const out = new Float64Array(count), a = d, b = n + d;
  let before = 0, now = 1;
  for (let j = 0; j + d < count; j++) {
    const k = j + d;
    let scale = 1;
    for (let m = 1; m <= d; m++) scale *= (k + n + m) / 2;
    out[k] = scale * now;
    const c = 2 * j + a + b;
    const next = j === 0
      ? (a + 1) + ((a + b + 2) * (x - 1)) / 2
      : ((c + 1) * ((c + 2) * c * x + a * a - b * b) * now -
        2 * (j + a) * (j + b) * (c + 2) * before) / (2 * (j + 1) * (j + a + b + 1) * c);
    before = now;
    now = next;
  }
  return out;
}

/** Bending energy between the radial functions of one harmonic, for stiffness 1. */
function stiffness(n: number, count: number, poisson: number): Float64Array[] {
  const matrix = Array.from({ length: count }, () => new Float64Array(count));
  const rule = gaussLegendre(NODES), around = n === 0 ? 2 * Math.PI : Math.PI;
  rule.nodes.forEach((node, i) => {
    const r = (node + 1) / 2, weight = ((rule.weights[i] ?? 0) / 2) * r * around;
    const [f, d, dd] = radials(n, count, r);
    const bend = d.map((slope, k) => slope / r - (n * n * (f[k] ?? 0)) / (r * r));
    const twist = d.map((slope, k) => n * (slope / r - (f[k] ?? 0) / (r * r)));
    for (let j = 0; j < count; j++) {
      const row = matrix[j] as Float64Array;
      for (let k = 0; k <= j; k++) {
        const jj = dd[j] ?? 0, kk = dd[k] ?? 0, jb = bend[j] ?? 0, kb = bend[k] ?? 0;
        row[k] = (row[k] ?? 0) + weight * ((jj + jb) * (kk + kb) -
              (1 - poisson) * (jj * kb + kk * jb - 2 * (twist[j] ?? 0) * (twist[k] ?? 0)));
      }
    }
  });
  return matrix;
}

/** Solves a symmetric positive system given by its lower triangle. */
function solve(lower: readonly Float64Array[], load: Float64Array): Float64Array {
  const n = load.length,
    l = lower.map((row) => Float64Array.from(row)),
    x = Float64Array.from(load);
  const at = (i: number, j: number): number => l[i]?.[j] ?? 0;
  for (let j = 0; j < n; j++) {
    for (let i = j; i < n; i++) {
      let rest = at(i, j);
      for (let k = 0; k < j; k++) rest -= at(i, k) * at(j, k);
      (l[i] as Float64Array)[j] = i === j ? Math.sqrt(rest) : rest / at(j, j);
    }
  }
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i] = (x[i] ?? 0) - at(i, k) * (x[k] ?? 0);
    x[i] = (x[i] ?? 0) / at(i, i);
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i] = (x[i] ?? 0) - at(k, i) * (x[k] ?? 0);
    x[i] = (x[i] ?? 0) / at(i, i);
  }
  return x;
}

/** Rigid moves cost no energy and are left out: the constant, and the tilt. */
function firstBending(n: number): number {
  return n < 2 ? 1 : 0;
}

function harmonic(
  n: number,
  sine: boolean,
  order: number,
  poisson: number,
  rings: readonly PointRing[],
): Harmonic | undefined {
  const skip = firstBending(n), count = Math.floor((order - n) / 2) + 1;
  if (count <= skip) return undefined;
  const total = rings.reduce((sum, { points }) => sum + points, 0), load = new Float64Array(count);
  for (const { points, radius, turn = 0 } of rings) {
    const [f] = radials(n, count, radius);
    for (let p = 0; p < points; p++) {
      const angle = turn + (2 * Math.PI * p) / points;
      const share = (Math.PI / total) * (sine ? Math.sin(n * angle) : Math.cos(n * angle));
      f.forEach((value, k) => load[k] = (load[k] ?? 0) + share * value);
    }
  }
  if (load.every((value) => Math.abs(value) < 1e-12)) return undefined;
  const matrix = stiffness(n, count, poisson).slice(skip).map((row) => row.subarray(skip));
  // the weight itself pushes evenly: only the constant feels it, so the points alone bend the plate
  return { n, sine, coefficients: solve(matrix, load.subarray(skip)) };
}

/**
 * How a flat, even, thin plate sags when points of equal force carry it, found by the least energy among the disc's
 * polynomials.
 *
 * Thin: no shear. A thick disc sags more (see `supportSag`).
 *
 * @param rings    rings of points; every point carries the same force
 * @param poisson  of the glass, 0 to below 0.5
 * @param order    highest power of r; default 60
 * @throws {RangeError} outside those ranges, or where the points cannot carry a plate evenly (their middle is not the
 *   plate's)
 * @see Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, chapter 3 (from memory); Ritz's method
 * @example three points at 0.645 of the radius
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(plateOnPoints([{ points: 3, radius: 0.645 }], 0.2).rms.toFixed(5), "0.00613");
 * ```
 */
export function plateOnPoints(rings: readonly PointRing[], poisson: number, order = 60): Sag {
  requireRings(rings, poisson);
  const parts: Harmonic[] = [];
  for (let n = 0; n <= order; n++) {
    for (const sine of n === 0 ? [false] : [false, true]) {
      const part = n === 1 ? undefined : harmonic(n, sine, order, poisson, rings);
      if (part !== undefined) parts.push(part);
    }
  }
  const at = (r: number, angle: number): number => heightAt(parts, r, angle);
  // the disc's polynomials are orthogonal: mean square is a sum; norm of r^n P_k^(0,n) is 1/(2(2k+n+1)) over r dr
  const square = (from: number): number =>
    parts.reduce((sum, { n, coefficients }) =>
      sum + coefficients.reduce((inner, c, i) => {
        const k = i + firstBending(n);
        return n === 0 && k < from
          ? inner
          : inner + (c * c * (n === 0 ? 2 : 1)) / (2 * (2 * k + n + 1));
      }, 0), 0);
  return { at, rms: Math.sqrt(square(1)), rmsRefocused: Math.sqrt(square(2)) };
}

function heightAt(parts: readonly Harmonic[], r: number, angle: number): number {
  let sum = 0;
  for (const { n, coefficients, sine } of parts) {
    const [f] = radials(n, coefficients.length + firstBending(n), r);
    const turn = sine ? Math.sin(n * angle) : Math.cos(n * angle);
    coefficients.forEach((c, i) => sum += c * (f[i + firstBending(n)] ?? 0) * turn);
  }
  return sum;
}

function requireRings(rings: readonly PointRing[], poisson: number): void {
  const ok = rings.length > 0 && poisson >= 0 && poisson < 0.5 &&
    rings.every(({ points, radius }) =>
      Number.isInteger(points) && points >= 2 && radius > 0 && radius <= 1
    ) && rings.reduce((sum, { points }) => sum + points, 0) >= 3;
  if (ok) return;
  throw new RangeError(
    `plateOnPoints requires rings of 2 or more points, 3 in all, 0 < radius <= 1 and 0 <= poisson < 0.5, got ${
      rings.map(({ points, radius }) => given({ points, radius })).join("; ")
    }, poisson=${poisson}`,
  );
}
