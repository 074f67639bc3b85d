/** What the eye sees through the grating: the mirror's striped face, by rays or by diffraction. */
import { type Fft, fftPlan } from "../numeric/fft.ts";
import { gaussLegendre } from "../numeric/quadrature.ts";
import { conicHeight } from "../optics/conic.ts";
import { rayAtGrating, requireRonchi, type RonchiSetting } from "./ronchi.ts";

/** Brightness over the mirror's face, row after row from the top, 1 = no grating; NaN outside the aperture. */
export interface RonchiPicture {
  readonly size: number;
  readonly values: Float64Array;
}

/**
 * The striped face by rays: each point as bright as the share of its light that meets clear lines.
 *
 * @param setting  mirror and grating
 * @param size     pixels across, 3 or more; default 129
 * @throws {RangeError} where the setting is impossible
 * @example light from the middle of a sphere comes through whole, or not at all a quarter of a pitch on
 * ```ts
 * import assert from "node:assert/strict";
 * const setting = {
 *   surface: { radius: 2400, conic: 0 }, half: 75, setUp: "same grating", linesPerMm: 4, offset: -5,
 * } as const;
 * assert.equal(ronchiByRays(setting, 11).values[60], 1);
 * assert.equal(ronchiByRays({ ...setting, shift: 1 / 16 }, 11).values[60], 0);
 * ```
 */
export function ronchiByRays(setting: RonchiSetting, size = 129): RonchiPicture {
  requireRonchi("ronchiByRays", setting);
  const { linesPerMm, shift = 0, clear = 0.5, setUp, slit = 0 } = setting;
  const same = setUp === "same grating", middle = same ? 2 * shift : shift;
  const source = same ? clear : slit * linesPerMm;
  const values = overFace(setting.half, size, (x, y) => {
    const order = (rayAtGrating(x, y, setting).across - middle) * linesPerMm;
    return clearShare(order - Math.round(order), clear, source);
  });
  return { size, values };
}

/** Share of a source `wide` pitches across that clear lines let through when its middle lies `u` pitches from one's middle. */
function clearShare(u: number, clear: number, wide: number): number {
  if (wide === 0) return Math.abs(u) <= clear / 2 ? 1 : 0;
  let light = 0;
  for (let n = -Math.ceil(wide) - 1; n <= Math.ceil(wide) + 1; n++) {
    const overlap = Math.min(u + wide / 2, n + clear / 2) - Math.max(u - wide / 2, n - clear / 2);
    light += Math.max(0, overlap);
  }
  return light / wide;
}

/**
 * The striped face by diffraction, row by row.
 *
 *     U = disc x exp(2 pi i path / wavelength)  ->  transform  ->  x grating  ->  transform back  ->  |A|^2
 *
 * Straight lines stop light by its direction across them only, so one transform along each row is exact. A lamp behind
 * the same grating is the mean over places in one clear line; where lines are half clear that mean has a closed form, one
 * transform instead of forty. Width and fineness of the rows are chosen by `ronchiPlan`.
 *
 * @param setting  mirror and grating
 * @param size     pixels across, 3 or more; default 129
 * @throws {RangeError} where the setting is impossible, or bends the light more than rows of 65,536 can follow
 * @see Malacara, Optical Shop Testing, Ronchi chapter; Born and Wolf 8.6 (from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const setting = {
 *   surface: { radius: 2400, conic: 0 }, half: 75, setUp: "slit beside", linesPerMm: 4, offset: -5,
 * } as const;
 * const { values } = ronchiByDiffraction(setting, 75);
 * assert.ok(Math.abs((values[37 * 75 + 37] ?? 0) - 1.55) < 0.02); // the middle, brighter than without a grating
 * ```
 */
