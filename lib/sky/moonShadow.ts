/** How high a mountain or a crater's rim on the Moon is, from the length of its shadow and the Sun's height there. */
import { type Measured, measured } from "../quantity/measured.ts";
import { propagate, type Propagated } from "../quantity/propagate.ts";
import { terrestrial } from "./localTime.ts";
import { requireDate } from "./tonight.ts";

/** A place on the Moon, rad; longitude is positive toward the Sea of Crises, which is the sky's west. */
export interface MoonPlaceOn {
  /** north positive, rad */
  readonly latitude: number;
  /** toward the Sea of Crises positive, rad */
  readonly longitude: number;
}

/** The Moon's half-width, km (READ IAU, as ssystem_major.ini of Debian's stellarium-data 0.22.2). */
export const MOON_KM = 1737.4;

/**
 * The place on the Moon over which the Sun stands.
 *
 * @param date  1900 to 2100
 * @throws {RangeError} for a date out of range
 * @see astronomy-engine 2.1.19 for the Moon's turning; Meeus' example in the tests
 * @example half Moon: the Sun stands about a quarter round from the middle of the face
 * ```ts
 * import assert from "node:assert/strict";
 * const { longitude } = await sunOverMoon(new Date("2026-10-18T16:00:00Z"));
 * assert.equal(((longitude * 180) / Math.PI).toFixed(0), "87");
 * ```
 */
export async function sunOverMoon(date: Date): Promise<MoonPlaceOn> {
  requireDate("sunOverMoon", date);
  const engine = await import("astronomy-engine"), time = terrestrial(engine, date);
  const { ra, spin, north } = engine.RotationAxis(engine.Body.Moon, time);
  const { x, y, z } = engine.HelioVector(engine.Body.Moon, time), far = Math.hypot(x, y, z);
  const sun = [-x / far, -y / far, -z / far] as const;
  // the equator's node on the sky's equator, and a quarter further round the Moon's own
  const node = ((ra + 6) * Math.PI) / 12, e = [Math.cos(node), Math.sin(node), 0] as const;
  const f = [-north.z * e[1], north.z * e[0], north.x * e[1] - north.y * e[0]] as const;
  const turned = Math.atan2(
    sun[0] * f[0] + sun[1] * f[1] + sun[2] * f[2],
    sun[0] * e[0] + sun[1] * e[1],
  ) - (spin * Math.PI) / 180;
  return {
    latitude: Math.asin(sun[0] * north.x + sun[1] * north.y + sun[2] * north.z),
    longitude: Math.atan2(Math.sin(turned), Math.cos(turned)),
  };
}

/**
 * The Sun's height over the horizon of a place on the Moon, rad; below 0 it is night there.
 *
 * @param place  on the Moon
 * @param sun    the place over which the Sun stands
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(sunHeight({ latitude: 0, longitude: 0 }, { latitude: 0, longitude: 0 }), Math.PI / 2);
 * ```
 */
export function sunHeight(place: MoonPlaceOn, sun: MoonPlaceOn): number {
  return Math.asin(
    Math.sin(place.latitude) * Math.sin(sun.latitude) +
      Math.cos(place.latitude) * Math.cos(sun.latitude) *
        Math.cos(place.longitude - sun.longitude),
  );
}

/**
 * Height of what casts a shadow on a ball.
 *
 *     (R + H) cos h = R cos(h - L / R)
 *
 * The ray that grazes the top meets the ground where the shadow ends; there the Sun stands lower by the ground's own bend.
 *
 * @param sunHeight  over the horizon at the foot of what casts it, rad; above 0
 * @param lengthKm   of the shadow along the ground, km; 0 or more, shorter than to where the Sun sets
 * @returns height of the top over the shadow's end, km
 * @throws {RangeError} outside those ranges
 * @see the triangle of Moon's middle, top and the shadow's end (DERIVED)
 * @example a flat Moon would give L tan h, 2.51 km
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(heightFromShadow((6.7 * Math.PI) / 180, 21.33).toFixed(2), "2.37");
 * ```
 */
export function heightFromShadow(sunHeight: number, lengthKm: number): number {
  const bend = lengthKm / MOON_KM;
  if (!(sunHeight > 0 && sunHeight < Math.PI / 2 && bend >= 0 && bend < sunHeight)) {
    throw new RangeError(
      `heightFromShadow requires the Sun over the horizon there and a shadow that ends in sunlight, got ${
        ((sunHeight * 180) / Math.PI).toFixed(1)
      } degrees and ${lengthKm} km`,
    );
  }
  return MOON_KM * (Math.cos(sunHeight - bend) / Math.cos(sunHeight) - 1);
}

/** What casts the shadow: a crater's rim, or a mountain with a crater beside to measure by. */
export interface ShadowCaster {
  /** the crater's middle, or the mountain */
  readonly place: MoonPlaceOn;
  /** width of the crater that the shadow is measured by, km */
  readonly widthKm: number;
  /** the crater's own rim casts it, half a width nearer to the Sun than its middle */
  readonly rim: boolean;
}

/** The Sun's height where the shadow begins, rad. */
export function sunAtFoot({ place, widthKm, rim }: ShadowCaster, sun: MoonPlaceOn): number {
  return sunHeight(place, sun) + (rim ? widthKm / 2 / MOON_KM : 0);
}

/** Of the crater's width, and of the Sun's height where the place is told to a tenth of a degree. COMMON PRACTICE */
const WIDTH_U = 0.03, SUN_U = (0.1 * Math.PI) / 180;

/**
 * A height with its doubt, from the share of a crater's width that a shadow covers along the shadow: both are seen at the
 * same slant, so that the slant drops out.
 *
 * @param caster  what casts it
 * @param sun     the place over which the Sun stood
 * @param share   of the width, from drawings or the eye; u 0 or more
 * @throws {RangeError} where the Sun had not risen there, or the shadow would end in the dark
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const caster = { place: { latitude: 0, longitude: 0 }, widthKm: 100, rim: true };
 * const share = { value: 0.2, u: 0.03, dof: Infinity, unit: "" };
 * const height = heightByShare(caster, { latitude: 0, longitude: 1.4 }, share);
 * assert.equal(`${height.value.toFixed(2)} ${height.u.toFixed(2)}`, "3.93 0.58");
 * ```
 */
export function heightByShare(
  caster: ShadowCaster,
  sun: MoonPlaceOn,
  share: Measured,
): Propagated {
  const { widthKm } = caster, h = sunAtFoot(caster, sun);
  return propagate(
    ({ height, width, part }) => heightFromShadow(height, width * part),
    {
      height: measured(h, SUN_U, "rad"),
      width: measured(widthKm, WIDTH_U * widthKm, "km"),
      part: share,
    },
    { unit: "km" },
  );
}
