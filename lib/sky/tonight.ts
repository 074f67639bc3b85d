/** What is up from a place on an evening: Sun, Moon, planets, and why some or all of them are no target. */
import type * as Engine from "astronomy-engine";
import { ARCSEC } from "./eyepiece.ts";

/** A place: angles rad, north and east positive. */
export interface Place {
  /** north positive, rad */
  readonly latitude: number;
  /** east positive, rad */
  readonly longitude: number;
}

/** Equatorial radii, km (READ IAU, as ssystem_major.ini of Debian's stellarium-data 0.22.2). */
export const RADII_KM = {
  Mercury: 2440.5,
  Venus: 6051.8,
  Mars: 3396.2,
  Jupiter: 71_492,
  Saturn: 60_268,
  Uranus: 25_559,
  Neptune: 24_764,
} as const;

/** A planet that is looked for. */
export type Planet = keyof typeof RADII_KM;

/** Outer edge of Saturn's bright rings, km, and width of their dark division (COMMON PRACTICE: 136,100 to 136,800 and 4,500 to 4,800, a fifth of an arcsecond). */
export const SATURN_RINGS_KM = 136_775, CASSINI_KM = 4_700;

/** A planet as it stands at a moment; angles rad unless the name says otherwise. */
export interface Seen {
  /** which planet */
  readonly name: Planet;
  /** above the horizon with refraction, rad; below 0 it is down */
  readonly altitude: number;
  /** from north through east, rad */
  readonly azimuth: number;
  /** equatorial width of the disc, arcseconds */
  readonly diameterArcsec: number;
  /** Saturn only: length of the rings, and how far they are open; + shows their north face, as in June 2017 */
  readonly ringsArcsec?: number;
  /** Saturn only: rad, + where the north face is seen */
  readonly ringTilt?: number;
  /** visual */
  readonly magnitude: number;
  /** share of the disc in sunlight */
  readonly lit: number;
  /** from the Earth, km */
  readonly distanceKm: number;
  /** angle between planet and Sun, rad */
  readonly fromSun: number;
  /** why nobody may point there now; absent where it is safe */
  readonly refused?: string;
}

/** The Moon as it stands at a moment; angles rad unless the name says otherwise. */
export interface MoonSeen {
  /** above the horizon with refraction, rad; below 0 it is down */
  readonly altitude: number;
  /** from north through east, rad */
  readonly azimuth: number;
  /** share of the disc in sunlight */
  readonly lit: number;
  /** true from new to full Moon */
  readonly waxing: boolean;
  /** width of the disc, arcseconds */
  readonly diameterArcsec: number;
  /** angle between Moon and Sun, rad */
  readonly fromSun: number;
  /** why nobody may point there now; absent where it is safe */
  readonly refused?: string;
}

/** An evening; times are moments, to be shown in the place's own time zone. */
export interface Evening {
  /** for which all that follows is given */
  readonly moment: Date;
  /** of the middle of the Sun's disc, rad */
  readonly sunAltitude: number;
  /** some of the Sun's disc stands above the horizon: then nothing is a target */
  readonly sunUp: boolean;
  /** next sunset and the end of twilight after it; absent where there is none for a day */
  readonly sunset?: Date;
  /** end of twilight after the next sunset; absent where there is none for a day */
  readonly darkFrom?: Date;
  /** where the Moon stands */
  readonly moon: MoonSeen;
  /** where the planets stand */
  readonly planets: readonly Seen[];
}

const RAD = Math.PI / 180, LEAST_FROM_SUN = 15 * RAD;
/** Altitude of the Sun's middle at which its upper edge has set: 16.3 arcminutes, its largest half-width. */
const SUN_DOWN = -0.272 * RAD;
const MOON_RADIUS_KM = 1737.4;

/** Width of a ball, arcseconds: 2 asin(R / distance). */
export function widthArcsec(radiusKm: number, distanceKm: number): number {
  if (!(radiusKm > 0 && distanceKm > radiusKm)) {
    throw new RangeError(
      `widthArcsec requires 0 < radius < distance in km, got ${radiusKm}, ${distanceKm}`,
    );
  }
  return 2 * Math.asin(radiusKm / distanceKm) * ARCSEC;
}

function requirePlace({ latitude, longitude }: Place, date: Date): void {
  if (!(Math.abs(latitude) <= Math.PI / 2 && Math.abs(longitude) <= Math.PI)) {
    throw new RangeError(
      `tonight requires latitude within 90 and longitude within 180 degrees, in rad, got ${latitude}, ${longitude}: a place on no map`,
    );
  }
  requireDate("tonight", date);
}

/** Refuses a moment that the planets' theory is not made for, or that is none. */
export function requireDate(name: string, date: Date): void {
  const year = date.getUTCFullYear();
  if (!(year >= 1900 && year <= 2100)) {
    throw new RangeError(`${name} requires a date from 1900 to 2100, got ${year}`);
  }
}

