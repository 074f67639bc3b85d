/** Thin metal films on glass: how much they send back, how much leaks through. */
import { refractiveIndex } from "./glass.ts";

/** Metals whose optical constants are known here. */
export type Metal = "silver" | "aluminium";

/** Wavelength um, n, k. The same rows stand with their provenance header in data/tables/films.csv; a test holds the two together. */
type Row = readonly [um: number, n: number, k: number];

const METALS: Readonly<Record<Metal, readonly Row[]>> = {
  silver: [
    [0.4305, 0.04, 2.462],
    [0.4509, 0.04, 2.657],
    [0.4714, 0.05, 2.869],
    [0.4959, 0.05, 3.093],
    [0.5209, 0.05, 3.324],
    [0.5486, 0.06, 3.586],
    [0.5821, 0.05, 3.858],
    [0.6168, 0.06, 4.152],
    [0.6595, 0.05, 4.483],
  ],
  aluminium: [
    [0.41328, 0.52135, 5.0008],
    [0.4428, 0.6079, 5.3676],
    [0.47687, 0.7278, 5.7781],
    [0.5166, 0.8734, 6.2418],
    [0.56357, 1.0728, 6.7839],
    [0.61993, 1.366, 7.4052],
    [0.65225, 1.5724, 7.7354],
    [0.68881, 1.8301, 8.0601],
  ],
};

/** A complex number. */
export interface Complex {
  /** real part */
  readonly re: number;
  /** imaginary part */
  readonly im: number;
}

const c = (re: number, im = 0): Complex => ({ re, im });
const add = (a: Complex, b: Complex): Complex => c(a.re + b.re, a.im + b.im);
const less = (a: Complex, b: Complex): Complex => c(a.re - b.re, a.im - b.im);
const times = (a: Complex, b: Complex): Complex =>
  c(a.re * b.re - a.im * b.im, a.re * b.im + a.im * b.re);
const over = (a: Complex, b: Complex): Complex => {
  const size = b.re * b.re + b.im * b.im;
  return c((a.re * b.re + a.im * b.im) / size, (a.im * b.re - a.re * b.im) / size);
};
const size2 = (a: Complex): number => a.re * a.re + a.im * a.im;
const cos = (a: Complex): Complex =>
  c(Math.cos(a.re) * Math.cosh(a.im), -Math.sin(a.re) * Math.sinh(a.im));
const sin = (a: Complex): Complex =>
  c(Math.sin(a.re) * Math.cosh(a.im), Math.cos(a.re) * Math.sinh(a.im));

/**
 * Complex index n + ik of a metal, linear between the tabulated wavelengths.
 *
 * @param metal       silver or aluminium, solid and clean
 * @param wavelength  nm, inside the table: 430.5 to 659.5 for silver, 413.3 to 688.8 for aluminium
 * @throws {RangeError} outside the table
 * @see Johnson and Christy 1972; Rakic 1995 (see the provenance header of data/tables/films.csv)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(metalIndex("silver", 550).im.toFixed(4), "3.5974");
 * ```
 */
export function metalIndex(metal: Metal, wavelength: number): Complex {
  const rows = METALS[metal], um = wavelength / 1000;
  const after = rows.findIndex(([at]) => at >= um), b = rows[after], a = rows[after - 1] ?? b;
  if (a === undefined || b === undefined || !(um >= (rows[0]?.[0] ?? 0))) {
    const nm = (row?: Row): number => Math.round(10_000 * (row?.[0] ?? 0)) / 10;
    throw new RangeError(
      `metalIndex requires a wavelength from ${nm(rows[0])} to ${
        nm(rows.at(-1))
      } nm for ${metal}, got ${wavelength}`,
    );
  }
  const share = b[0] > a[0] ? (um - a[0]) / (b[0] - a[0]) : 0;
  return c(a[1] + share * (b[1] - a[1]), a[2] + share * (b[2] - a[2]));
}

/** What becomes of light that meets a film straight on, shares of 1. */
export interface FilmLight {
  /** sent back */
  readonly reflected: number;
  /** let into what lies behind the film */
  readonly transmitted: number;
  /** turned to heat */
  readonly absorbed: number;
}

