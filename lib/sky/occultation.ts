/** When the Moon passes before a star: the moment at a place, to be compared with a clock and an eye. */
import type * as Engine from "astronomy-engine";
import { findRoot, signChanges } from "../numeric/rootFinding.ts";
import { ARCSEC } from "./eyepiece.ts";
import { terrestrial } from "./localTime.ts";
import { isSunUp, type Place, requireDate } from "./tonight.ts";

/** A star's place, for the equator of 2000, with its own motion. */
export interface StarPlace {
  /** right ascension, hours */
  readonly raHours: number;
  /** north positive, degrees */
  readonly declinationDeg: number;
  /** own motion along right ascension, on the sky, milliarcseconds a year */
  readonly motionRa: number;
  /** own motion northward, milliarcseconds a year */
  readonly motionDec: number;
}

/** A star goes behind the Moon, or comes out from behind it. */
export interface Occultation {
  /** the star goes out, or comes back */
  readonly event: "vanishes" | "appears";
  /** for a Moon without mountains */
  readonly moment: Date;
  /** how far the rim's mountains and the Moon's own place may shift it, standard uncertainty, s */
  readonly u: number;
  /** at the Moon's dark side, where a small telescope sees it */
  readonly darkSide: boolean;
  /** of the Moon, rad */
  readonly altitude: number;
  /** some of the Sun stands above the horizon: then nothing is a target */
  readonly sunUp: boolean;
}

/** Mean half-width of the Moon's rim, km: 0.2725076 of the Earth's (COMMON PRACTICE: IAU 1982; Meeus 1998, READ in npm's astronomia, has 0.272481, which is 0.17 km less). */
const RIM_KM = 1738.09;
/**
 * How well the rim's place is known, standard uncertainty, km at the Moon: 1.9 for mountains and valleys (COMMON PRACTICE: about an
 * arcsecond), 2.4 for the Moon's own place (1.3 arcseconds beside another ephemeris, in the tests).
 */
const RIM_U_KM = Math.hypot(1.9, 2.4);

/** From the Moon to here, ms. */
const LIGHT_MS = 1280;

type Vector = readonly [number, number, number];
const plus = (a: Vector, k: number, b: Vector): Vector => [
  a[0] + k * b[0],
  a[1] + k * b[1],
  a[2] + k * b[2],
];
const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const unit = (a: Vector): Vector => plus([0, 0, 0], 1 / Math.hypot(...a), a);

/** Toward the star at a year, its own motion counted; equator of 2000. */
function toward(star: StarPlace, years: number): Vector {
  const dec = (star.declinationDeg * Math.PI) / 180 + (star.motionDec * years) / 1000 / ARCSEC;
  const ra = (star.raHours * Math.PI) / 12 +
    (star.motionRa * years) / 1000 / ARCSEC / Math.cos(dec);
  return [Math.cos(dec) * Math.cos(ra), Math.cos(dec) * Math.sin(ra), Math.sin(dec)];
}

/** Moon and star from a place at a moment. */
interface View {
  /** km */
  readonly moon: Vector;
  readonly star: Vector;
  /** star's distance from the Moon's middle, rad */
  readonly apart: number;
  /** the Moon's half-width, rad */
  readonly half: number;
}

function viewOf(
  engine: typeof Engine,
  star: StarPlace,
  observer: Engine.Observer,
  ms: number,
): View {
  const time = terrestrial(engine, new Date(ms)), km = engine.KM_PER_AU;
  // Moon and observer when the Moon's light left: both move on alike, and so that much of the Earth's way drops out
  const geo = engine.GeoMoon(terrestrial(engine, new Date(ms - LIGHT_MS)));
  const stand = engine.ObserverState(new Date(ms - LIGHT_MS), observer, false);
  const moon: Vector = [(geo.x - stand.x) * km, (geo.y - stand.y) * km, (geo.z - stand.z) * km];
  // a star seen from a moving Earth stands ahead of where it is
  const earth = engine.BaryState(engine.Body.Earth, time), c = engine.C_AUDAY;
  const own = toward(star, time.tt / 365.25);
  const seen = unit([
    own[0] + (earth.vx + stand.vx) / c,
    own[1] + (earth.vy + stand.vy) / c,
    own[2] + (earth.vz + stand.vz) / c,
  ]);
  const far = Math.hypot(...moon), along = dot(moon, seen);
  const beside = Math.hypot(...plus(moon, -along, seen));
  return { moon, star: seen, apart: Math.atan2(beside, along), half: Math.asin(RIM_KM / far) };
}

