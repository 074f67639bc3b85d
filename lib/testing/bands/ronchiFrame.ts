/** Ronchi pictures for a slider: one mirror made ready once, then a picture for each place of the grating. */
import { fftPlan } from "../../numeric/fft.ts";
import { evenLightOf, passesOf, triangleOf } from "./ronchiGrating.ts";
import { type FrameSize, phaseScreen, type RonchiStill, type ScreenRow } from "./ronchiScreen.ts";
import { pathLength } from "./ronchiPath.ts";

/** Pictures of one mirror. Each call overwrites what the one before gave. */
export interface RonchiFrame extends FrameSize {
  /**
   * Brightness row after row from the top, 1 = no grating; NaN outside the mirror.
   *
   * @param offset  grating from the centre of curvature, mm, + = farther from the mirror; within `farthest`
   * @param shift   middle of a clear line from the axis, mm; default 0
   */
  light(offset: number, shift?: number): Float64Array<ArrayBuffer>;
  /** The same as a canvas takes it, red, green, blue, opacity; nothing outside the mirror, light of `white` plain white. */
  rgba(offset: number, shift?: number, white?: number): Uint8ClampedArray<ArrayBuffer>;
}

/**
 * Makes a mirror ready to be looked at, by diffraction, through a grating that moves.
 *
 * The light's phase over the face is worked out once, for a grating at the centre of curvature. Moving it by d changes the
 * phase by very nearly A(d) (x^2 + y^2): a factor of x and one of y, and that of y is the same for a whole row and leaves
 * no trace in its brightness. So a picture takes one product and two transforms a row, and sine and cosine only once a
 * column. A(d) is right at the rim; between, the path is off by |d| r^4 / R^4 at most: a hundredth of a wave for 10 mm at f/6.
 * A lamp beside the grating or fixed is a narrow slit here.
 *
 * @param still     mirror, lines and lamp; the lines run up and down and are half clear
 * @param size      pixels; the mirror fills the smaller side
 * @param farthest  largest offset that will be asked for, mm; default 12
 * @throws {RangeError} for sizes that are not whole numbers of 3 or more, or a bench no row can follow
 * @see `ronchiByDiffraction` for the same light without the short cuts
 * @example a sphere, 5 mm inside: a bright middle, dark a quarter of a pitch on
 * ```ts
 * import assert from "node:assert/strict";
 * const still = { surface: { radius: 2400, conic: 0 }, half: 75, setUp: "same grating", linesPerMm: 4 } as const;
 * const frame = ronchiFrame(still, { width: 65, height: 65 });
 * const middle = 32 * 65 + 32;
 * assert.ok((frame.light(-5)[middle] ?? 0) > 0.8);
 * assert.ok((frame.light(-5, 1 / 16)[middle] ?? 1) < 0.2);
 * ```
 */
