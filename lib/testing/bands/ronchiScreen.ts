/** The light on a mirror's face row by row, made ready once for a grating that will be moved. */
import { phasors } from "../../numeric/phasors.ts";
import { rayAtGrating, requireRonchi, type RonchiSetting } from "./ronchi.ts";
import { pathLength } from "./ronchiPath.ts";

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
  const rows: ScreenRow[] = [];
  for (let line = 0; line < height; line++) {
    const v = ((height - 1) / 2 - line) * step * fine;
    if (Math.abs(v) >= still.half) continue;
    const above = height - 1 - line - (rows[0]?.line ?? 0), other = rows[above];
    const twin = other !== undefined && isTwin(still, other, v, { start, step });
    rows.push(
      twin ? { ...other, line, twin: above } : { line, ...rowOf(setting, v, { start, step }) },
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
): Pick<ScreenRow, "chord" | "first" | "re" | "im"> {
  const { half, wavelength = 550 } = setting, chord = Math.sqrt(half * half - v * v);
  const first = Math.max(0, Math.ceil((-chord - start) / step - 0.5));
  const length = Math.floor((chord - start) / step + 0.5) - first + 1;
  const re = new Float64Array(length), im = new Float64Array(length);
  const waves = new Float64Array(length), place = start + first * step;
  for (let k = 0; k < length; k++) {
    // a sample that the rim cuts has its middle just beyond it
    waves[k] = pathLength(place + k * step, v, setting) * 1e6 / wavelength;
  }
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
