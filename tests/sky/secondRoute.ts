/** The same events by a second program (astronomia 4.2.0: Meeus' algorithms, VSOP87), for comparison only. */
// deno-lint-ignore-file no-explicit-any
import * as astronomia from "astronomia";
import * as tables from "astronomia/data";
import { findRoot } from "../../lib/numeric/rootFinding.ts";

const {
  elliptic,
  jupitermoons,
  moon,
  moonphase,
  moonposition,
  planetposition,
  saturnring,
  solstice,
} = astronomia as any;
const data = (tables as any).default ?? tables;
const planets = new Map<string, any>();

function planet(name: string): any {
  const found = planets.get(name) ?? new planetposition.Planet(data[name]);
  planets.set(name, found);
  return found;
}

/** Terrestrial less universal time near 2027, s, as the first program has it: 75.4; only minutes matter here. */
const DELTA_T_DAYS = 75.4 / 86_400;

export function jde(date: string): number {
  return Date.parse(date) / 86_400_000 + 2_440_587.5 + DELTA_T_DAYS;
}

export function toDate(day: number): Date {
  return new Date((day - DELTA_T_DAYS - 2_440_587.5) * 86_400_000);
}

interface Place3 {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

function heliocentric(name: string, day: number): Place3 {
  const { _ra: l, _dec: b, range: r } = planet(name).position(day);
  return { x: r * Math.cos(b) * Math.cos(l), y: r * Math.cos(b) * Math.sin(l), z: r * Math.sin(b) };
}

/** Distance from the Earth, AU, seen where it was when its light left. */
export function distanceAu(name: string, day: number): number {
  const earth = heliocentric("earth", day);
  let au = 0;
  for (let turn = 0; turn < 3; turn++) {
    const there = heliocentric(name, day - au * 0.0057755183);
    au = Math.hypot(there.x - earth.x, there.y - earth.y, there.z - earth.z);
  }
  return au;
}

/** When Earth and an outer planet have one heliocentric longitude, between two dates. */
export function opposition(name: string, from: string, to: string): Date {
  const apart = (day: number): number =>
    Math.sin(planet("earth").position(day)._ra - planet(name).position(day)._ra);
  return toDate(findRoot(apart, jde(from), jde(to), 1e-6));
}

export const fullMoon = (year: number): Date => toDate(moonphase.full(year));
export const decemberSolstice = (year: number): Date =>
  toDate(solstice.december2(year, planet("earth")));
export const newMoon = (year: number): Date => toDate(moonphase.newMoon(year));

/** Apparent place seen from the middle of the Earth, equator of date: hours and degrees. */
export function placeOf(name: string, day: number): { raHours: number; declination: number } {
  const { ra, dec } = elliptic.position(planet(name), planet("earth"), day);
  const turns = ra / (2 * Math.PI);
  return { raHours: 24 * (turns - Math.floor(turns)), declination: (dec * 180) / Math.PI };
}

/** The Moon's ecliptic longitude and latitude of date, degrees, and distance, km. */
export function moonAt(day: number): { longitude: number; latitude: number; km: number } {
  const { _ra: lon, _dec: lat, range } = moonposition.position(day);
  const turns = lon / (2 * Math.PI);
  return {
    longitude: 360 * (turns - Math.floor(turns)),
    latitude: (lat * 180) / Math.PI,
    km: range,
  };
}

/** Jupiter's moons by theory E5: toward west and north along the planet's own equator, in its radii; z toward us below 0. */
export function moonsAt(day: number): readonly { x: number; y: number; z: number }[] {
  return jupitermoons.e5(day, planet("earth"), planet("jupiter"));
}

/** How far Saturn's rings are open as seen from the Earth, degrees, + where their north face is seen (Meeus, chapter on the ring). */
export function ringsOpen(day: number): number {
  const [open] = saturnring.ring(day, planet("earth"), planet("saturn")) as readonly number[];
  return ((open ?? NaN) * 180) / Math.PI;
}

/** The planets' theory asked for a place where the Sun itself stands, so that all is as seen from the Sun. */
const AT_SUN = { position: () => ({ lon: 0, lat: 0, range: 0 }) };

/**
 * How far a moon of Jupiter is from the edge of the planet's shadow, in the planet's radii, when the Earth sees it at a moment:
 * theory E5 as seen from the Sun, the planet's flattening stretched away (Meeus 1998, chapter 44).
 */
export function fromShadowEdge(moon: number, day: number): number {
  const left = day - distanceAu("jupiter", day) * 0.0057755183;
  const sunward = planet("jupiter").position(left).range * 0.0057755183;
  const { x, y } = jupitermoons.e5(left + sunward, AT_SUN, planet("jupiter"))[moon];
  return Math.hypot(x, 1.071374 * y) - 1;
}

/** The place on the Moon over which the Sun stands, degrees: longitude toward the Sea of Crises, and latitude. */
export function sunOnMoon(day: number): { longitude: number; latitude: number } {
  const [, , sun] = moon.physical(day, planet("earth"));
  return { longitude: (sun.lon * 180) / Math.PI, latitude: (sun.lat * 180) / Math.PI };
}
