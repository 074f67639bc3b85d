/** From a fitted mirror to what it is worth: wavefront of a star, Strehl, profile of the glass, and how surely. */
import { triangle } from "../numeric/positive.ts";
import { random } from "../numeric/random.ts";
import { departureFromParaboloid } from "../optics/conic.ts";
import { radialGrid } from "../optics/quality.ts";
import { type Measured, measured } from "../quantity/measured.ts";
import type { FigureNumbers, Pair } from "./figureNumbers.ts";
import type { PhotoFit } from "./photoFit.ts";

/** What the mirror is held against. */
export interface Judged {
  readonly radius: number;
  readonly half: number;
  readonly wavelength: number;
  readonly reference: "paraboloid" | "sphere";
  /** relative uncertainty of the grating's pitch and of all else that scales slopes */
  readonly scaleU: number;
  readonly goalSurfaceWaves: number;
  readonly seed: number;
}

const DRAWS = 2000;

/** Heights of glass at places of the face for each unit of the mirror's unknowns; piston, tilt and focus taken out. */
interface Face {
  readonly weights: Float64Array;
  /** one row a place: conic, then each shape; nm of glass */
  readonly rows: readonly Float64Array[];
  /** radii of the rings of places, mm, and places on each */
  readonly radii: Float64Array;
  readonly around: number;
  /** height at each ring for each unit of K, nm */
  readonly sphere: Float64Array;
}

/** Works out the numbers of a fit and throws its covariance through them. */
export function photoNumbers(fit: PhotoFit, judged: Judged): FigureNumbers {
  const base = judged.reference === "sphere" ? 0 : -1, face = faceOf(fit, judged, base);
  const best = Float64Array.from([fit.conic - base, ...fit.amounts]);
  const own = valuesOf(face, best, judged), bestConic = conicOperator(face);
  const conicAt = (amounts: Float64Array): number => {
    const rings = ringMeans(face, amounts);
    return base + bestConic.reduce((sum, c, i) => sum + c * (rings[i] as number), 0);
  };
  const draws = drawMirrors(fit, best, judged);
  const drawn = draws.map((amounts) => valuesOf(face, amounts, judged));
  const conics = draws.map(conicAt), goal = 2 * judged.goalSurfaceWaves;
  const of = (value: number, sample: readonly number[], unit: string): Measured =>
    measured(value, deviation(sample), unit);
  const pv = drawn.map((d) => d.pv),
    rms = drawn.map((d) => d.rms),
    strehl = drawn.map((d) => d.strehl);
  const glass = judged.wavelength / 2;
  return {
    conic: of(conicAt(best), conics, ""),
    surfacePv: of(own.pv * glass, pv.map((v) => v * glass), "nm"),
    surfaceRms: of(own.rms * glass, rms.map((v) => v * glass), "nm"),
    wavefrontPv: of(own.pv, pv, "wave"),
    wavefrontRms: of(own.rms, rms, "wave"),
    strehl: of(own.strehl, strehl, ""),
    profile: profileOf(face, best, draws),
    interval95: {
      wavefrontPv: ends(pv),
      wavefrontRms: ends(rms),
      strehl: ends(strehl),
      conic: ends(conics),
    },
    probabilityWithinGoal: pv.filter((v) => v <= goal).length / pv.length,
  };
}

function faceOf(fit: PhotoFit, { radius, half }: Judged, base: number): Face {
  const shapes = fit.terms.flatMap((term) => term.shapes);
  const isRound = shapes.every((f) =>
    Math.abs(f(0.6, 0.5) - f(Math.hypot(0.6, 0.5), 0)) < 1e-9 && f(0.3, -0.4) === f(0.3, 0.4)
  );
  const grid = radialGrid(28), around = isRound ? 1 : 24, rows: Float64Array[] = [];
  const weights: number[] = [], places: [number, number][] = [];
  const radii = Float64Array.from(grid.q, (q) => half * Math.sqrt(q));
  // height for each unit of K, from the reference as far as the fit: it bends a little with K
  const far = Math.abs(fit.conic - base) < 1e-3 ? base + 1e-3 : fit.conic;
  const above = (r: number, conic: number): number => departureFromParaboloid(r, { radius, conic });
  const sphere = Float64Array.from(radii, (r) => (above(r, far) - above(r, base)) / (far - base));
  grid.q.forEach((q, i) => {
    for (let k = 0; k < around; k++) {
      const t = (2 * Math.PI * k) / around, rho = Math.sqrt(q);
      const u = rho * Math.cos(t), v = rho * Math.sin(t);
      places.push([u, v]);
      weights.push((grid.weights[i] ?? 0) / around);
      rows.push(Float64Array.from([sphere[i] ?? 0, ...shapes.map((f) => f(u, v))]));
    }
  });
  const weight = Float64Array.from(weights);
  const plain = (u: number, v: number): number[] =>
    isRound ? [1, u * u + v * v] : [1, u * u + v * v, u, v];
  takeOut(rows, places.map(([u, v]) => Float64Array.from(plain(u, v))), weight);
  return { weights: weight, rows, radii, around, sphere };
}

