/** When Jupiter's moons go into the planet's shadow and come out of it: a clock in the sky, seen with any mirror. */
import type * as Engine from "astronomy-engine";
import { findRoot, signChanges } from "../numeric/rootFinding.ts";
import { terrestrial } from "./localTime.ts";
import { JUPITER_MOONS, type JupiterMoon, RADII_KM, requireDate } from "./tonight.ts";

/** A moon goes into the planet's shadow, or comes out of it. */
export interface ShadowEvent {
  /** which moon */
  readonly moon: JupiterMoon;
  /** its light goes, or comes back */
  readonly event: "vanishes" | "appears";
  /** half of the moon is in the shadow */
  readonly half: Date;
  /** the last speck goes, or the first comes: the moon just wholly in the shadow */
  readonly dark: Date;
  /** distance from the planet's middle then, as seen from the Earth, in its equatorial radii */
  readonly radii: number;
  /** east or west of the planet; "hidden" where the planet itself stands before the moon */
  readonly side: "east" | "west" | "hidden";
}

/** Half-widths of the moons, km (READ IAU, as ssystem_major.ini of Debian's stellarium-data 0.22.2). */
const MOON_KM: Readonly<Record<JupiterMoon, number>> = {
  Io: 1821.5,
  Europa: 1560.8,
  Ganymede: 2631.2,
  Callisto: 2410.3,
};
/** Jupiter's polar radius, km (READ the same: 71,492 less 0.064874 of it). */
const POLAR_KM = 66_854;

type Vector = readonly [number, number, number];

const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const along = (a: Vector, k: number, b: Vector): Vector => [
  a[0] + k * b[0],
  a[1] + k * b[1],
  a[2] + k * b[2],
];
const unit = (a: Vector): Vector => along([0, 0, 0], 1 / Math.hypot(...a), a);

/** How the moon stands: to the planet's shadow, and to the planet as seen from the Earth; km. */
interface Standing {
  /** from the shadow's edge, stretched so that the edge is a circle; below 0 inside */
  readonly fromEdge: number;
  /** behind the planet, seen from the Sun */
  readonly behind: boolean;
  readonly radii: number;
  readonly east: number;
  /** farther from the Earth than the planet's middle */
  readonly away: number;
}

function standing(engine: typeof Engine, moon: JupiterMoon, ms: number): Standing {
  const time = terrestrial(engine, new Date(ms)), km = engine.KM_PER_AU;
  const there = engine.GeoVector(engine.Body.Jupiter, time, true);
  // light left the planet so much earlier; what it met on its way from the Sun is the same to a second
  const left = time.AddDays(-there.Length() / engine.C_AUDAY);
  const own = engine.JupiterMoons(left)[moon.toLowerCase() as Lowercase<JupiterMoon>];
  const place: Vector = [own.x * km, own.y * km, own.z * km];
  const { x, y, z } = engine.HelioVector(engine.Body.Jupiter, left);
  const fromSun = unit([x, y, z]), deep = dot(place, fromSun);
  const beside = along(place, -deep, fromSun);
  const { north } = engine.RotationAxis(engine.Body.Jupiter, left);
  const pole: Vector = [north.x, north.y, north.z], tilt = dot(pole, fromSun);
  const up = unit(along(pole, -tilt, fromSun)), high = dot(beside, up);
  const wide = Math.hypot(...along(beside, -high, up)), equator = RADII_KM.Jupiter;
  const polar = Math.sqrt(POLAR_KM ** 2 * (1 - tilt ** 2) + equator ** 2 * tilt ** 2);
  const sight = unit([there.x, there.y, there.z]), away = dot(place, sight);
  const seen = along(place, -away, sight);
  return {
    fromEdge: Math.hypot(wide, high * equator / polar) - equator,
    behind: deep > 0,
    radii: Math.hypot(...seen) / equator,
    east: -seen[0] * sight[1] + seen[1] * sight[0],
    away,
  };
}

const STEP = 300_000;
/** More than any moon's way to or from the shadow's edge, km in a ms: Io goes 17.4 km in a second, the edge is stretched by a fourteenth. */
const FASTEST = 0.02;

/**
 * The moons' eclipses in Jupiter's shadow between two moments, as seen from the Earth, in order of time.
 *
 * The shadow is that of the flattened planet with the Sun as a point; by the Sun's width and the planet's air it is soft,
 * and a moon fades for minutes. So both are given: half of the moon dark, and all of it. What an eye sees last or first lies
 * between the two.
 *
 * @param from  1900 to 2100
 * @param to    after it, within 40 days
 * @param moons which of them; default all four
 * @throws {RangeError} outside those ranges
 * @see astronomy-engine 2.1.19 for the places; a second program in the tests
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const events = await jupiterShadows(new Date("2026-10-17T00:00:00Z"), new Date("2026-10-19T00:00:00Z"));
 * assert.ok(events.some(({ moon }) => moon === "Io"));
 * ```
 */
export async function jupiterShadows(
  from: Date,
  to: Date,
  moons: readonly JupiterMoon[] = JUPITER_MOONS,
): Promise<readonly ShadowEvent[]> {
  requireDate("jupiterShadows", from);
  const span = to.getTime() - from.getTime();
  if (!(span > 0 && span <= 40 * 86_400_000)) {
    throw new RangeError(
      `jupiterShadows requires an end within 40 days after the beginning, got ${from.toISOString()} to ${to.toISOString()}`,
    );
  }
  const engine = await import("astronomy-engine"), found: ShadowEvent[] = [];
  for (const moon of moons) {
    const at = (ms: number): Standing => standing(engine, moon, ms);
    const changes = signChanges(
      (ms) => at(ms).fromEdge,
      from.getTime(),
      to.getTime(),
      STEP,
      FASTEST,
    );
    for (const [before, after] of changes) {
      const now = at(after);
      if (now.behind && at(before).behind) found.push(eventOf(moon, now.fromEdge < 0, at, after));
    }
  }
  return found.sort((a, b) => a.half.getTime() - b.half.getTime());
}

function eventOf(
  moon: JupiterMoon,
  goes: boolean,
  at: (ms: number) => Standing,
  ms: number,
): ShadowEvent {
  const half = findRoot((t) => at(t).fromEdge, ms - STEP, ms, 50);
  const inside = (t: number): number => at(t).fromEdge + MOON_KM[moon];
  // near the shadow's rim a moon may never be wholly dark: then the darkest it comes to, within half an hour
  const steps = Array.from({ length: 31 }, (_, i) => half + (goes ? 1 : -1) * i * 60_000);
  const k = steps.findIndex((t) => inside(t) <= 0);
  const dark = k > 0
    ? findRoot(inside, ...ordered(steps[k - 1] ?? half, steps[k] ?? half), 50)
    : steps.reduce((least, t) => inside(t) < inside(least) ? t : least, half);
  const { radii, east, away } = at(half);
  return {
    moon,
    event: goes ? "vanishes" : "appears",
    half: new Date(half),
    dark: new Date(dark),
    radii,
    side: radii < 1 && away > 0 ? "hidden" : east > 0 ? "east" : "west",
  };
}

const ordered = (a: number, b: number): [number, number] => a < b ? [a, b] : [b, a];