/** Whether any of the Sun's disc stands above the horizon; its middle's altitude in rad, the air's bending counted. */
export function isSunUp(sunAltitude: number): boolean {
  return !(sunAltitude < SUN_DOWN);
}

/**
 * Whether any of the Sun's disc stands above the horizon of a place at a moment.
 *
 * @throws {RangeError} for a place on no map or a date out of range
 */
export async function isSunUpAt(place: Place, date: Date): Promise<boolean> {
  requirePlace(place, date);
  const engine = await import("astronomy-engine");
  const observer = new engine.Observer(place.latitude / RAD, place.longitude / RAD, 0);
  return isSunUp(heightOf(engine, "Sun", engine.MakeTime(date), observer)[0]);
}

/**
 * Why a thing in the sky must not be pointed at: the Sun is up, or it is within 15 degrees of the Sun.
 *
 * One rule for Moon, planets and whatever else. Near the Sun a thing is refused in twilight too: who waits for it to climb
 * at dawn looks there when the Sun comes up.
 *
 * @param fromSun      angle between the two, rad
 * @param sunAltitude  of the Sun's middle, rad
 * @returns the reason, or `undefined` where it is safe
 * @throws {RangeError} where an angle is not known
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(notATarget(2, 0.5) ?? "", /the Sun is up/);
 * assert.match(notATarget(0.1, -0.2) ?? "", /blind/);
 * assert.equal(notATarget(0.3, -0.2), undefined);
 * ```
 */
export function notATarget(fromSun: number, sunAltitude: number): string | undefined {
  if (Number.isNaN(fromSun + sunAltitude)) {
    throw new RangeError(`notATarget requires two angles, got ${fromSun} and ${sunAltitude}`);
  }
  const up = isSunUp(sunAltitude), slip = "one slip of the tube would blind";
  if (fromSun < LEAST_FROM_SUN) {
    const near = `only ${Math.floor(fromSun / RAD)} degrees from the Sun`;
    return up ? `${near}, which is up: ${slip}` : `${near}: at dusk or dawn ${slip}`;
  }
  return up ? `the Sun is up, and nothing is a target: ${slip}. Wait until it has set` : undefined;
}

/**
 * What stands over a place at a moment.
 *
 * Altitudes count the air's bending. While the Sun is up everything is refused, and what is within 15 degrees of it always.
 *
 * @param place  rad
 * @param date   the moment, 1900 to 2100
 * @throws {RangeError} for a place on no map or a date out of range
 * @see astronomy-engine 2.1.19, compared with a second program in the tests
 * @example Saturn, six days after its opposition
 * ```ts
 * import assert from "node:assert/strict";
 * const place = { latitude: 46.4 * Math.PI / 180, longitude: 15.9 * Math.PI / 180 };
 * const evening = await tonight(place, new Date("2026-10-10T18:30:00Z"));
 * const saturn = evening.planets.find(({ name }) => name === "Saturn");
 * assert.equal(saturn?.diameterArcsec.toFixed(1), "19.7");
 * ```
 */
export async function tonight(place: Place, date: Date): Promise<Evening> {
  requirePlace(place, date);
  const engine = await import("astronomy-engine");
  const observer = new engine.Observer(place.latitude / RAD, place.longitude / RAD, 0);
  const time = engine.MakeTime(date), sunAltitude = heightOf(engine, "Sun", time, observer)[0];
  const sunset = engine.SearchRiseSet(engine.Body.Sun, observer, -1, date, 1)?.date;
  const dark = engine.SearchAltitude(engine.Body.Sun, observer, -1, date, 1, -18)?.date;
  return {
    moment: date,
    sunAltitude,
    sunUp: isSunUp(sunAltitude),
    ...(sunset === undefined ? {} : { sunset }),
    ...(dark === undefined ? {} : { darkFrom: dark }),
    moon: moonSeen(engine, time, observer, sunAltitude),
    planets: (Object.keys(RADII_KM) as Planet[]).map((name) =>
      seen(engine, name, time, observer, sunAltitude)
    ),
  };
}

/** Altitude and azimuth, rad, and distance, AU. */
function heightOf(
  engine: typeof Engine,
  name: Planet | "Sun" | "Moon",
  time: Engine.AstroTime,
  observer: Engine.Observer,
): readonly [altitude: number, azimuth: number, au: number] {
  const { ra, dec, dist } = engine.Equator(engine.Body[name], time, observer, true, true);
  const { altitude, azimuth } = engine.Horizon(time, observer, ra, dec, "normal");
  return [altitude * RAD, azimuth * RAD, dist];
}