const STEP = 60_000;
/** More than the Moon ever goes before the stars, rad in a ms: 0.66 degrees an hour at its nearest, 0.27 by the observer's own way round. */
const FASTEST = (1.2 * Math.PI) / 180 / 3_600_000;

/**
 * When the Moon covers a star and gives it back, as seen from a place, within some hours about a moment.
 *
 * @param star   its place
 * @param place  rad
 * @param about  1900 to 2100
 * @param hours  on either side, above 0, at most 12; default 3
 * @returns in order of time; empty where the Moon passes by
 * @throws {RangeError} outside those ranges
 * @see astronomy-engine 2.1.19 for Moon and Earth; a second program in the tests
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const aldebaran = { raHours: 4.598677, declinationDeg: 16.509302, motionRa: 63.45, motionDec: -188.94 };
 * const place = { latitude: 0.8098, longitude: 0.2775 };
 * assert.deepEqual(await occultations(aldebaran, place, new Date("2026-10-10T18:30:00Z")), []);
 * ```
 */
export async function occultations(
  star: StarPlace,
  place: Place,
  about: Date,
  hours = 3,
): Promise<readonly Occultation[]> {
  requireDate("occultations", about);
  if (!(hours > 0 && hours <= 12)) {
    throw new RangeError(`occultations requires 0 to 12 hours on either side, got ${hours}`);
  }
  const engine = await import("astronomy-engine"), rad = Math.PI / 180;
  const observer = new engine.Observer(place.latitude / rad, place.longitude / rad, 0);
  const view = (ms: number): View => viewOf(engine, star, observer, ms);
  const outside = (ms: number): number => {
    const { apart, half } = view(ms);
    return apart - half;
  };
  const begin = about.getTime() - hours * 3_600_000, end = about.getTime() + hours * 3_600_000;
  // the Moon's own way is half a degree an hour: where it is farther off than that at all times, nothing is looked for
  if (outside(about.getTime()) > (hours + 1) * rad) return [];
  const found: Occultation[] = [];
  for (const [before, after] of signChanges(outside, begin, end, STEP, FASTEST)) {
    const at = findRoot(outside, before, after, 10);
    found.push(contact(engine, observer, view, at, outside(after) < 0));
  }
  return found;
}

function contact(
  engine: typeof Engine,
  observer: Engine.Observer,
  view: (ms: number) => View,
  at: number,
  goes: boolean,
): Occultation {
  const { moon, star } = view(at), far = Math.hypot(...moon), time = new Date(at);
  const { x, y, z } = engine.GeoVector(engine.Body.Sun, time, true);
  const sun = unit([x, y, z]), middle = unit(moon);
  // directions on the sky from the Moon's middle: to the star, and to the Sun
  const toStar = plus(star, -dot(star, middle), middle);
  const toSun = plus(sun, -dot(sun, middle), middle);
  const second = (view(at + 1000).apart - view(at - 1000).apart) / 2;
  const up = (body: Engine.Body): number => {
    const { ra, dec } = engine.Equator(body, time, observer, true, true);
    return engine.Horizon(time, observer, ra, dec, "normal").altitude * Math.PI / 180;
  };
  return {
    event: goes ? "vanishes" : "appears",
    moment: time,
    u: RIM_U_KM / far / Math.abs(second),
    darkSide: dot(toStar, toSun) < 0,
    altitude: up(engine.Body.Moon),
    sunUp: isSunUp(up(engine.Body.Sun)),
  };
}
