/**
 * What a wavefront that depends on the radius only is worth: peak to valley, RMS, Strehl, at a stated focus.
 *
 * Everything is weighed by area, so the natural coordinate is q = (r/a)^2: equal steps of q are equal areas.
 */
import { gaussLegendre } from "../numeric/quadrature.ts";

/** Places and area weights on an aperture; the first and last place are its inner and outer edge, with weight 0. */
export interface RadialGrid {
  /** (r/a)^2, rising */
  readonly q: Float64Array;
  /** share of the area, sum 1 */
  readonly weights: Float64Array;
}

/** Which focus the numbers are for. */
export type Focus = "least rms" | "least P-V" | "most Strehl";

/** A wavefront with piston taken out and the focus chosen. */
export interface FocusedWavefront {
  /** how the focus was chosen */
  readonly focus: Focus;
  /** at the places of the grid, waves, mean 0 */
  readonly waves: Float64Array;
  /** peak to valley of the wavefront, waves */
  readonly pvWaves: number;
  /** root mean square of the wavefront by area, waves */
  readonly rmsWaves: number;
  /** exact, on the axis */
  readonly strehl: number;
  /** how many waves of (r/a)^2 were taken out */
  readonly focusWaves: number;
}

/**
 * A grid for radial wavefronts: Gauss's places in q, and both edges.
 *
 * @param count        places between the edges, 4 or more; default 40
 * @param obstruction  width of a central obstruction over the aperture, 0 to below 1
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const grid = radialGrid(10);
 * assert.equal(grid.q.length, 12);
 * assert.equal(grid.weights.reduce((a, b) => a + b).toFixed(12), "1.000000000000");
 * ```
 */
export function radialGrid(count = 40, obstruction = 0): RadialGrid {
  if (!(Number.isInteger(count) && count >= 4 && obstruction >= 0 && obstruction < 1)) {
    throw new RangeError(
      `radialGrid requires a whole count of 4 or more and 0 <= obstruction < 1, got count=${count}, obstruction=${obstruction}`,
    );
  }
  const inner = obstruction * obstruction;
  const rule = gaussLegendre(count);
  const q = [inner, ...rule.nodes.map((x) => inner + ((1 - inner) * (x + 1)) / 2), 1];
  return {
    q: Float64Array.from(q),
    weights: Float64Array.from([0, ...rule.weights, 0], (w) => w / 2),
  };
}

/**
 * Takes piston and focus out of a radial wavefront and says what is left.
 *
 * At least RMS, the least-squares straight line in q (area weight) is removed. For pure spherical aberration that is
 * also the focus of least P-V; for anything else the two differ, and for large errors the focus of most Strehl leaves
 * both. The one chosen is named in the result.
 *
 * @param grid   from `radialGrid`
 * @param waves  wavefront at its places, waves
 * @param focus  default "least rms"
 * @throws {RangeError} where lengths differ or a value is not finite
 * @see Born and Wolf 9.1-9.3 (reckoned anew in tests/optics/secondRoute.py)
 * @example a quarter wave of spherical aberration at its best focus
 * ```ts
 * import assert from "node:assert/strict";
 * const grid = radialGrid();
 * const best = atBestFocus(grid, grid.q.map((q) => q * q));
 * assert.equal(best.pvWaves.toFixed(6), "0.250000");
 * assert.equal(best.strehl.toFixed(5), "0.80030");
 * ```
 */
export function atBestFocus(
  grid: RadialGrid,
  waves: ArrayLike<number>,
  focus: Focus = "least rms",
): FocusedWavefront {
  if (waves.length !== grid.q.length || !Array.prototype.every.call(waves, Number.isFinite)) {
    throw new RangeError(
      `atBestFocus requires one finite value for each of ${grid.q.length} places, got ${waves.length} values`,
    );
  }
  const start = leastSquaresFocus(grid, waves);
  const cost = (b: number): number =>
    focus === "least P-V"
      ? peakToValley(tilted(grid, waves, b), grid.q)
      : -strehlOf(grid, tilted(grid, waves, b));
  const slope = focus === "least rms" ? start : lowest(cost, start);
  const left = tilted(grid, waves, slope);
  const mean = weighted(grid, left, (w) => w);
  for (let i = 0; i < left.length; i++) left[i] = (left[i] ?? 0) - mean;
  return {
    focus,
    waves: left,
    pvWaves: peakToValley(left, grid.q),
    rmsWaves: Math.sqrt(weighted(grid, left, (w) => w * w)),
    strehl: strehlOf(grid, left),
    focusWaves: slope,
  };
}

