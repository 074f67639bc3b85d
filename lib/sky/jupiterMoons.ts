/** Jupiter's four large moons: which stands where beside the planet. */
import { ARCSEC } from "./eyepiece.ts";
import { RADII_KM, requireDate } from "./tonight.ts";

export type JupiterMoon = "Io" | "Europa" | "Ganymede" | "Callisto";

/** A moon beside Jupiter, as it stands in the sky; no optics turns it yet. */
export interface MoonPlace {
  readonly name: JupiterMoon;
  /** from the planet's middle toward east and north, arcseconds */
  readonly eastArcsec: number;
  readonly northArcsec: number;
  /** distance from the planet's middle in its equatorial radii */
  readonly radii: number;
  readonly seen: "beside" | "before the disc" | "behind the disc";
}

const NAMES: readonly JupiterMoon[] = ["Io", "Europa", "Ganymede", "Callisto"];

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
      name: NAMES[i] ?? "Io",
      eastArcsec: (e / (au + away)) * ARCSEC,
      northArcsec: (n / (au + away)) * ARCSEC,
      radii,
      seen: radii >= 1 ? "beside" : away < 0 ? "before the disc" : "behind the disc",
    };
  });
}
