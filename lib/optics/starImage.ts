/** The image of a star: brightness in the focal plane from the shape of the wavefront. */
import { besselJ } from "./airy.ts";
import type { RadialGrid } from "./quality.ts";

/** Brightness over the peak of a perfect, unobstructed mirror of the same light: the middle value is the Strehl ratio. */
export interface StarProfile {
  /** distance from the middle, in wavelength x focal ratio */
  readonly distances: Float64Array;
  /** at each distance; 1 = the peak of a perfect mirror */
  readonly brightness: Float64Array;
  /** share of the light inside each distance, 0 to 1 */
  readonly encircled: Float64Array;
}

/**
 * Image of a star by a wavefront that depends on the radius only.
 *
 *     I(v) = |Int exp(2 pi i W) J0(pi v sqrt q) dq|^2,   q = (r/a)^2, area weight
 *
 * @param grid     from `radialGrid`, with its obstruction if there is one
 * @param waves    wavefront at its places, waves, at the focus wanted; each wave of q added is one of defocus
 * @param extent   how far from the middle, in wavelength x focal ratio; default 5
 * @param steps    places, default 100
 * @throws {RangeError} where lengths differ, or extent or steps are not above 0
 * @see Born and Wolf 8.8 (reckoned anew in tests/optics/secondRoute.py)
 * @example the middle is the Strehl ratio
 * ```ts
 * import assert from "node:assert/strict";
 * import { radialGrid } from "./quality.ts";
 * const grid = radialGrid();
 * assert.equal(starProfile(grid, grid.q.map((q) => q * q - q)).brightness[0]?.toFixed(5), "0.80030");
 * ```
 */
export function starProfile(
  grid: RadialGrid,
  waves: ArrayLike<number>,
  extent = 5,
  steps = 100,
): StarProfile {
  if (!(waves.length === grid.q.length && extent > 0 && Number.isInteger(steps) && steps > 0)) {
    throw new RangeError(
      `starProfile requires one wave for each of ${grid.q.length} places, extent and whole steps above 0, ` +
        `got ${waves.length}, extent=${extent}, steps=${steps}`,
    );
  }
  const real = Float64Array.from(
    waves,
    (w, i) => (grid.weights[i] ?? 0) * Math.cos(2 * Math.PI * w),
  );
  const imaginary = Float64Array.from(
    waves,
    (w, i) => (grid.weights[i] ?? 0) * Math.sin(2 * Math.PI * w),
  );
  const distances = Float64Array.from({ length: steps + 1 }, (_, i) => (extent * i) / steps);
  const all = ripplesOf(grid, distances), count = grid.q.length;
  const brightness = distances.map((_, k) => {
    let a = 0, b = 0;
    for (let i = 0; i < count; i++) {
      const wave = all[k * count + i] ?? 0;
      a += (real[i] ?? 0) * wave;
      b += (imaginary[i] ?? 0) * wave;
    }
    return a * a + b * b;
  });
  return {
    distances,
    brightness,
    encircled: encircle(distances, brightness, 1 - (grid.q[0] ?? 0)),
  };
}

/** What each ring of a grid brings to each distance, last of all: a star is looked at on both sides of its focus. */
const ripples = new WeakMap<RadialGrid, { readonly far: number; readonly all: Float64Array }>();

function ripplesOf(grid: RadialGrid, distances: Float64Array): Float64Array {
  const far = distances.at(-1) ?? 0, count = grid.q.length, known = ripples.get(grid);
  if (known?.far === far && known.all.length === distances.length * count) return known.all;
  const all = new Float64Array(distances.length * count);
  distances.forEach((v, k) => {
    grid.q.forEach((q, i) => all[k * count + i] = besselJ(0, Math.PI * v * Math.sqrt(q)));
  });
  ripples.set(grid, { far, all });
  return all;
}

/** Running Int I v dv, cubic by pieces; pi^2/2 x open area makes the whole of the light 1. */
function encircle(distances: Float64Array, brightness: Float64Array, open: number): Float64Array {
  const out = new Float64Array(distances.length), h = distances[1] ?? 0;
  const f = (i: number): number => (brightness[i] ?? 0) * (distances[i] ?? 0);
  for (let i = 1; i < out.length; i++) {
    const before = i >= 2 ? f(i - 2) : -f(1),
      after = i + 1 < out.length ? f(i + 1) : 3 * f(i) - 3 * f(i - 1) + before;
    const piece = (h * (13 * (f(i - 1) + f(i)) - before - after)) / 24;
    out[i] = (out[i - 1] ?? 0) + piece * ((Math.PI * Math.PI) / 2) * open;
  }
  return out;
}

/** A square picture, row after row, its middle in the middle. */
export interface Picture {
  /** pixels on a side */
  readonly size: number;
  /** brightness, row after row */
  readonly values: Float64Array;
}