export function ronchiFrame(still: RonchiStill, size: FrameSize, farthest = 12): RonchiFrame {
  const screen = phaseScreen(still, size, farthest), { count, fine, from, start, step } = screen;
  const behind = still.setUp === "same grating", fft = fftPlan(count);
  const passes = new Float64Array(count), even = new Float64Array(count + 2);
  const lensRe = new Float64Array(count), lensIm = new Float64Array(count);
  const ownRe = new Float64Array(count), ownIm = new Float64Array(count);
  const re = new Float64Array(count), im = new Float64Array(count), seen = new Float64Array(count);
  const light = new Float64Array(size.width * size.height).fill(NaN);
  const rgba = new Uint8ClampedArray(4 * light.length);

  /** The row's light through the grating, into `seen`. */
  const look = ({ first, chord, re: stillRe, im: stillIm }: ScreenRow): void => {
    const length = stillRe.length;
    re.fill(0);
    im.fill(0);
    for (let k = 0, at = first; k < length; k++, at++) {
      const a = stillRe[k] as number, b = stillIm[k] as number;
      const c = lensRe[at] as number, d = lensIm[at] as number;
      re[at] = ownRe[at] = a * c - b * d;
      im[at] = ownIm[at] = a * d + b * c;
    }
    fft.forward(re, im);
    for (let k = 0; k < count; k++) {
      const share = passes[k] as number;
      re[k] = (re[k] as number) * share;
      im[k] = (im[k] as number) * share;
    }
    fft.forward(im, re); // parts changed over: back again, but for a factor that stands in `passes`
    for (let k = first; k < first + length; k++) {
      const a = re[k] as number, b = im[k] as number;
      if (!behind) {
        seen[k] = a * a + b * b;
        continue;
      }
      const u = start + k * step, left = (chord + u) / step, right = (chord - u) / step;
      seen[k] = 0.25 + between(even, left) + between(even, right) +
        2 * ((ownRe[k] as number) * a + (ownIm[k] as number) * b);
    }
  };

  const draw = (offset: number, shift: number): typeof light => {
    requirePlace(offset, shift, farthest);
    const grating = { still, count, step, offset, shift };
    if (behind) {
      triangleOf(grating, passes);
      evenLightOf(grating, even);
    } else passesOf(grating, passes);
    const bend = lensPhase(still, offset);
    for (let k = 0; k < count; k++) {
      const u = start + k * step;
      lensRe[k] = Math.cos(bend * u * u);
      lensIm[k] = Math.sin(bend * u * u);
    }
    for (const row of screen.rows) {
      const to = row.line * size.width;
      if (row.twin !== undefined) {
        const other = (screen.rows[row.twin] as ScreenRow).line * size.width;
        light.copyWithin(to, other, other + size.width);
        continue;
      }
      look(row);
      const last = row.first + row.re.length;
      for (let i = Math.ceil((row.first - from) / fine); from + (i + 1) * fine <= last; i++) {
        let sum = 0;
        for (let k = from + i * fine; k < from + (i + 1) * fine; k++) sum += seen[k] as number;
        light[to + i] = sum / fine;
      }
    }
    return light;
  };
  return {
    ...size,
    light: (offset, shift = 0) => draw(offset, shift),
    rgba: (offset, shift = 0, white = behind ? 1 : 1.6) => paint(draw(offset, shift), rgba, white),
  };
}

/** What a move of the grating by `offset` adds to the phase, rad for each mm^2 of the face; right at the rim. */
function lensPhase(still: RonchiStill, offset: number): number {
  const { half, surface, setUp, wavelength = 550 } = still;
  const bare = { surface, half, setUp, linesPerMm: 1 };
  const path = pathLength(half, 0, { ...bare, offset }) -
    pathLength(half, 0, { ...bare, offset: 0 });
  return (2e6 * Math.PI * path) / (wavelength * half * half);
}

function between(table: Float64Array, at: number): number {
  const i = Math.max(0, Math.min(table.length - 2, Math.floor(at))), t = at - i;
  return (table[i] as number) * (1 - t) + (table[i + 1] as number) * t;
}

function requirePlace(offset: number, shift: number, farthest: number): void {
  if (Math.abs(offset) <= farthest && Number.isFinite(shift)) return;
  throw new RangeError(
    `ronchiFrame requires an offset within ${farthest} mm and a finite shift, got offset=${offset}, shift=${shift}`,
  );
}

const STEPS = 1023;
/** How a screen shows light: its square root, near enough (a curve of 2.2). */
const SHOWN = Uint8ClampedArray.from(
  { length: STEPS + 1 },
  (_, k) => 255 * (k / STEPS) ** (1 / 2.2),
);

function paint<T extends Uint8ClampedArray>(light: Float64Array, rgba: T, white: number): T {
  for (let k = 0, to = 0; k < light.length; k++, to += 4) {
    const value = light[k] as number;
    if (value !== value) continue; // outside the mirror nothing was ever written
    const grey = SHOWN[Math.min(STEPS, Math.max(0, (value * STEPS / white) | 0))] as number;
    rgba[to] = rgba[to + 1] = rgba[to + 2] = grey;
    rgba[to + 3] = 255;
  }
  return rgba;
}