/** Takes what piston, focus and tilt can mend out of every column, by area-weighted least squares. */
function takeOut(rows: Float64Array[], plain: Float64Array[], weights: Float64Array): void {
  const count = plain[0]?.length ?? 0;
  const dot = (f: (i: number) => number): number =>
    weights.reduce((sum, w, i) => sum + w * f(i), 0);
  for (let a = 0; a < count; a++) { // make the plain shapes independent of one another, then remove each
    const at = (i: number): number => plain[i]?.[a] ?? 0;
    for (let b = 0; b < a; b++) {
      const other = (i: number): number => plain[i]?.[b] ?? 0;
      const share = dot((i) => at(i) * other(i)) / dot((i) => other(i) ** 2);
      plain.forEach((row, i) => row[a] = (row[a] ?? 0) - share * other(i));
    }
    const size = dot((i) => at(i) ** 2);
    for (let j = 0; j < (rows[0]?.length ?? 0); j++) {
      const share = dot((i) => at(i) * (rows[i]?.[j] ?? 0)) / size;
      rows.forEach((row, i) => row[j] = (row[j] ?? 0) - share * at(i));
    }
  }
}

/** P-V and RMS of the wavefront in waves, and Strehl, at the focus of least RMS. */
function valuesOf(
  { rows, weights }: Face,
  amounts: Float64Array,
  { wavelength }: Judged,
): { pv: number; rms: number; strehl: number } {
  let low = Infinity, high = -Infinity, square = 0, re = 0, im = 0;
  for (let i = 0; i < rows.length; i++) {
    const row = rows[i] as Float64Array, weight = weights[i] as number;
    let waves = 0;
    for (let j = 0; j < row.length; j++) waves += (row[j] as number) * (amounts[j] as number);
    waves *= 2 / wavelength;
    low = Math.min(low, waves);
    high = Math.max(high, waves);
    square += weight * waves * waves;
    re += weight * Math.cos(2 * Math.PI * waves);
    im += weight * Math.sin(2 * Math.PI * waves);
  }
  return { pv: high - low, rms: Math.sqrt(square), strehl: re * re + im * im };
}

/** Mean height of each ring. */
function ringMeans({ rows, radii, around }: Face, amounts: Float64Array): Float64Array {
  return radii.map((_, i) => {
    let sum = 0;
    for (let k = 0; k < around; k++) {
      const row = rows[i * around + k] as Float64Array;
      for (let j = 0; j < row.length; j++) sum += (row[j] as number) * (amounts[j] as number);
    }
    return sum / around;
  });
}

/** Weights that give the best single conic from the rings' heights: its share beside piston and focus. */
function conicOperator({ radii, weights, around, sphere }: Face): Float64Array {
  const area = radii.map((_, i) => (weights[i * around] as number) * around);
  const rows = Array.from(radii, (_, i) => Float64Array.of(sphere[i] as number));
  const half = radii.at(-1) ?? 1;
  takeOut(rows, Array.from(radii, (r) => Float64Array.of(1, (r / half) ** 2)), area);
  const shape = rows.map((row) => row[0] ?? 0);
  const size = shape.reduce((sum, v, i) => sum + (area[i] as number) * v * v, 0);
  return Float64Array.from(shape, (v, i) => ((area[i] as number) * v) / size);
}

/** Mirrors as likely as the fit allows. */
function drawMirrors(fit: PhotoFit, best: Float64Array, { scaleU, seed }: Judged): Float64Array[] {
  const n = best.length, block = new Float64Array(n * n), { normal } = random(seed);
  for (let a = 0; a < n; a++) {
    for (let b = 0; b < n; b++) block[a * n + b] = fit.covariance[a * fit.size + b] as number;
  }
  const lower = triangle(block, n) ?? new Float64Array(n * n);
  return Array.from({ length: DRAWS }, () => {
    const dice = best.map(() => normal()), scale = scaleU * normal();
    return best.map((v, a) => {
      let moved = v + scale * (a === 0 ? fit.conic : v);
      for (let b = 0; b <= a; b++) moved += (lower[a * n + b] as number) * (dice[b] as number);
      return moved;
    });
  });
}

function profileOf(
  face: Face,
  best: Float64Array,
  draws: readonly Float64Array[],
): FigureNumbers["profile"] {
  const heights = ringMeans(face, best), some = draws.slice(0, 400).map((d) => ringMeans(face, d));
  return Array.from(face.radii, (radius, i) => ({
    radius,
    surfaceError: heights[i] as number,
    u: deviation(some.map((rings) => rings[i] as number)),
  }));
}

function deviation(sample: readonly number[]): number {
  const mean = sample.reduce((a, b) => a + b, 0) / sample.length;
  return Math.sqrt(sample.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (sample.length - 1));
}

function ends(sample: readonly number[]): Pair {
  const sorted = Float64Array.from(sample).sort();
  const at = (p: number): number => sorted[Math.round(p * (sorted.length - 1))] ?? NaN;
  return [at(0.025), at(0.975)];
}
