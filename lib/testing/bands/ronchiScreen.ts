/** The light on a mirror's face row by row, made ready once for a grating that will be moved. */
import { phasors } from "../../numeric/phasors.ts";
import { rayAtGrating, requireRonchi, type RonchiSetting } from "./ronchi.ts";
import { pathLength, pathsAlong } from "./ronchiPath.ts";
import { isHalfClear, type RonchiPlan } from "./ronchiPlan.ts";

/** A mirror before a grating that will be moved: what stays. The lines run up and down and are half clear. */
export type RonchiStill = Omit<RonchiSetting, "offset" | "shift" | "turn" | "clear" | "slit">;

/** Width and height of a picture, pixels. */
export interface FrameSize {
  readonly width: number;
  readonly height: number;
}

/** One row of pixels across the mirror. */
export interface ScreenRow {
  /** row of the picture, from the top */
  readonly line: number;
  /** half the mirror's width there, mm */
  readonly chord: number;
  /** first sample on the glass */
  readonly first: number;
  /** the light there with the grating at the centre of curvature; a sample the rim cuts counts for its share inside */
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** the row above that looks the same, whatever the offset; none where this is the first of its kind */
  readonly twin?: number;
}

/** All rows, and how samples and pixels lie. */
export interface PhaseScreen {
  readonly still: RonchiStill;
  /** samples in a row, a power of two: the mirror twice, or sheared images would come in from the other side */
  readonly count: number;
  /** mm from one sample to the next */
  readonly step: number;
  /** samples in a pixel */
  readonly fine: number;
  /** first sample of the row's first pixel; may lie before the row where a picture is much wider than high */
  readonly from: number;
  /** place of sample 0, mm from the middle */
  readonly start: number;
  readonly rows: readonly ScreenRow[];
}

/**
 * Works out the light's phase over the face, the grating at the centre of curvature.
 *
 * @param still     mirror, lines and lamp
 * @param size      pixels; the mirror fills the smaller side
 * @param farthest  largest offset that will be asked for, mm: its farthest ray must lie within a row's spectrum
 * @throws {RangeError} where sizes are not whole numbers of 3 or more, or rows of 8192 samples do not do
 * @example a mirror that is the same above and below is worked out once
 * ```ts
 * import assert from "node:assert/strict";
 * const still = { surface: { radius: 2400, conic: 0 }, half: 75, setUp: "same grating", linesPerMm: 4 } as const;
 * const { rows, count } = phaseScreen(still, { width: 256, height: 256 }, 10);
 * assert.deepEqual([count, rows.length, rows[255]?.twin], [512, 256, 0]);
 * ```
 */
export function phaseScreen(still: RonchiStill, size: FrameSize, farthest: number): PhaseScreen {
  const { width, height } = size,
    smaller = Math.min(width, height),
    setting = { ...still, offset: 0 };
  requireRonchi("phaseScreen", { ...setting, offset: farthest });
  const fine = samplesInPixel(still, smaller, farthest), step = (2 * still.half) / (smaller * fine);
  const count = 2 ** Math.ceil(Math.log2(2 * smaller * fine));
  if (!([width, height].every(Number.isInteger) && smaller >= 3 && count <= 8192)) {
    throw new RangeError(
      `phaseScreen requires a whole width and height of 3 or more and rows of 8192 samples at most, ` +
        `got ${width} x ${height} pixels and ${count} samples for farthest=${farthest}`,
    );
  }
  const from = Math.ceil((count - width * fine) / 2);
  const start = ((width * fine) % 2 === 0 ? 0.5 - count / 2 : -count / 2) * step;
  const rows: ScreenRow[] = [], room = new Float64Array(count);
  for (let line = 0; line < height; line++) {
    const v = ((height - 1) / 2 - line) * step * fine;
    if (Math.abs(v) >= still.half) continue;
    const above = height - 1 - line - (rows[0]?.line ?? 0), other = rows[above];
    const twin = other !== undefined && isTwin(still, other, v, { start, step });
    rows.push(
      twin
        ? { ...other, line, twin: above }
        : { line, ...rowOf(setting, v, { start, step }, room) },
    );
  }
  return { still, count, step, fine, from, start, rows };
}

/** Samples in a pixel, so that the farthest ray and a pitch more lie within the spectrum. */
function samplesInPixel(still: RonchiStill, smaller: number, farthest: number): number {
  const { half, surface, linesPerMm, wavelength = 550 } = still;
  let most = 0;
  for (const offset of [-farthest, farthest]) {
    for (let k = 1; k <= 20; k++) {
      const { across } = rayAtGrating((half * k) / 20, 0, { ...still, offset });
      most = Math.max(most, Math.abs(across));
    }
  }
  const spread = wavelength * 1e-6 * (surface.radius - farthest);
  return Math.ceil((2 * (most + 1 / linesPerMm) * 2 * half) / (smaller * spread));
}

function rowOf(
  setting: RonchiSetting,
  v: number,
  { start, step }: Pick<PhaseScreen, "start" | "step">,
  room: Float64Array,
): Pick<ScreenRow, "chord" | "first" | "re" | "im"> {
  const { half, wavelength = 550 } = setting, chord = Math.sqrt(half * half - v * v);
  const first = Math.max(0, Math.ceil((-chord - start) / step - 0.5));
  const length = Math.floor((chord - start) / step + 0.5) - first + 1;
  const re = new Float64Array(length), im = new Float64Array(length);
  const waves = room.subarray(0, length), place = start + first * step;
  // a sample that the rim cuts has its middle just beyond it
  pathsAlong(waves, place, step, v, setting);
  for (let k = 0; k < length; k++) waves[k] = (waves[k] as number) * 1e6 / wavelength;
  phasors(waves, re, im);
  for (const k of [0, length - 1]) { // a sample that the rim cuts
    const inside = (chord - Math.abs(place + k * step)) / step + 0.5;
    const share = Math.min(1, Math.max(0, inside));
    re[k] = share * (re[k] as number);
    im[k] = share * (im[k] as number);
  }
  return { chord, first, re, im };
}

/** Whether the row at `v` looks like the one as far above the middle: its light depends on x, y^2 and the glass alone. */
function isTwin(
  { error }: RonchiStill,
  { first, re }: ScreenRow,
  v: number,
  { start, step }: Pick<PhaseScreen, "start" | "step">,
): boolean {
  if (error === undefined) return true;
  for (let k = first; k < first + re.length; k++) {
    const u = start + k * step;
    if (error(u, v) !== error(u, -v)) return false;
  }
  return true;
}

// Brightness along one row of the mirror by diffraction: transform, grating, transform back.

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
export function rowAt(plan: RonchiPlan, v: number): Float64Array {
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

/** A row's brightness between its samples. */
export function between({ count, step }: RonchiPlan, row: Float64Array, u: number): number {
  const at = u / step + count / 2, k = Math.floor(at);
  return cubic([row[k - 1] ?? 0, row[k] ?? 0, row[k + 1] ?? 0, row[k + 2] ?? 0], at - k);
}

/** The cubic through four equally spaced values, between the middle two. */
export function cubic([a = 0, b = 0, c = 0, d = 0]: readonly number[], t: number): number {
  const bend = (t * (t - 1)) / 6;
  return b + t * (c - b) + bend * ((2 - t) * (a - 2 * b + c) + (t + 1) * (b - 2 * c + d));
}
