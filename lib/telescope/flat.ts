/** The flat that turns the cone of light to the side: how large, and how far off centre. */
import { CannotTell } from "../numeric/cannotTell.ts";
import { findRoot } from "../numeric/rootFinding.ts";
import { given, requireAbove0 } from "./ranges.ts";

/** A main mirror by its two lengths, mm. */
export interface MainMirror {
  /** clear width, mm */
  readonly aperture: number;
  /** mm */
  readonly focalLength: number;
}

/** The flat that a cone of light asks for; lengths mm. */
export interface FlatWanted {
  /** least minor axis of an ellipse cut at 45 degrees, root 2 long to 1 wide */
  readonly minorAxis: number;
  /** width and length of the cone's own cut by the flat: a little slimmer than root 2 to 1 */
  readonly sectionMinor: number;
  /** length of the same cut */
  readonly sectionMajor: number;
  /** shift of the flat's centre away from the focuser, and the same toward the main mirror */
  readonly offset: number;
  /** the same shift measured along the flat's face, root 2 times as much */
  readonly offsetAlongFace: number;
  /** the thin-cone rule, i + L (D - i) / f, for comparison */
  readonly simpleMinorAxis: number;
}

/** The cone's half-opening (tangent) and its half-width at the flat. */
function cone({ aperture, focalLength }: MainMirror, flatToFocus: number, lit: number): {
  slope: number;
  half: number;
} {
  const edgeDepth = aperture ** 2 / (16 * focalLength);
  const slope = (aperture - lit) / (2 * (focalLength - edgeDepth));
  return { slope, half: lit / 2 + slope * flatToFocus };
}

function requirePlace(name: string, mirror: MainMirror, flatToFocus: number): void {
  requireAbove0(name, { ...mirror, flatToFocus });
  if (flatToFocus >= mirror.focalLength) {
    throw new RangeError(
      `${name} requires a flat between mirror and focus, flatToFocus < focalLength in mm, got ${
        given({ flatToFocus, focalLength: mirror.focalLength })
      }`,
    );
  }
}

function sectionOf(mirror: MainMirror, flatToFocus: number, lit: number): FlatWanted {
  const { slope: k, half } = cone(mirror, flatToFocus, lit), squeeze = 1 - k * k;
  const offset = (half * k) / squeeze;
  return {
    minorAxis: (2 * half) / squeeze,
    sectionMinor: (2 * half) / Math.sqrt(squeeze),
    sectionMajor: (2 * Math.SQRT2 * half) / squeeze,
    offset,
    offsetAlongFace: Math.SQRT2 * offset,
    simpleMinorAxis: lit + (flatToFocus * (mirror.aperture - lit)) / mirror.focalLength,
  };
}

/**
 * The flat that passes all the light of a field of a given width.
 *
 * The cone runs from the mirror's rim to the edge of the fully lit disc at the focus; a plane at 45 degrees cuts it.
 *
 *     k = (D - i) / 2(f - D^2/16f),  r = i/2 + kL,  minor axis 2r / (1 - k^2),  offset rk / (1 - k^2)
 *
 * Every point of that disc then sees the whole mirror in the flat, exactly. A star's own rays, spread by coma, reach up to
 * 3h/16N^2 farther (h the star's height): a quarter of a per cent of the flat at f/4.5.
 *
 * @param mirror       aperture D and focal length f, mm
 * @param flatToFocus  L, along the bent axis, mm; above 0, below f
 * @param fullyLit     width i of the field that is to lose nothing, mm; 0 up to the aperture
 * @returns sizes in mm; `offset` is away from the focuser AND toward the main mirror, each
 * @throws {RangeError} outside those ranges
 * @see own derivation, a plane through a circular cone; traced ray by ray in the tests
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const flat = flatFor({ aperture: 150, focalLength: 1200 }, 200, 8);
 * assert.equal(flat.minorAxis.toFixed(2), "31.80");
 * assert.equal(flat.offset.toFixed(3), "0.942");
 * ```
 */
export function flatFor(mirror: MainMirror, flatToFocus: number, fullyLit: number): FlatWanted {
  requirePlace("flatFor", mirror, flatToFocus);
  if (!(fullyLit >= 0 && fullyLit < mirror.aperture)) {
    throw new RangeError(
      `flatFor requires a fully lit field of 0 or more, below the aperture, in mm, got ${
        given({ fullyLit, aperture: mirror.aperture })
      }; below 0 would mean that no point of the field gets all the light`,
    );
  }
  return sectionOf(mirror, flatToFocus, fullyLit);
}

/** What a flat of a given size does; lengths mm. */
export interface FlatHad {
  /** width of the field that loses nothing; below 0, nothing does: the cone on the axis is already cut */
  readonly fullyLit: number;
  /** the thin-cone rule beside it, (a - LD/f) / (1 - L/f) */
  readonly simpleFullyLit: number;
  /** share of the light that reaches the middle of the field, 0 to 1; 1 while `fullyLit` is 0 or more */
  readonly onAxis: number;
  /** shift of the flat's centre away from the focuser */
  readonly offset: number;
  /** the same shift along the flat's face, root 2 times as much */
  readonly offsetAlongFace: number;
}