/**
 * One film between two clear media, light straight on.
 *
 *     [B, C] = M [1, ns],  r = (n0 B - C) / (n0 B + C),  M = [[cos d, -i sin d / n], [-i n sin d, cos d]]
 *
 * @param index       of the film, n + ik with k of 0 or more
 * @param thickness   nm; 0 or more
 * @param wavelength  nm; above 0
 * @param before      index of the medium the light comes from; default 1, air
 * @param behind      index of the medium behind; default 1
 * @throws {RangeError} outside those ranges; a negative k would amplify
 * @see Macleod, Thin-Film Optical Filters, the characteristic matrix (reckoned anew in tests/optics/secondRoute.py)
 * @example a film of nothing is no film
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(filmLight({ re: 2, im: 0 }, 0, 550, 1, 1.5).reflected.toFixed(4), "0.0400");
 * ```
 */
export function filmLight(
  index: Complex,
  thickness: number,
  wavelength: number,
  before = 1,
  behind = 1,
): FilmLight {
  const ok = index.re > 0 && index.im >= 0 && thickness >= 0 && wavelength > 0 && before > 0 &&
    behind > 0 && Number.isFinite(thickness + index.re + index.im);
  if (!ok) {
    throw new RangeError(
      `filmLight requires n above 0, k and thickness of 0 or more, wavelength above 0, got n=${index.re}, k=${index.im}, ` +
        `thickness=${thickness}, wavelength=${wavelength}`,
    );
  }
  // past an optical depth of 300 nothing comes through, and cosh would overflow
  const scale = (2 * Math.PI * Math.min(thickness, (300 * wavelength) / (2 * Math.PI * index.im))) /
    wavelength;
  const phase = c(index.re * scale, index.im * scale), sine = sin(phase);
  const minusI = c(0, -1), back = c(behind), front = c(before);
  const b = add(cos(phase), times(minusI, over(times(sine, back), index)));
  const d = add(times(minusI, times(index, sine)), times(cos(phase), back));
  const sum = add(times(front, b), d);
  const reflected = size2(over(less(times(front, b), d), sum));
  const transmitted = (behind / before) * size2(over(c(2 * before), sum));
  return { reflected, transmitted, absorbed: Math.max(0, 1 - reflected - transmitted) };
}

/** A metal film on a glass plate, seen from the metal's side. */
export interface MirrorFilm extends FilmLight {
  /** what a lamp behind the plate would show: also through the plate's bare back */
  readonly throughPlate: number;
}

/**
 * A clean metal film on glass, light straight on from the air.
 *
 * Real films are a little worse than solid metal, and silver tarnishes, blue first.
 *
 * @param metal       silver or aluminium
 * @param thickness   nm; 0 or more
 * @param wavelength  nm; default 550
 * @throws {RangeError} outside the metal's table
 * @example 100 nm is enough
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(mirrorFilm("silver", 20).reflected.toFixed(2), "0.68");
 * assert.equal(mirrorFilm("silver", 100).reflected.toFixed(2), "0.98");
 * ```
 */
export function mirrorFilm(metal: Metal, thickness: number, wavelength = 550): MirrorFilm {
  const glass = refractiveIndex("borosilicate crown", wavelength);
  const light = filmLight(metalIndex(metal, wavelength), thickness, wavelength, 1, glass);
  const lost = ((glass - 1) / (glass + 1)) ** 2;
  return { ...light, throughPlate: light.transmitted * (1 - lost) };
}

/**
 * Reflectance of the metal when the film is thick: ((n - 1)^2 + k^2) / ((n + 1)^2 + k^2).
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(thickReflectance("aluminium").toFixed(3), "0.915");
 * ```
 */
export function thickReflectance(metal: Metal, wavelength = 550): number {
  const { re: n, im: k } = metalIndex(metal, wavelength);
  return ((n - 1) ** 2 + k ** 2) / ((n + 1) ** 2 + k ** 2);
}