export function ronchiByDiffraction(setting: RonchiSetting, size = 129): RonchiPicture {
  const plan = ronchiPlan(setting, (2 * setting.half) / size);
  const { half, turn = 0 } = setting, c = Math.cos(turn), s = Math.sin(turn);
  if (turn === 0) {
    const rows = Array.from(
      { length: size },
      (_, k) => rowAt(plan, half * (1 - (2 * k + 1) / size)),
    );
    return {
      size,
      values: overFace(
        half,
        size,
        (x, _, k) => between(plan, rows[Math.floor(k / size)] ?? EMPTY, x),
      ),
    };
  }
  // rows stand across the grating's lines; the picture's upright pixels are read out of them
  const step = (2 * half) / size, count = size + 6;
  const rows = Array.from({ length: count }, (_, k) => rowAt(plan, (k - (count - 1) / 2) * step));
  const values = overFace(half, size, (x, y) => {
    const u = c * x + s * y, v = (c * y - s * x) / step + (count - 1) / 2, k = Math.floor(v);
    const column = [-1, 0, 1, 2].map((i) => between(plan, rows[k + i] ?? EMPTY, u));
    return cubic(column, v - k);
  });
  return { size, values };
}

const EMPTY = new Float64Array(0);

/**
 * Brightness at single points of the face by diffraction: as `ronchiByDiffraction`, for the rows through them only.
 *
 * @param points  [x, y] on the face, mm
 * @param setting  mirror and grating
 * @throws {RangeError} as `ronchiByDiffraction`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const setting = {
 *   surface: { radius: 2400, conic: 0 }, half: 75, setUp: "same grating", linesPerMm: 4, offset: -5,
 * } as const;
 * const [middle, beside] = ronchiAt([[0, 0], [30, 0]], setting);
 * assert.ok((middle ?? 0) > 0.8 && (beside ?? 1) < 0.2);
 * ```
 */
export function ronchiAt(
  points: readonly (readonly [x: number, y: number])[],
  setting: RonchiSetting,
): number[] {
  const plan = ronchiPlan(setting, setting.half / 100);
  const c = Math.cos(setting.turn ?? 0), s = Math.sin(setting.turn ?? 0);
  return points.map(([x, y]) => between(plan, rowAt(plan, c * y - s * x), c * x + s * y));
}

/** Rows ready to be transformed: width and fineness, and the grating as each direction of light meets it. */
export interface RonchiPlan {
  readonly setting: RonchiSetting;
  /** samples in a row, a power of two */
  readonly count: number;
  /** mm from one sample to the next */
  readonly step: number;
  /** largest distance from the axis at the grating that a row can tell, mm */
  readonly reach: number;
  readonly fft: Fft;
  /** the grating's share of each sample of the spectrum, once for every place in the source; none where a closed form does */
  readonly gratings: readonly { readonly weight: number; readonly passes: Float64Array }[];
}

/**
 * Chooses the rows of a diffraction picture and checks them.
 *
 * - fine enough that twice the farthest ray, and two pitches more, lie within the spectrum (or the light would fold over);
 * - wide enough that four apertures fit and the spectrum has sixteen samples to a pitch (or sheared images would come in
 *   from the other side); each sample takes the grating's average over its own width.
 *
 * @param setting  mirror and grating
 * @param pixel    widest step wanted, mm
 * @throws {RangeError} where rows of 65,536 samples do not do
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const plan = ronchiPlan({
 *   surface: { radius: 2400, conic: 0 }, half: 75, setUp: "slit beside", linesPerMm: 4, offset: -5,
 * }, 1);
 * assert.ok(plan.count * plan.step >= 600 && plan.step <= 1 && plan.reach > 1);
 * ```
 */
export function ronchiPlan(setting: RonchiSetting, pixel: number): RonchiPlan {
  requireRonchi("ronchiPlan", setting);
  const { half, linesPerMm, surface, offset, wavelength = 550 } = setting;
  const spread = wavelength * 1e-6 * (surface.radius + offset); // lambda L: turns a direction into a place
  const wanted = 2 * farthestRay(setting) + 2 / linesPerMm;
  const finest = Math.min(pixel, spread / (2 * wanted));
  const width = Math.max(8 * half, 16 * spread * linesPerMm);
  const step = Math.min(finest, width / 16);
  const count = 2 ** Math.ceil(Math.log2(width / step));
  if (count > 65536 || !(pixel > 0)) {
    throw new RangeError(
      `ronchiPlan requires light that rows of 65536 samples can follow and a pixel above 0 mm, got ${count} samples for offset=${offset}, linesPerMm=${linesPerMm}, pixel=${pixel}`,
    );
  }
  const places = isHalfClear(setting) ? [] : sourcePlaces(setting);
  const gratings = places.map(({ place, weight }) => ({
    weight,
    passes: gratingOver(count, spread / (count * step), setting, place),
  }));
  return { setting, count, step, reach: spread / (2 * step), fft: fftPlan(count), gratings };
}