/**
 * What a flat that is to be had does: its fully lit field and its offset.
 *
 * @param mirror       mm
 * @param flatToFocus  mm; above 0, below the focal length
 * @param minorAxis    the flat's smaller width a, mm; above 0, below the aperture
 * @throws {RangeError} outside those ranges; {CannotTell} for a flat that no field goes with
 * @example a negative field means that even the middle is dimmed
 * ```ts
 * import assert from "node:assert/strict";
 * const mirror = { aperture: 150, focalLength: 1200 };
 * assert.equal(flatHad(mirror, 200, 35).fullyLit.toFixed(2), "11.83");
 * assert.equal(flatHad(mirror, 200, 20).onAxis.toFixed(4), "0.6341");
 * ```
 */
export function flatHad(mirror: MainMirror, flatToFocus: number, minorAxis: number): FlatHad {
  requirePlace("flatHad", mirror, flatToFocus);
  requireAbove0("flatHad", { minorAxis });
  const { aperture, focalLength } = mirror;
  if (minorAxis >= aperture) {
    throw new RangeError(
      `flatHad requires a flat below the aperture in mm, got ${given({ minorAxis, aperture })}`,
    );
  }
  const excess = (lit: number): number => sectionOf(mirror, flatToFocus, lit).minorAxis - minorAxis;
  const least = -aperture * Math.max(1, flatToFocus / (focalLength - flatToFocus));
  if (excess(least) > 0 || excess(aperture * 0.999999) < 0) {
    throw new CannotTell(
      `a flat of ${Number(minorAxis.toPrecision(4))} mm is ${
        excess(least) > 0 ? "far too small" : "too large"
      } for this mirror, ${Number(flatToFocus.toPrecision(4))} mm from its focus`,
    );
  }
  const found = findRoot(excess, least, aperture * 0.999999);
  const fullyLit = Math.abs(found) < 1e-6 ? 0 : found; // the axial cone itself is no dimming
  const { offset, offsetAlongFace } = sectionOf(mirror, flatToFocus, Math.max(0, fullyLit));
  return {
    fullyLit,
    simpleFullyLit: (minorAxis - (flatToFocus * aperture) / focalLength) /
      (1 - flatToFocus / focalLength),
    onAxis: fullyLit >= 0 ? 1 : lightOnAxis({ aperture, focalLength, flatToFocus, minorAxis }),
    offset,
    offsetAlongFace,
  };
}

/** A flat in its place; lengths mm. */
export interface PlacedFlat extends MainMirror {
  /** from the flat's centre to the focal plane, mm */
  readonly flatToFocus: number;
  /** width of the flat as the focuser sees it, mm */
  readonly minorAxis: number;
}

/**
 * Share of a star's light in the middle of the field that the flat sends on: exact rays, the flat where `flatFor` puts it.
 *
 * The ray that goes to the flat's edge leaves the focus with a slope u from the axis, toward the rim's place phi,
 *
 *     u^2 ((L + o)^2 c^2 + L^2 s^2 - b^2 c^2) + 2 u c (o (L + o) - b^2) + o^2 - b^2 = 0,  c = cos phi, s = sin phi,
 *
 * (o the offset, b half the minor axis) and left the mirror at 2 f tan(atan(u) / 2) from its middle.
 *
 * @param flat  mm; 0 < flatToFocus < focalLength
 * @returns 0 to 1, good to 1e-6; the flat's own shadow is not taken off
 * @throws {RangeError} outside that range
 * @example a flat as wide as the thin cone, f/5: two per cent of the light miss it
 * ```ts
 * import assert from "node:assert/strict";
 * const flat = { aperture: 200, focalLength: 1000, flatToFocus: 200, minorAxis: 40 };
 * assert.equal(lightOnAxis(flat).toFixed(3), "0.980");
 * ```
 */
export function lightOnAxis(flat: PlacedFlat): number {
  const { aperture, focalLength: f, flatToFocus: L, minorAxis } = flat;
  requirePlace("lightOnAxis", { aperture, focalLength: f }, L);
  requireAbove0("lightOnAxis", { minorAxis });
  const wanted = sectionOf({ aperture, focalLength: f }, L, 0),
    o = wanted.offset,
    b = minorAxis / 2;
  if (wanted.minorAxis <= minorAxis) return 1;
  const within = (u: number): number =>
    Math.min(1, (4 * f * Math.tan(Math.atan(Math.max(0, u)) / 2)) / aperture) ** 2;
  const places = 720, product = o * (L + o) - b * b;
  let sum = 0;
  for (let i = 0; i < places; i++) {
    const c = Math.cos((2 * Math.PI * (i + 0.5)) / places), s2 = 1 - c * c;
    const A = (L + o) ** 2 * c * c + L * L * s2 - b * b * c * c, half = c * product;
    const root = Math.sqrt(Math.max(0, half * half - A * (o * o - b * b)));
    sum += within((root - half) / A) - within((-root - half) / A);
  }
  return sum / places;
}

/** Width of the patch of the flat that one star lights, D L / f, mm. */
export function starPatch({ aperture, focalLength }: MainMirror, flatToFocus: number): number {
  requirePlace("starPatch", { aperture, focalLength }, flatToFocus);
  return (aperture * flatToFocus) / focalLength;
}
