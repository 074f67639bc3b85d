/** What the eye sees of a star at one moment, inside, at and outside focus, for faults of the glass, its cell, its place, its warmth, the air. */
import { squareFft } from "../../numeric/fft.ts";
import { random } from "../../numeric/random.ts";
import { zernike } from "../../optics/zernike.ts";
import { comaOf } from "../../telescope/collimation.ts";
import { airIndexPerDegree } from "../../testing/star/air.ts";
import { type StarGrid, starGrid, turnedEdge } from "../../testing/star/starWave.ts";

/** The telescope a star is looked at with. */
export interface StarTelescope {
  /** mm */
  readonly aperture: number;
  /** mm */
  readonly focalLength: number;
  /** width of the flat's shadow over the aperture */
  readonly obstruction: number;
}

/** Everything that can spoil a star, each by its amount; 0 is none. */
export interface StarTroubles {
  /** how far the wavefront of a turned edge lags at the rim, waves; the glass is half of it low */
  readonly edge: number;
  /** of the glass, waves RMS of wavefront */
  readonly astigmatism: number;
  /** by a cell that presses at three places, waves RMS of wavefront */
  readonly threefold: number;
  /** of the main mirror away from the eyepiece, rad */
  readonly tilt: number;
  /** of the glass, fine ripple, nm RMS */
  readonly rough: number;
  /** of the mirror over the air, K */
  readonly warmth: number;
  /** of the air along the upper side of the tube over the rest, K */
  readonly tubeAir: number;
  /** width of a star at half its height by the air above, arcseconds, seen over long */
  readonly seeing: number;
}

/** A telescope without a fault under still air. */
export const NO_TROUBLE: StarTroubles = {
  edge: 0,
  astigmatism: 0,
  threefold: 0,
  tilt: 0,
  rough: 0,
  warmth: 0,
  tubeAir: 0,
  seeing: 0,
};

/** A star at one moment: light row after row, 1 at the peak of a perfect star in focus or, out of focus, on an even disc. */
export interface StarMoment {
  /** places in a row of each picture */
  readonly across: number;
  /** of the two out of focus, in diffraction units wavelength / aperture between two places */
  readonly step: number;
  readonly inside: Float64Array;
  readonly focus: Float64Array;
  readonly outside: Float64Array;
  /** brightest place in focus over that of a perfect star: Strehl ratio of the moment */
  readonly strehl: number;
  /** what each fault adds to the wavefront over the open disc, waves RMS about its mean, without tilt */
  readonly rms: Readonly<Record<keyof StarTroubles, number>>;
}

/** Waves of defocus of the two sides at the rim. */
export const MOMENT_DEFOCUS = 3;

const WAVELENGTH_NM = 550, ARCSEC = 206264.806;

const PLACES = 48, SIZE = 128, SHOWN = 96;

/** How thick the warm film over a mirror is, mm, and which share of its path comes and goes (COMMON PRACTICE). */
const FILM = 10, FILM_COMES_AND_GOES = 0.5;

/** Patterns over the disc of RMS 1 without piston and tilt, made once: how each fault is spread. */
interface Patterns {
  readonly grid: StarGrid;
  readonly open: Float64Array;
  readonly edge: Float64Array;
  readonly astigmatism: Float64Array;
  readonly threefold: Float64Array;
  readonly coma: Float64Array;
  readonly rough: Float64Array;
  readonly film: Float64Array;
  readonly layer: Float64Array;
  readonly air: Float64Array;
  readonly defocus: Float64Array;
}

let made: { readonly obstruction: number; readonly patterns: Patterns } | undefined;

function patternsFor(obstruction: number): Patterns {
  if (made?.obstruction === obstruction) return made.patterns;
  const grid = starGrid(PLACES, SIZE), { at, rho, inside } = grid;
  const x = Float64Array.from(at, (place) => (2 * Math.floor(place / SIZE) + 1) / PLACES - 1);
  const y = Float64Array.from(at, (place) => (2 * (place % SIZE) + 1) / PLACES - 1);
  const open = Float64Array.from(rho, (r, k) => r < obstruction ? 0 : inside[k] ?? 0);
  const of = (value: (r: number, theta: number, k: number) => number): Float64Array =>
    Float64Array.from(rho, (r, k) => value(Math.min(1, r), Math.atan2(y[k] ?? 0, x[k] ?? 0), k));
  const calm = (raw: Float64Array): Float64Array => withoutTilt(raw, open, x, y);
  const one = (raw: Float64Array): Float64Array => {
    const flat = calm(raw), rms = rmsOver(flat, open);
    return flat.map((value) => value / rms);
  };
  const patterns: Patterns = {
    grid,
    open,
    edge: calm(of((r) => -turnedEdge(r))),
    astigmatism: of((r, theta) => zernike({ n: 2, m: 2 }, r, theta)),
    // a disc pressed at three places bends in r^3 cos 3 theta before all else
    threefold: of((r, theta) => zernike({ n: 3, m: 3 }, r, theta - Math.PI / 6)),
    coma: of((r, theta) => zernike({ n: 3, m: 1 }, r, theta)),
    rough: one(screen(11, at, (f) => f > 6 && f < 14 ? 1 : 0)),
    film: one(screen(5, at, (f) => f > 0.4 ? f ** (-11 / 3) : 0)),
    // warm air lies under the upper wall, a third of the width deep
    layer: calm(of((_, __, k) => 0.5 * (1 + Math.tanh(((y[k] ?? 0) - 0.5) / 0.2)))),
    air: one(screen(23, at, (f) => f ** (-11 / 3))),
    defocus: of((r) => r * r),
  };
  made = { obstruction, patterns };
  return patterns;
}