/** The ray that comes to the grating farthest from the axis, on a net over the face. */
function farthestRay(setting: RonchiSetting): number {
  let most = 0;
  for (let ring = 1; ring <= 24; ring++) {
    for (let k = 0; k < 24; k++) {
      const r = (setting.half * ring) / 24, t = (Math.PI * k) / 12;
      const { across } = rayAtGrating(r * Math.cos(t), r * Math.sin(t), setting);
      most = Math.max(most, Math.abs(across));
    }
  }
  return most;
}

function isHalfClear({ setUp, clear = 0.5 }: RonchiSetting): boolean {
  return setUp === "same grating" && clear === 0.5;
}

/** Places in the source, from the middle of its clear line or slit, mm, and their shares. */
function sourcePlaces(setting: RonchiSetting): { place: number; weight: number }[] {
  const { setUp, clear = 0.5, linesPerMm, slit = 0, shift = 0 } = setting;
  const same = setUp === "same grating", width = same ? clear / linesPerMm : slit;
  if (width === 0) return [{ place: 0, weight: 1 }];
  const { nodes, weights } = gaussLegendre(40);
  return nodes.map((node, i) => ({
    place: (node * width) / 2 + (same ? shift : 0),
    weight: (weights[i] ?? 0) / 2,
  }));
}

/** How much of each sample of the spectrum passes; the image of a source at `place` lies at -place. */
function gratingOver(
  count: number,
  wide: number,
  { clear = 0.5, linesPerMm, shift = 0 }: RonchiSetting,
  place: number,
): Float64Array {
  const passes = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    const at = (k < count / 2 ? k : k - count) * wide;
    const order = (at - place - shift) * linesPerMm;
    passes[k] = clearShare(order - Math.round(order), clear, wide * linesPerMm);
  }
  return passes;
}

/**
 * A lamp behind lines that are half clear: only the undeviated image and the odd ones next to it keep step, so
 *
 *     |A|^2 mean = sum of c_m^2 |U_m|^2 + 2 Re(U* V),    V = U behind a grating of (triangle - 1/2) / 2
 *
 * U_m the image sheared by m lambda L p, c_m = sinc(m/2)/2.
 */
function rowBehindOwnGrating(plan: RonchiPlan, v: number): Float64Array {
  const { count, step, fft, setting } = plan, light = new Float64Array(count);
  const field = fieldOfRow(plan, v);
  if (field === undefined) return light;
  const { half, linesPerMm, shift = 0 } = setting, chord = Math.sqrt(half * half - v * v);
  const re = field.re.slice(), im = field.im.slice(), spread = plan.reach * 2 * step;
  fft.forward(re, im);
  for (let k = 0; k < count; k++) {
    const at = ((k < count / 2 ? k : k - count) * spread) / (count * step);
    const order = (at - 2 * shift) * linesPerMm,
      triangle = 1 - 2 * Math.abs(order - Math.round(order));
    re[k] = (re[k] as number) * (triangle - 0.5) / 2;
    im[k] = (im[k] as number) * (triangle - 0.5) / 2;
  }
  fft.inverse(re, im);
  const shear = spread * linesPerMm, furthest = Math.ceil((2 * half) / shear);
  for (
    let k = Math.max(0, Math.floor(count / 2 - chord / step));
    k <= count / 2 + chord / step;
    k++
  ) {
    const u = (k - count / 2) * step;
    let sum = 0.25;
    for (let m = 1; m <= furthest; m += 2) {
      const inside = (u + m * shear < chord ? 1 : 0) + (u - m * shear > -chord ? 1 : 0);
      sum += inside / (Math.PI * m) ** 2;
    }
    light[k] = sum +
      2 *
        ((field.re[k] as number) * (re[k] as number) + (field.im[k] as number) * (im[k] as number));
  }
  return light;
}

