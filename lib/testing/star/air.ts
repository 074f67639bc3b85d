/** Warm air in the light's way: how much path it takes, and what the bands and the knife make of it. */
import { type RonchiSetUp, travelFactor } from "../bands/ronchi.ts";

/** Pressure of the standard atmosphere, Pa. */
const ONE_ATMOSPHERE = 101325;

/**
 * Refractive index of dry air (450 parts in a million of carbon dioxide) less one.
 *
 * Colour by two terms, density by the gas law with compressibility Z:  (n-1) ~ p / (Z T).
 *
 * @param celsius     temperature, degC; -40 to 60
 * @param wavelength  nm, 300 to 1700; default 550
 * @param pressure    Pa, 50,000 to 120,000; default one atmosphere
 * @throws {RangeError} outside those ranges
 * @see Ciddor 1996, Applied Optics 35, 1566 (colour looked up; beside Birch and Downs in tests/testing/secondRoute.py, 2e-9 apart)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal((airIndexLessOne(20) * 1e4).toFixed(5), "2.73085");
 * ```
 */
export function airIndexLessOne(
  celsius: number,
  wavelength = 550,
  pressure: number = ONE_ATMOSPHERE,
): number {
  if (
    !(celsius >= -40 && celsius <= 60 && wavelength >= 300 && wavelength <= 1700 &&
      pressure >= 5e4 && pressure <= 1.2e5)
  ) {
    throw new RangeError(
      `airIndexLessOne requires -40 to 60 degC, 300 to 1700 nm and 50000 to 120000 Pa, got ${celsius}, ${wavelength}, ${pressure}`,
    );
  }
  const k = (1000 / wavelength) ** 2; // per square micrometre
  const standard = 1e-8 * (5792105 / (238.0185 - k) + 167917 / (57.362 - k)); // at 15 degC
  return (standard * density(celsius, pressure)) / density(15, ONE_ATMOSPHERE);
}

/** Density of dry air but for a factor, p / (Z T). */
function density(celsius: number, pressure: number): number {
  const kelvin = celsius + 273.15, ratio = pressure / kelvin;
  const virial = 1.58123e-6 - 2.9331e-8 * celsius + 1.1043e-10 * celsius * celsius;
  return ratio / (1 - ratio * virial + ratio * ratio * 1.83e-11);
}

/** How the index falls as air warms, in each degree; negative. */
export function airIndexPerDegree(celsius: number, wavelength = 550): number {
  const step = 0.01;
  return (airIndexLessOne(celsius + step, wavelength) -
    airIndexLessOne(celsius - step, wavelength)) / (2 * step);
}

/** A column of air warmer than the rest, standing in the light. */
export interface WarmAir {
  /** how much warmer, K; below 0 colder */
  readonly excess: number;
  /** how much of the light's way lies in it, mm, one way */
  readonly length: number;
  /** half-width of its bell-shaped profile across the light (standard deviation), mm */
  readonly sigma: number;
  /** of the air around, degC; default 20 */
  readonly celsius?: number;
  /** nm; default 550 */
  readonly wavelength?: number;
}

/** What warm air looks like in the tests at the centre of curvature. */
export interface AirEffect {
  /** the path is shorter by this, there and back, nm; + = an advance, as a hill of half of it would make */
  readonly pathAdvance: number;
  /** the same in waves */
  readonly pathAdvanceWaves: number;
  /** height of glass it looks like, nm; + = high */
  readonly looksLikeGlass: number;
  /** steepest part of its side, on the path there and back, rad */
  readonly steepest: number;
  /** how far it throws a ray at the grating or knife, mm */
  readonly transverse: number;
}

/**
 * Warm air as the mirror's light meets it, twice: on its way down and back.
 *
 *     advance = -2 (dn/dT) excess length,    steepest side = advance / (sigma sqrt e),    ray thrown by R times that
 *
 * @param air     the warm column
 * @param radius  of curvature, mm; above 0
 * @throws {RangeError} where sizes are not above 0
 * @example one degree over 10 mm: nine nanometres of glass that are not there
 * ```ts
 * import assert from "node:assert/strict";
 * const effect = warmAir({ excess: 1, length: 10, sigma: 5 }, 2400);
 * assert.equal(effect.looksLikeGlass.toFixed(2), "9.34");
 * assert.equal(effect.pathAdvanceWaves.toFixed(3), "0.034");
 * ```
 */
export function warmAir(air: WarmAir, radius: number): AirEffect {
  const { excess, length, sigma, celsius = 20, wavelength = 550 } = air;
  if (!(length > 0 && sigma > 0 && radius > 0 && Number.isFinite(excess * length * radius))) {
    throw new RangeError(
      `warmAir requires length, sigma and radius above 0 mm and a finite excess, got length=${length}, sigma=${sigma}, ` +
        `radius=${radius}, excess=${excess}`,
    );
  }
  const advance = -2 * airIndexPerDegree(celsius, wavelength) * excess * length * 1e6;
  const steepest = Math.abs(advance * 1e-6) / (sigma * Math.sqrt(Math.E));
  return {
    pathAdvance: advance,
    pathAdvanceWaves: advance / wavelength,
    looksLikeGlass: advance / 2,
    steepest,
    transverse: steepest * radius,
  };
}

/** How far warm air moves a Ronchi band, as a share of the distance between two bands. */
export function bandShift(effect: AirEffect, linesPerMm: number): number {
  return effect.transverse * linesPerMm;
}

/**
 * How far warm air moves a knife reading where it stands before both openings of a zone; half of it before one.
 *
 *     transverse R / (2 r) where the lamp moves along, R / r where it stays
 *
 * @param effect  from `warmAir`
 * @param zone    radius of the zone, mm; above 0
 * @param radius  of curvature, mm
 * @param setUp   where the lamp stands
 * @returns mm along the axis
 * @throws {RangeError} where the zone or the radius is not above 0
 * @example a hand below the beam is worth four readings' noise
 * ```ts
 * import assert from "node:assert/strict";
 * const effect = warmAir({ excess: 1, length: 10, sigma: 5 }, 2400);
 * assert.equal(readingShift(effect, 30, 2400, "same grating").toFixed(2), "0.22");
 * ```
 */
export function readingShift(
  effect: AirEffect,
  zone: number,
  radius: number,
  setUp: RonchiSetUp,
): number {
  if (!(zone > 0 && radius > 0)) {
    throw new RangeError(
      `readingShift requires zone and radius above 0 mm, got zone=${zone}, radius=${radius}`,
    );
  }
  return (effect.transverse * radius) / (travelFactor(setUp) * zone);
}

/**
 * Minutes to wait until a warm mirror, or the air above it, is nearly as cool as the room.
 *
 *     t = tau ln(excess / allowed)
 *
 * @param excess   how much warmer it is now, K; 0 or more
 * @param allowed  how much may be left, K; above 0
 * @param timeConstant  minutes in which the excess falls to 0.37 of itself
 * @returns minutes; 0 where it is cool enough already
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(minutesToCalm(2, 0.5, 46).toFixed(0), "64");
 * ```
 */
export function minutesToCalm(excess: number, allowed: number, timeConstant: number): number {
  if (!(excess >= 0 && allowed > 0 && timeConstant > 0 && Number.isFinite(excess * timeConstant))) {
    throw new RangeError(
      `minutesToCalm requires excess of 0 or more, allowed and timeConstant above 0, got ${excess}, ${allowed}, ${timeConstant}`,
    );
  }
  return excess <= allowed ? 0 : timeConstant * Math.log(excess / allowed);
}
