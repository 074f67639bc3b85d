/** A round plate on points: how it sags under its own weight, harmonic by harmonic. */
import { gaussLegendre } from "../numeric/quadrature.ts";
import { solveColumn } from "../numeric/smallMatrix.ts";
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

/** What is known of the plate besides its points. */
export interface Plate {
  /** of the glass, 0 to below 0.5 */
  readonly poisson: number;
  /** over the radius, 0 to 1; 0, the default, is a thin plate, without shear */
  readonly thickness?: number;
  /** highest power of r, 4 to 80; default 40 */
  readonly order?: number;
}

interface Harmonic {
  readonly n: number;
  /** of the polynomials of this harmonic, from `firstBending` on */
  readonly coefficients: Float64Array;
  readonly sine: boolean;
}

/** Share of the mean shear stress that counts in a plate of even thickness. */
const SHEAR_SHARE = 5 / 6;

/** Rigid moves cost no energy and are left out: the constant, and the tilt. */
function firstBending(n: number): number {
  return n < 2 ? 1 : 0;
}

/** What the points push on each radial function; the weight itself pushes evenly, so it bends nothing else. */
function loadOf(
  n: number,
  sine: boolean,
  count: number,
  rings: readonly PointRing[],
): Float64Array {
  const total = rings.reduce((sum, { points }) => sum + points, 0), load = new Float64Array(count);
  for (const { points, radius, turn = 0 } of rings) {
    const [f] = radials(n, count, radius);
    for (let p = 0; p < points; p++) {
      const angle = turn + (2 * Math.PI * p) / points;
      const share = (Math.PI / total) * (sine ? Math.sin(n * angle) : Math.cos(n * angle));
      f.forEach((value, k) => load[k] = (load[k] ?? 0) + share * value);
    }
  }
  return load;
}

/** Blocks of one system, side by side and one below the other; what is left out is 0. */
function blocks(parts: readonly (readonly (Matrix | undefined)[])[]): Float64Array[] {
  const sizes = parts.map((row, i) => row[i]?.length ?? 0);
  const starts = sizes.map((_, i) => sizes.slice(0, i).reduce((sum, size) => sum + size, 0));
  const size = sizes.reduce((sum, part) => sum + part, 0);
  const out = Array.from({ length: size }, () => new Float64Array(size));
  parts.forEach((row, i) =>
    row.forEach((part, j) =>
      part?.forEach((line, k) => out[(starts[i] ?? 0) + k]?.set(line, starts[j] ?? 0))
    )
  );
  return out;
}

/** Rows and columns from `rows` and `columns` on, times a factor. */
function part(matrix: Matrix, rows: number, columns: number, factor = 1): Matrix {
  return matrix.slice(rows).map((row) => row.subarray(columns).map((value) => factor * value));
}

/**
 * Heights of one harmonic in a plate with shear: it bends by f and shears by s, so stands at f + s; its slopes are
 * grad f + curl g, where g lives near the rim. Shear stiffness over bending stiffness: share x G t a^2 / D.
 */
function sheared(
  n: number,
  functions: Sampled,
  load: Float64Array,
  { poisson, thickness }: Required<Plate>,
): Float64Array {
  const skip = firstBending(n), size = load.length;
  const stiff = (6 * SHEAR_SHARE * (1 - poisson)) / thickness ** 2;
  const bend = part(energy(functions, bending(poisson)), skip, skip);
  const slopes = energy(functions, shearing), shear = part(slopes, skip, skip, stiff);
  const rows: (Matrix | undefined)[][] = [[bend], [undefined, shear]];
  let loads = [...load, ...load];
  // a twist with the lowest function is a bending with a shearing, so it is left out; evenly round there is none
  if (n > 0) {
    const twist = part(energy(functions, twisting(poisson)), 1, 1);
    const curl = part(slopes, 1, 1, stiff);
    const own = twist.map((row, j) => row.map((value, k) => value + (curl[j]?.[k] ?? 0)));
    rows.push([
      part(energy(functions, bendingWithTwist(poisson)), 1, 0),
      part(energy(functions, shearingWithTwist), 1, 0, stiff),
      own,
    ]);
    loads = [...loads, ...own.map(() => 0)];
  }
  const found = solveColumn(blocks(rows), Float64Array.from(loads));
  return found.subarray(0, size).map((value, k) => value + (found[size + k] ?? 0));
}