/** What the picture of a star is taken through. */
export interface Pupil {
  /** wavefront, waves, at (x, y) of the unit disc */
  readonly waves: (x: number, y: number) => number;
  /** width of the obstruction over the aperture, 0 to below 1 */
  readonly obstruction?: number;
}

/**
 * Image of a star by any wavefront, also a lopsided one: a Fourier sum along rows, then along columns.
 *
 * @param pupil   wavefront and obstruction
 * @param size    pixels across the picture, odd puts one on the middle; default 65
 * @param extent  from the middle to the edge of the picture, in wavelength x focal ratio; default 5
 * @param fine    samples across the aperture; default 96, enough for two waves a tenth of the radius
 * @returns brightness over the peak of a perfect mirror with the same opening
 * @throws {RangeError} where sizes are not whole and above 1 or extent is not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const perfect = starImage({ waves: () => 0 }, 9, 2);
 * assert.equal(perfect.values[40]?.toFixed(6), "1.000000");
 * ```
 */
export function starImage(pupil: Pupil, size = 65, extent = 5, fine = 96): Picture {
  if (!(Number.isInteger(size) && size > 1 && Number.isInteger(fine) && fine > 1 && extent > 0)) {
    throw new RangeError(
      `starImage requires whole sizes above 1 and extent above 0, got ${size}, ${fine}, ${extent}`,
    );
  }
  const [field, light] = pupilField(pupil, fine);
  const kernel = fourierRows(size, fine, extent);
  const rows = apply(kernel, field, size, fine, fine); // along x for each y of the aperture
  const turned = apply(kernel, transposed(rows, fine, size), size, fine, size);
  const values = new Float64Array(size * size);
  for (let x = 0; x < size; x++) {
    for (let y = 0; y < size; y++) {
      const re = turned[2 * (x * size + y)] ?? 0, im = turned[2 * (x * size + y) + 1] ?? 0;
      values[y * size + x] = (re * re + im * im) / (light * light);
    }
  }
  return { size, values };
}

/** Complex amplitude at fine x fine places, edges by share of the pixel inside; and its sum without aberration. */
function pupilField({ waves, obstruction = 0 }: Pupil, fine: number): [Float64Array, number] {
  const field = new Float64Array(2 * fine * fine);
  let light = 0;
  for (let r = 0; r < fine; r++) {
    for (let c = 0; c < fine; c++) {
      const x = (2 * c + 1) / fine - 1, y = (2 * r + 1) / fine - 1, rho = Math.hypot(x, y);
      const soft = (edge: number): number =>
        Math.min(1, Math.max(0, ((edge - rho) * fine) / 2 + 0.5));
      const open = soft(1) - (obstruction > 0 ? soft(obstruction) : 0);
      if (open <= 0) continue;
      const phase = 2 * Math.PI * waves(x, y);
      field[2 * (r * fine + c)] = open * Math.cos(phase);
      field[2 * (r * fine + c) + 1] = open * Math.sin(phase);
      light += open;
    }
  }
  return [field, light];
}

function fourierRows(size: number, fine: number, extent: number): Float64Array {
  const out = new Float64Array(2 * size * fine);
  for (let p = 0; p < size; p++) {
    const v = extent * ((2 * p) / (size - 1) - 1);
    for (let c = 0; c < fine; c++) {
      const turn = Math.PI * v * ((2 * c + 1) / fine - 1);
      out[2 * (p * fine + c)] = Math.cos(turn);
      out[2 * (p * fine + c) + 1] = -Math.sin(turn);
    }
  }
  return out;
}

/** kernel (size x n) times each row of field (lines x n): lines x size, complex. */
function apply(
  kernel: Float64Array,
  field: Float64Array,
  size: number,
  n: number,
  lines: number,
): Float64Array {
  const out = new Float64Array(2 * lines * size);
  for (let r = 0; r < lines; r++) {
    for (let p = 0; p < size; p++) {
      let re = 0, im = 0;
      for (let c = 0; c < n; c++) {
        const a = field[2 * (r * n + c)] as number, b = field[2 * (r * n + c) + 1] as number;
        const u = kernel[2 * (p * n + c)] as number, v = kernel[2 * (p * n + c) + 1] as number;
        re += a * u - b * v;
        im += a * v + b * u;
      }
      out[2 * (r * size + p)] = re;
      out[2 * (r * size + p) + 1] = im;
    }
  }
  return out;
}

function transposed(field: Float64Array, rows: number, columns: number): Float64Array {
  const out = new Float64Array(field.length);
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      out[2 * (c * rows + r)] = field[2 * (r * columns + c)] as number;
      out[2 * (c * rows + r) + 1] = field[2 * (r * columns + c) + 1] as number;
    }
  }
  return out;
}