/** A random screen whose power at f turns over the width is given, at the disc's places. */
function screen(seed: number, at: Int32Array, power: (f: number) => number): Float64Array {
  const source = random(seed),
    re = new Float64Array(SIZE * SIZE),
    im = new Float64Array(SIZE * SIZE);
  for (let i = 0; i < SIZE; i++) {
    for (let j = 0; j < SIZE; j++) {
      const fi = i < SIZE / 2 ? i : i - SIZE, fj = j < SIZE / 2 ? j : j - SIZE;
      const amount = i + j === 0 ? 0 : Math.sqrt(power(Math.hypot(fi, fj) * (PLACES / SIZE)));
      re[i * SIZE + j] = amount * source.normal();
      im[i * SIZE + j] = amount * source.normal();
    }
  }
  squareFft(SIZE).forward(re, im);
  return Float64Array.from(at, (place) => re[place] ?? 0);
}

function rmsOver(values: Float64Array, open: Float64Array): number {
  let squares = 0, all = 0;
  values.forEach((value, k) => {
    squares += (open[k] ?? 0) * value * value;
    all += open[k] ?? 0;
  });
  return Math.sqrt(squares / all);
}

/** Piston and tilt taken out: a star that stands elsewhere is as good. */
function withoutTilt(
  raw: Float64Array,
  open: Float64Array,
  x: Float64Array,
  y: Float64Array,
): Float64Array {
  let all = 0, mean = 0, byX = 0, byY = 0, xx = 0, yy = 0;
  raw.forEach((value, k) => {
    const w = open[k] ?? 0, a = x[k] ?? 0, b = y[k] ?? 0;
    all += w;
    mean += w * value;
    byX += w * a * value;
    byY += w * b * value;
    xx += w * a * a;
    yy += w * b * b;
  });
  // the open ring is alike on all sides: the three do not mix
  return raw.map((value, k) =>
    value - mean / all - (byX / xx) * (x[k] ?? 0) - (byY / yy) * (y[k] ?? 0)
  );
}

/**
 * Faults as waves RMS of wavefront, each by its own physics.
 *
 * - tilt: the eyepiece stands f x tilt from the axis, whose coma `comaOf` tells
 * - rough glass: twice its height
 * - warm mirror: light goes twice through a film of 10 mm, half of which comes and goes
 * - tube: one way along f through the warm layer; of the way back the light that comes to the flat is lower
 * - air: what is left without tilt, 0.134 (D / r0)^(5/3) rad^2, r0 = 0.98 wavelength / seeing
 *
 * What the glass itself does while it cools is mostly a shift of focus and left out.
 *
 * @see Noll, Zernike polynomials and atmospheric turbulence, J. Opt. Soc. Am. 66 (1976) 207, table IV
 */
function wavesOf(
  { edge, astigmatism, threefold, tilt, rough, warmth, tubeAir, seeing }: StarTroubles,
  { aperture, focalLength }: StarTelescope,
): Readonly<Record<keyof StarTroubles, number>> {
  const perDegree = -airIndexPerDegree(10, WAVELENGTH_NM), waveMm = WAVELENGTH_NM * 1e-6;
  const coma = comaOf({ aperture, focalLength }, focalLength * Math.abs(tilt));
  const overR0 = (aperture * (seeing / ARCSEC)) / (0.98 * waveMm);
  return {
    edge,
    astigmatism,
    threefold,
    tilt: Math.sign(tilt) * coma.wavefrontRms / WAVELENGTH_NM,
    rough: (2 * rough) / WAVELENGTH_NM,
    warmth: (perDegree * warmth * 2 * FILM * FILM_COMES_AND_GOES) / waveMm,
    tubeAir: (perDegree * tubeAir * focalLength) / waveMm,
    seeing: Math.sqrt(0.134 * overR0 ** (5 / 3)) / (2 * Math.PI),
  };
}

/**
 * A star at one moment through a telescope with faults, by the wave's own diffraction, at 550 nm.
 *
 * The air stands still for that moment: on the sky its pattern changes many times a second, that of a warm mirror or tube
 * within seconds, and what the glass does stays.
 *
 * @param troubles   each fault by its amount
 * @param telescope  mm
 * @throws {RangeError} where lengths are not above 0, or the obstruction not from 0 to below 1
 * @example a perfect mirror keeps all light in the middle
 * ```ts
 * import assert from "node:assert/strict";
 * const telescope = { aperture: 150, focalLength: 1200, obstruction: 0.2 };
 * assert.equal(starMoment(NO_TROUBLE, telescope).strehl.toFixed(3), "1.000");
 * assert.ok(starMoment({ ...NO_TROUBLE, astigmatism: 0.07 }, telescope).strehl < 0.85);
 * ```
 */
