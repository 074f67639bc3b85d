/** What is up from a place on an evening: Sun, Moon, planets, and why some are refused. */
import type * as Engine from "astronomy-engine";
import { ARCSEC } from "./eyepiece.ts";

/** A place: angles rad, north and east positive. */
export interface Place {
  readonly latitude: number;
  readonly longitude: number;
}

/** Equatorial radii, km (MEMORY: IAU working group on cartographic coordinates). */
export const RADII_KM = {
  Mercury: 2440.5,
  Venus: 6051.8,
  Mars: 3396.2,
  Jupiter: 71_492,
  Saturn: 60_268,
  Uranus: 25_559,
  Neptune: 24_764,
} as const;

export type Planet = keyof typeof RADII_KM;

/** Outer edge of Saturn's bright rings, km, and width of their dark division (MEMORY). */
export const SATURN_RINGS_KM = 136_775, CASSINI_KM = 4_700;

/** A planet as it stands at a moment; angles rad unless the name says otherwise. */
export interface Seen {
  readonly name: Planet;
  readonly altitude: number;
  readonly azimuth: number;
  readonly diameterArcsec: number;
  /** Saturn only: length of the rings, and how far they are open; + shows their north face */
  readonly ringsArcsec?: number;
  readonly ringTilt?: number;
  readonly magnitude: number;
  /** share of the disc in sunlight */
  readonly lit: number;
  readonly distanceKm: number;
  readonly fromSun: number;
  /** why nobody may point there now; absent where it is safe */
  readonly refused?: string;
}

/** An evening; times are moments, to be shown in the place's own time zone. */
export interface Evening {
  readonly moment: Date;
  readonly sunAltitude: number;
  /** next sunset and the end of twilight after it; absent where there is none for a day */
  readonly sunset?: Date;
  readonly darkFrom?: Date;
  readonly moon: {
    readonly altitude: number;
    readonly lit: number;
    readonly waxing: boolean;
    readonly diameterArcsec: number;
  };
  readonly planets: readonly Seen[];
}

const RAD = Math.PI / 180, LEAST_FROM_SUN = 15 * RAD, TWILIGHT = -6 * RAD;
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

/**
 * Why a target must not be pointed at: it is too near the Sun while the Sun is up or hardly down.
 *
 * @param fromSun      angle between the two, rad
 * @param sunAltitude  rad
 * @returns the reason, or `undefined` where it is safe
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(tooNearSun(0.1, 0.5) ?? "", /blind/);
 * assert.equal(tooNearSun(0.1, -0.2), undefined);
 * ```
 */
export function tooNearSun(fromSun: number, sunAltitude: number): string | undefined {
  if (fromSun >= LEAST_FROM_SUN || sunAltitude <= TWILIGHT) return undefined;
  return `only ${
    Math.round(fromSun / RAD)
  } degrees from the Sun, which is not down: one slip of the tube would blind. Wait until it has set`;
}

/**
 * What stands over a place at a moment.
 *
 * Altitudes count the air's bending. Anything within 15 degrees of the Sun is refused until the Sun is 6 degrees down.
 *
 * @param place  rad
 * @param date   the moment, 1900 to 2100
 * @throws {RangeError} for a place on no map or a date out of range
 * @see astronomy-engine 2.1.19, compared with a second program in the tests
 * @example Saturn, six days after its opposition
 * ```ts
 * import assert from "node:assert/strict";
 * const place = { latitude: 18.5 * Math.PI / 180, longitude: 73.8 * Math.PI / 180 };
 * const evening = await tonight(place, new Date("2026-10-10T16:00:00Z"));
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
  const [moonAltitude, , moonAu] = heightOf(engine, "Moon", time, observer);
  const phase = engine.MoonPhase(date);
  return {
    moment: date,
    sunAltitude,
    ...(sunset === undefined ? {} : { sunset }),
    ...(dark === undefined ? {} : { darkFrom: dark }),
    moon: {
      altitude: moonAltitude,
      lit: engine.Illumination(engine.Body.Moon, date).phase_fraction,
      waxing: phase < 180,
      diameterArcsec: widthArcsec(MOON_RADIUS_KM, moonAu * engine.KM_PER_AU),
    },
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
  const fromSun = engine.AngleFromSun(body, time) * RAD, why = tooNearSun(fromSun, sunAltitude);
  return {
    name,
    altitude,
    azimuth,
    diameterArcsec: widthArcsec(RADII_KM[name], distanceKm),
    ...(name === "Saturn"
      ? {
        ringsArcsec: widthArcsec(SATURN_RINGS_KM, distanceKm),
        ringTilt: (light.ring_tilt ?? 0) * RAD,
      }
      : {}),
    magnitude: light.mag,
    lit: light.phase_fraction,
    distanceKm,
    fromSun,
    ...(why === undefined ? {} : { refused: why }),
  };
}