function moonSeen(
  engine: typeof Engine,
  time: Engine.AstroTime,
  observer: Engine.Observer,
  sunAltitude: number,
): MoonSeen {
  const body = engine.Body.Moon, [altitude, azimuth, au] = heightOf(engine, "Moon", time, observer);
  const fromSun = fromSunAt(engine, "Moon", time, observer), why = notATarget(fromSun, sunAltitude);
  return {
    altitude,
    azimuth,
    lit: engine.Illumination(body, time).phase_fraction,
    waxing: engine.MoonPhase(time) < 180,
    diameterArcsec: widthArcsec(MOON_RADIUS_KM, au * engine.KM_PER_AU),
    fromSun,
    ...(why === undefined ? {} : { refused: why }),
  };
}

/** Angle from the Sun as seen from the place itself, rad: the Moon is up to a degree off the Earth's middle's view. */
function fromSunAt(
  engine: typeof Engine,
  name: Planet | "Moon",
  time: Engine.AstroTime,
  observer: Engine.Observer,
): number {
  const toward = (body: Engine.Body): Engine.Vector =>
    engine.Equator(body, time, observer, true, true).vec;
  return engine.AngleBetween(toward(engine.Body[name]), toward(engine.Body.Sun)) * RAD;
}

function seen(
  engine: typeof Engine,
  name: Planet,
  time: Engine.AstroTime,
  observer: Engine.Observer,
  sunAltitude: number,
): Seen {
  const body = engine.Body[name], light = engine.Illumination(body, time);
  const [altitude, azimuth] = heightOf(engine, name, time, observer);
  const distanceKm = light.geo_dist * engine.KM_PER_AU;
  const fromSun = fromSunAt(engine, name, time, observer), why = notATarget(fromSun, sunAltitude);
  return {
    name,
    altitude,
    azimuth,
    diameterArcsec: widthArcsec(RADII_KM[name], distanceKm),
    ...(name === "Saturn"
      ? {
        ringsArcsec: widthArcsec(SATURN_RINGS_KM, distanceKm),
        ringTilt: -(light.ring_tilt ?? 0) * RAD, // the engine's + is the south face
      }
      : {}),
    magnitude: light.mag,
    lit: light.phase_fraction,
    distanceKm,
    fromSun,
    ...(why === undefined ? {} : { refused: why }),
  };
}

// Jupiter's four large moons: which stands where beside the planet.

/** The four moons that small telescopes show. */
export type JupiterMoon = "Io" | "Europa" | "Ganymede" | "Callisto";

/** A moon beside Jupiter, as it stands in the sky; no optics turns it yet. */
export interface MoonPlace {
  /** which moon */
  readonly name: JupiterMoon;
  /** from the planet's middle toward east and north, arcseconds */
  readonly eastArcsec: number;
  /** toward north, arcseconds */
  readonly northArcsec: number;
  /** distance from the planet's middle in its equatorial radii */
  readonly radii: number;
  /** where it stands, seen from the Earth */
  readonly seen: "beside" | "before the disc" | "behind the disc";
}

/** The four, from the planet outward. */
export const JUPITER_MOONS: readonly JupiterMoon[] = ["Io", "Europa", "Ganymede", "Callisto"];

/**
 * Where the moons stand at a moment, seen from the Earth; light's own time counted.
 *
 * @param date  the moment, 1900 to 2100
 * @throws {RangeError} for a date out of range
 * @see astronomy-engine 2.1.19, compared with a second program in the tests
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const moons = await jupiterMoons(new Date("2027-02-11T20:00:00Z"));
 * assert.deepEqual(moons.map(({ name }) => name), ["Io", "Europa", "Ganymede", "Callisto"]);
 * ```
 */
export async function jupiterMoons(date: Date): Promise<readonly MoonPlace[]> {
  requireDate("jupiterMoons", date);
  const engine = await import("astronomy-engine");
  const time = engine.MakeTime(date), there = engine.GeoVector(engine.Body.Jupiter, time, true);
  const au = there.Length(), left = time.AddDays(-au / engine.C_AUDAY);
  const { io, europa, ganymede, callisto } = engine.JupiterMoons(left);
  // unit vectors of the sky at Jupiter: along the sight, east, north
  const z = { x: there.x / au, y: there.y / au, z: there.z / au };
  const flat = Math.hypot(z.x, z.y), east = { x: -z.y / flat, y: z.x / flat };
  const north = { x: -z.z * east.y, y: z.z * east.x, z: flat };
  return [io, europa, ganymede, callisto].map((moon, i) => {
    const e = east.x * moon.x + east.y * moon.y;
    const n = north.x * moon.x + north.y * moon.y + north.z * moon.z;
    const away = z.x * moon.x + z.y * moon.y + z.z * moon.z;
    const radii = (Math.hypot(e, n) * engine.KM_PER_AU) / RADII_KM.Jupiter;
    return {
      name: JUPITER_MOONS[i] ?? "Io",
      eastArcsec: (e / (au + away)) * ARCSEC,
      northArcsec: (n / (au + away)) * ARCSEC,
      radii,
      seen: radii >= 1 ? "beside" : away < 0 ? "before the disc" : "behind the disc",
    };
  });
}