/** Brightness along one row, `v` mm from the middle along the grating's lines; sample k lies at (k - count/2) steps. */
function rowAt(plan: RonchiPlan, v: number): Float64Array {
  const { count, fft, gratings, setting } = plan, light = new Float64Array(count);
  if (isHalfClear(setting)) return rowBehindOwnGrating(plan, v);
  const field = fieldOfRow(plan, v);
  if (field === undefined) return light;
  fft.forward(field.re, field.im);
  const re = new Float64Array(count), im = new Float64Array(count);
  for (const { weight, passes } of gratings) {
    for (let k = 0; k < count; k++) {
      const share = passes[k] as number;
      re[k] = (field.re[k] as number) * share;
      im[k] = (field.im[k] as number) * share;
    }
    fft.inverse(re, im);
    for (let k = 0; k < count; k++) {
      const a = re[k] as number, b = im[k] as number;
      light[k] = (light[k] as number) + weight * (a * a + b * b);
    }
  }
  return light;
}

/** The light at the mirror along one row; a sample the edge cuts counts for its share inside. */
function fieldOfRow(
  { setting, count, step }: RonchiPlan,
  v: number,
): { re: Float64Array; im: Float64Array } | undefined {
  const { half, turn = 0, wavelength = 550 } = setting;
  if (Math.abs(v) >= half) return undefined;
  const re = new Float64Array(count), im = new Float64Array(count);
  const c = Math.cos(turn), s = Math.sin(turn), chord = Math.sqrt(half * half - v * v);
  const turns = (2e6 * Math.PI) / wavelength;
  for (let k = Math.floor(count / 2 - chord / step); k <= count / 2 + chord / step + 1; k++) {
    const u = (k - count / 2) * step;
    const inside = Math.min(1, Math.max(0, (chord - Math.abs(u)) / step + 0.5));
    if (inside === 0) continue;
    const phase = turns * pathLength(c * u - s * v, s * u + c * v, setting);
    re[k] = inside * Math.cos(phase);
    im[k] = inside * Math.sin(phase);
  }
  return { re, im };
}

/**
 * Optical path from the lamp to the glass and on to the middle of the grating, less that by way of the vertex, mm.
 *
 * @param x  point of the face, mm
 * @param y  mm
 * @param setting  mirror and grating
 * @example nearly all of it is focus, d r^2/R^2 taken off
 * ```ts
 * import assert from "node:assert/strict";
 * const setting = {
 *   surface: { radius: 2400, conic: 0 }, half: 75, setUp: "same grating", linesPerMm: 4, offset: -5,
 * } as const;
 * assert.equal((pathLength(75, 0, setting) * 1e6).toFixed(0), "4894"); // nm
 * ```
 */
export function pathLength(x: number, y: number, setting: RonchiSetting): number {
  const { surface, offset, error, setUp } = setting;
  const r2 = x * x + y * y;
  const z = conicHeight(Math.sqrt(Math.min(r2, setting.half * setting.half * 1.1)), surface) +
    (error?.(x, y) ?? 0) * 1e-6;
  const leg = (distance: number): number => {
    const longer = r2 + z * z - 2 * distance * z;
    return longer / (Math.sqrt(r2 + (distance - z) * (distance - z)) + distance);
  };
  const back = leg(surface.radius + offset);
  return setUp === "fixed" ? back + leg(surface.radius) : 2 * back;
}

/** A row's brightness between its samples. */
function between({ count, step }: RonchiPlan, row: Float64Array, u: number): number {
  const at = u / step + count / 2, k = Math.floor(at);
  return cubic([row[k - 1] ?? 0, row[k] ?? 0, row[k + 1] ?? 0, row[k + 2] ?? 0], at - k);
}

/** The cubic through four equally spaced values, between the middle two. */
function cubic([a = 0, b = 0, c = 0, d = 0]: readonly number[], t: number): number {
  const bend = (t * (t - 1)) / 6;
  return b + t * (c - b) + bend * ((2 - t) * (a - 2 * b + c) + (t + 1) * (b - 2 * c + d));
}

function overFace(
  half: number,
  size: number,
  f: (x: number, y: number, k: number) => number,
): Float64Array {
  if (!(Number.isInteger(size) && size >= 3)) {
    throw new RangeError(`a Ronchi picture requires a whole size of 3 or more, got size=${size}`);
  }
  const values = new Float64Array(size * size).fill(NaN);
  for (let k = 0; k < size * size; k++) {
    const x = half * ((2 * (k % size) + 1) / size - 1);
    const y = half * (1 - (2 * Math.floor(k / size) + 1) / size);
    if (x * x + y * y < half * half) values[k] = f(x, y, k);
  }
  return values;
}