function harmonic(
  n: number,
  sine: boolean,
  plate: Required<Plate>,
  rings: readonly PointRing[],
): Harmonic | undefined {
  const skip = firstBending(n), count = Math.floor((plate.order - n) / 2) + 1;
  if (count <= skip) return undefined;
  const load = loadOf(n, sine, count, rings).subarray(skip);
  if (load.every((value) => Math.abs(value) < 1e-12)) return undefined;
  const functions = sampled(n, count);
  const coefficients = plate.thickness > 0
    ? sheared(n, functions, load, plate)
    : solveColumn(part(energy(functions, bending(plate.poisson)), skip, skip), load);
  return { n, sine, coefficients };
}

/**
 * How a flat, even plate sags when points of equal force carry it, found by the least energy among the disc's polynomials.
 *
 * Without a thickness it is a thin plate that only bends. With one it shears as well, as a thick disc does (Reissner's and
 * Mindlin's plate, shear share 5/6).
 *
 * @param rings  rings of points; every point carries the same force
 * @param plate  Poisson's ratio, thickness over radius
 * @throws {RangeError} outside those ranges
 * @see Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, chapters 3 and 5 (reckoned anew in tests/telescope/secondRoute.py); Ritz's method
 * @example three points at 0.645 of the radius, a thin plate and one as thick as a third of its radius
 * ```ts
 * import assert from "node:assert/strict";
 * const rings = [{ points: 3, radius: 0.645 }];
 * assert.equal(plateOnPoints(rings, { poisson: 0.22 }).rms.toFixed(5), "0.00618");
 * assert.equal(plateOnPoints(rings, { poisson: 0.22, thickness: 1 / 3 }).rms.toFixed(4), "0.0083");
 * ```
 */