export function starMoment(troubles: StarTroubles, telescope: StarTelescope): StarMoment {
  const { aperture, focalLength, obstruction } = telescope;
  if (!(aperture > 0 && focalLength > 0 && obstruction >= 0 && obstruction < 1)) {
    throw new RangeError(
      `starMoment requires lengths above 0 and an obstruction from 0 to below 1, got ${aperture}, ${focalLength}, ${obstruction}`,
    );
  }
  const patterns = patternsFor(obstruction), { grid, open, defocus } = patterns;
  const amount = wavesOf(troubles, telescope);
  const spread: Readonly<Record<keyof StarTroubles, Float64Array>> = {
    edge: patterns.edge,
    astigmatism: patterns.astigmatism,
    threefold: patterns.threefold,
    tilt: patterns.coma,
    rough: patterns.rough,
    warmth: patterns.film,
    tubeAir: patterns.layer,
    seeing: patterns.air,
  };
  const wave = new Float64Array(open.length), rms = { ...NO_TROUBLE };
  for (const fault of Object.keys(spread) as (keyof StarTroubles)[]) {
    const values = spread[fault], by = amount[fault];
    if (by === 0) continue;
    rms[fault] = Math.abs(by) * rmsOver(values, open);
    for (let k = 0; k < wave.length; k++) wave[k] = (wave[k] ?? 0) + by * (values[k] ?? 0);
  }
  const whole = open.reduce((sum, share) => sum + share, 0), best = focusOf(wave, defocus, open);
  const light = (waves: number, unit: number): Float64Array => {
    const re = new Float64Array(SIZE * SIZE), im = new Float64Array(SIZE * SIZE);
    for (let k = 0; k < open.length; k++) {
      const turn = 2 * Math.PI * ((wave[k] ?? 0) + (waves - best) * (defocus[k] ?? 0));
      re[grid.at[k] ?? 0] = (open[k] ?? 0) * Math.cos(turn);
      im[grid.at[k] ?? 0] = (open[k] ?? 0) * Math.sin(turn);
    }
    grid.fft.forward(re, im, PLACES);
    return shown(re, im, unit);
  };
  const step = PLACES / SIZE, disc = Math.PI * ((4 * MOMENT_DEFOCUS) / step) ** 2;
  const even = (whole * SIZE * SIZE) / disc;
  const focus = light(0, whole * whole);
  return {
    across: SHOWN,
    step,
    inside: light(-MOMENT_DEFOCUS, even),
    focus,
    outside: light(MOMENT_DEFOCUS, even),
    strehl: focus.reduce((most, value) => Math.max(most, value), 0),
    rms,
  };
}

/** How far from no defocus the best one is looked for, waves at the rim, and in what steps. */
const FOCUS_WITHIN = 1.5, FOCUS_STEP = 0.125;

/** Every so many places are enough to find it. */
const EVERY = 5;

/** Defocus that a wave holds, waves at the rim: whoever looks takes it out with the focuser, where the middle is brightest. */
function focusOf(wave: Float64Array, defocus: Float64Array, open: Float64Array): number {
  const bright = (waves: number, every: number): number => {
    let re = 0, im = 0;
    for (let k = 0; k < wave.length; k += every) {
      const turn = 2 * Math.PI * ((wave[k] ?? 0) - waves * (defocus[k] ?? 0));
      re += (open[k] ?? 0) * Math.cos(turn);
      im += (open[k] ?? 0) * Math.sin(turn);
    }
    return re * re + im * im;
  };
  let best = 0, most = bright(0, EVERY);
  for (let waves = -FOCUS_WITHIN; waves <= FOCUS_WITHIN; waves += FOCUS_STEP) {
    const light = bright(waves, EVERY);
    if (light > most) [best, most] = [waves, light];
  }
  // a parabola through the brightest place and its neighbours
  const before = bright(best - FOCUS_STEP, 1), after = bright(best + FOCUS_STEP, 1);
  const bend = before - 2 * bright(best, 1) + after;
  return bend < 0 ? best + (FOCUS_STEP * (before - after)) / (2 * bend) : best;
}

/** The middle of a picture, row after row from its top, the pupil's x to the right. */
function shown(re: Float64Array, im: Float64Array, unit: number): Float64Array {
  const out = new Float64Array(SHOWN * SHOWN), half = SHOWN / 2;
  for (let row = 0; row < SHOWN; row++) {
    for (let column = 0; column < SHOWN; column++) {
      const i = (column - half + SIZE) % SIZE, j = (half - 1 - row + SIZE) % SIZE;
      // the transform gives [fy][fx]
      const place = j * SIZE + i, a = re[place] ?? 0, b = im[place] ?? 0;
      out[row * SHOWN + column] = (a * a + b * b) / unit;
    }
  }
  return out;
}