/**
 * Strehl ratio on the axis, exactly: |mean over the area of exp(2 pi i W)|^2.
 *
 * @param grid   from `radialGrid`
 * @param waves  wavefront at its places, waves
 * @returns 0 to 1, at the focus the wavefront is given for
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const grid = radialGrid();
 * assert.equal(strehlOf(grid, grid.q.map((q) => q / 4)).toFixed(8), "0.81056947"); // a quarter wave of defocus
 * ```
 */
export function strehlOf(grid: RadialGrid, waves: ArrayLike<number>): number {
  const real = weighted(grid, waves, (w) => Math.cos(2 * Math.PI * w));
  const imaginary = weighted(grid, waves, (w) => Math.sin(2 * Math.PI * w));
  return real * real + imaginary * imaginary;
}

/**
 * Strehl ratio from the RMS alone, exp(-(2 pi s)^2): 0.003 too high at 0.075 waves, 0.02 at 0.15, worthless beyond 0.2.
 *
 * @param rmsWaves  RMS of the wavefront, waves; 0 or more
 * @throws {RangeError} outside that range
 * @see the exponential form of Marechal's estimate (Mahajan 1982, reckoned anew in tests/optics/secondRoute.py)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(strehlFromRms(1 / 14).toFixed(4), "0.8176");
 * ```
 */
export function strehlFromRms(rmsWaves: number): number {
  if (!(rmsWaves >= 0)) {
    throw new RangeError(`strehlFromRms requires rmsWaves of 0 or more, got ${rmsWaves}`);
  }
  return Math.exp(-((2 * Math.PI * rmsWaves) ** 2));
}

/**
 * Highest less lowest; where places are given, each extreme between them is the top of the parabola through it and its
 * neighbours, so that a coarse grid does not cut the peaks.
 *
 * @param values  any finite numbers, two or more
 * @param places  where they were taken, rising; default: the values as they stand
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(peakToValley([0, 0.75, 1, 0.75], [0, 0.25, 0.5, 0.75]), 1);
 * ```
 */
export function peakToValley(values: ArrayLike<number>, places?: ArrayLike<number>): number {
  let low = 0, high = 0;
  for (let i = 1; i < values.length; i++) {
    if ((values[i] ?? NaN) < (values[low] ?? NaN)) low = i;
    if ((values[i] ?? NaN) > (values[high] ?? NaN)) high = i;
  }
  if (places === undefined) return (values[high] ?? NaN) - (values[low] ?? NaN);
  return crest(values, places, high) - crest(values, places, low);
}

function crest(values: ArrayLike<number>, places: ArrayLike<number>, i: number): number {
  const here = values[i] ?? NaN;
  if (i === 0 || i === values.length - 1) return here;
  const h0 = (places[i] ?? 0) - (places[i - 1] ?? 0), h1 = (places[i + 1] ?? 0) - (places[i] ?? 0);
  const s0 = (here - (values[i - 1] ?? 0)) / h0, s1 = ((values[i + 1] ?? 0) - here) / h1;
  const bend = (s1 - s0) / (h0 + h1), slope = s0 + bend * h0;
  return bend === 0 ? here : here - (slope * slope) / (4 * bend);
}

function weighted(grid: RadialGrid, waves: ArrayLike<number>, f: (w: number) => number): number {
  let sum = 0;
  for (let i = 0; i < waves.length; i++) sum += (grid.weights[i] ?? 0) * f(waves[i] ?? 0);
  return sum;
}

function tilted(grid: RadialGrid, waves: ArrayLike<number>, slope: number): Float64Array {
  return Float64Array.from(waves, (w, i) => w - slope * (grid.q[i] ?? 0));
}

function leastSquaresFocus({ q, weights }: RadialGrid, waves: ArrayLike<number>): number {
  let middle = 0, spread = 0, along = 0;
  for (let i = 0; i < q.length; i++) middle += (weights[i] ?? 0) * (q[i] ?? 0);
  for (let i = 0; i < q.length; i++) {
    const d = (q[i] ?? 0) - middle;
    spread += (weights[i] ?? 0) * d * d;
    along += (weights[i] ?? 0) * d * (waves[i] ?? 0);
  }
  return along / spread;
}

/** Lowest place of a function near `start`: a scan of two waves of focus to either side, then golden section. */
function lowest(cost: (x: number) => number, start: number): number {
  const step = 0.02;
  let best = start;
  for (let i = -100; i <= 100; i++) {
    if (cost(start + i * step) < cost(best)) best = start + i * step;
  }
  let low = best - step, high = best + step;
  const golden = (Math.sqrt(5) - 1) / 2;
  while (high - low > 1e-9) {
    const a = high - golden * (high - low), b = low + golden * (high - low);
    if (cost(a) < cost(b)) high = b;
    else low = a;
  }
  return (low + high) / 2;
}