export function plateOnPoints(rings: readonly PointRing[], plate: Plate): Sag {
  const whole = { thickness: 0, order: 40, ...plate };
  requirePlate(rings, whole);
  const parts: Harmonic[] = [];
  for (let n = 0; n <= whole.order; n++) {
    for (const sine of n === 0 ? [false] : [false, true]) {
      const found = n === 1 ? undefined : harmonic(n, sine, whole, rings);
      if (found !== undefined) parts.push(found);
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

function requirePlate(rings: readonly PointRing[], plate: Required<Plate>): void {
  const { poisson, thickness, order } = plate;
  const ok = rings.length > 0 && poisson >= 0 && poisson < 0.5 && thickness >= 0 &&
    thickness <= 1 && Number.isInteger(order) && order >= 4 && order <= 80 &&
    rings.every(({ points, radius }) =>
      Number.isInteger(points) && points >= 2 && radius > 0 && radius <= 1
    ) && rings.reduce((sum, { points }) => sum + points, 0) >= 3;
  if (ok) return;
  throw new RangeError(
    `plateOnPoints requires rings of 2 or more points, 3 in all, 0 < radius <= 1, 0 <= poisson < 0.5, thickness from 0 to 1, got ${
      rings.map(({ points, radius }) => given({ points, radius })).join("; ")
    }, ${given({ ...plate })}`,
  );
}

// Energies of a bent and sheared disc, between the radial functions of one harmonic.

/** Rows of a square matrix. */
export type Matrix = readonly Float64Array[];

/** What a function f(r) cos n angle is at one radius, by its place: the second derivatives are along the radius, round the middle, and mixed. */
const VALUE = 0, SLOPE = 1, ALONG = 2, ROUND = 3, MIXED = 4, FIELDS = 5;

/** One part of what two functions share at one radius: a field of the first times a field of the second, times a number. */
export type Product = readonly [first: number, second: number, times: number];

/** What two functions of harmonic n share at radius r; the same with the two changed about. */
export type Form = (n: number, r: number) => readonly Product[];

/** The radial functions of one harmonic at the places of a quadrature, each with the weight of its ring of area. */
export interface Sampled {
  readonly n: number;
  readonly count: number;
  readonly places: readonly {
    readonly r: number;
    readonly weight: number;
    /** `FIELDS` numbers for each function */
    readonly here: Float64Array;
  }[];
}

/**
 * Samples the first radial functions of a harmonic, closely enough for the energies of all of them.
 *
 * @param n      harmonic, 0 or more
 * @param count  how many functions
 */
export function sampled(n: number, count: number): Sampled {
  const key = `${n} ${count}`, known = samples.get(key) ?? sampledAnew(n, count);
  samples.set(key, known);
  return known;
}

/** A thin plate and a thick one, on whatever points, are made of the same functions. */
const samples = new Map<string, Sampled>();

function sampledAnew(n: number, count: number): Sampled {
  // products of two functions reach the power 2n + 4 count
  const rule = gaussLegendre(n + 2 * count + 4), around = n === 0 ? 2 * Math.PI : Math.PI;
  const places = Array.from(rule.nodes, (node, i) => {
    const r = (node + 1) / 2;
    return { r, weight: ((rule.weights[i] ?? 0) / 2) * r * around, here: fieldsOf(n, count, r) };
  });
  return { n, count, places };
}

/**
 * Integral over the unit disc of a form between all pairs of the functions.
 *
 * @param functions  from `sampled`
 * @param form       symmetric in its two functions
 * @returns symmetric matrix
 */
export function energy({ n, count, places }: Sampled, form: Form): Matrix {
  const out = Array.from({ length: count }, () => new Float64Array(count));
  const own = new Float64Array(FIELDS);
  for (const { r, weight, here } of places) {
    const products = form(n, r);
    for (let j = 0; j < count; j++) {
      weighed(own, products, weight, here, j * FIELDS);
      addRow(out[j] as Float64Array, own, here, j);
    }
  }
  out.forEach((row, j) => {
    for (let k = j + 1; k < count; k++) row[k] = (out[k] as Float64Array)[j] as number;
  });
  return out;
}

/** What the function at a place of `here` has for others to be multiplied by. */
function weighed(
  own: Float64Array,
  products: readonly Product[],
  weight: number,
  here: Float64Array,
  at: number,
): void {
  own.fill(0);
  for (let k = 0; k < products.length; k++) {
    const product = products[k] as Product, second = product[1];
    own[second] = (own[second] as number) +
      weight * product[2] * (here[at + product[0]] as number);
  }
}

/** Adds what a function shares with itself and those before it. */
function addRow(row: Float64Array, own: Float64Array, here: Float64Array, j: number): void {
  for (let k = 0, at = 0; k <= j; k++, at += FIELDS) {
    let sum = row[k] as number;
    for (let m = 0; m < FIELDS; m++) sum += (own[m] as number) * (here[at + m] as number);
    row[k] = sum;
  }
}

function fieldsOf(n: number, count: number, r: number): Float64Array {
  const [f, d, dd] = radials(n, count, r), here = new Float64Array(FIELDS * count);
  for (let k = 0; k < count; k++) {
    const value = f[k] as number, slope = d[k] as number, at = FIELDS * k;
    here[at + VALUE] = value;
    here[at + SLOPE] = slope;
    here[at + ALONG] = dd[k] as number;
    here[at + ROUND] = slope / r - (n * n * value) / (r * r);
    here[at + MIXED] = n * (slope / r - value / (r * r));
  }
  return here;
}

/** Bending energy of the slopes grad f, for stiffness 1: (along + round)^2 less 1 - poisson times 2 (along round - mixed^2). */
export const bending = (poisson: number): Form => () => [
  [ALONG, ALONG, 1],
  [ALONG, ROUND, poisson],
  [ROUND, ALONG, poisson],
  [ROUND, ROUND, 1],
  [MIXED, MIXED, 2 * (1 - poisson)],
];

/** Bending energy of the slopes curl g: 1 - poisson times 2 mixed^2 + (along - round)^2 / 2. */
export const twisting = (poisson: number): Form => {
  const share = 1 - poisson;
  return () => [
    [MIXED, MIXED, 2 * share],
    [ALONG, ALONG, share / 2],
    [ALONG, ROUND, -share / 2],
    [ROUND, ALONG, -share / 2],
    [ROUND, ROUND, share / 2],
  ];
};

/** What the two kinds of slopes share in bending. */
export const bendingWithTwist = (poisson: number): Form => {
  const share = 1 - poisson;
  return () => [
    [ALONG, MIXED, share],
    [ROUND, MIXED, -share],
    [MIXED, ALONG, share],
    [MIXED, ROUND, -share],
  ];
};

/** Square of the gradient, which is that of the curl too: shear energy for stiffness 1. */
export const shearing: Form = (n, r) => [[SLOPE, SLOPE, 1], [VALUE, VALUE, (n / r) ** 2]];

/** What the gradient of one function and the curl of another share in shear: only the rim counts. */
export const shearingWithTwist: Form = (n, r) => [[VALUE, SLOPE, -n / r], [SLOPE, VALUE, -n / r]];

// The disc's polynomials along the radius: r^n P_k^(0,n)(2r^2 - 1), orthogonal over the area for each n.

/** r^n P_k^(0,n)(2r^2 - 1), k = 0 ... count-1, with first and second derivative: the radial part of a disc's polynomials. */
export function radials(
  n: number,
  count: number,
  r: number,
): [Float64Array, Float64Array, Float64Array] {
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
