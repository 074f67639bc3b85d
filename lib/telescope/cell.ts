/** The cell: where to carry the glass, and how much it sags between the points. */
import { capVolume, sagitta } from "../optics/sphere.ts";
import { plateOnPoints, type PointRing, type Sag } from "./plate.ts";
import { given, requireAbove0 } from "./ranges.ts";

/** A disc and its glass; lengths mm. */
export interface Disc {
  /** diameter, mm */
  readonly aperture: number;
  /** mm */
  readonly thickness: number;
  /** Young's modulus, GPa */
  readonly youngGPa: number;
  /** Poisson's ratio, 0 to 0.5 */
  readonly poisson: number;
  /** kg/m³ */
  readonly densityKgPerM3: number;
}

/** How many points a cell carries the mirror on. */
export type Points = 3 | 6 | 9 | 18;

const deg = (angle: number): number => (angle * Math.PI) / 180;

/**
 * Where the points stand, in units of the disc's radius; every point carries the same force.
 *
 * Three points need no lever; nine and eighteen stand on rocking bars and triangles, each on a pivot in the middle of its
 * points' forces.
 *
 * @see published optima 0.645 and 0.683 (Nelson, Lubliner and Mast 1982, read second-hand); nine and eighteen by least
 *   sag, own computation
 */
export const SUPPORTS: Readonly<Record<Points, readonly PointRing[]>> = {
  3: [{ points: 3, radius: 0.645 }],
  6: [{ points: 6, radius: 0.681 }],
  9: [
    { points: 3, radius: 0.377 },
    { points: 3, radius: 0.817, turn: deg(31.4) },
    { points: 3, radius: 0.817, turn: -deg(31.4) },
  ],
  18: [
    { points: 6, radius: 0.361 },
    { points: 6, radius: 0.823, turn: deg(15.1) },
    { points: 6, radius: 0.823, turn: -deg(15.1) },
  ],
};

/** Three points for a mirror that is refocused anyway: focus taken away, this radius sags least. */
export const REFOCUSED_RADIUS = 0.4014;

/** Sag of the glass, nm; the wavefront's is twice as much. */
export interface SupportSag {
  /** radii of the rings of points, mm */
  readonly radii: readonly number[];
  /** RMS of a thin plate about its mean */
  readonly rms: number;
  /** the same with focus taken away */
  readonly rmsRefocused: number;
  /** RMS with shear, which thick discs have */
  readonly rmsThick: number;
  /** the same with focus taken away */
  readonly rmsThickRefocused: number;
  /** height of the glass at (r, angle), mm and rad, nm; of a thin plate, whose face has no peaks over the points, + where they push */
  readonly at: (r: number, angle: number) => number;
}

function requireDisc(name: string, disc: Disc): void {
  requireAbove0(name, { ...disc });
  if (disc.poisson >= 0.5 || disc.thickness > disc.aperture / 2) {
    throw new RangeError(
      `${name} requires a plate: thickness up to half the aperture, poisson below 0.5, got ${
        given({ ...disc })
      }`,
    );
  }
}

/**
 * Mass of the disc, before the hollow is ground: pi D^2 t density / 4.
 *
 * @returns g
 * @throws {RangeError} where a value is not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const glass = { youngGPa: 72, poisson: 0.22, densityKgPerM3: 2500 };
 * assert.equal(discMass({ aperture: 150, thickness: 25, ...glass }).toFixed(0), "1104");
 * ```
 */
export function discMass(disc: Disc): number {
  requireDisc("discMass", disc);
  return (Math.PI / 4) * disc.aperture ** 2 * disc.thickness * disc.densityKgPerM3 * 1e-6;
}

/**
 * Sag unit q a^4 / Dflex, nm: weight a square metre, radius, bending stiffness E t^3 / 12(1 - nu^2).
 *
 * @throws {RangeError} where a value is out of range
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const glass = { youngGPa: 72, poisson: 0.22, densityKgPerM3: 2500 };
 * assert.equal(sagUnit({ aperture: 150, thickness: 25, ...glass }).toFixed(1), "196.8");
 * ```
 */
export function sagUnit(disc: Disc): number {
  requireDisc("sagUnit", disc);
  const { aperture, thickness, youngGPa, poisson, densityKgPerM3 } = disc;
  const t = thickness / 1000, a = aperture / 2000, pressure = densityKgPerM3 * GRAVITY * t;
  const stiffness = (youngGPa * 1e9 * t ** 3) / (12 * (1 - poisson ** 2));
  return ((pressure * a ** 4) / stiffness) * 1e9;
}

/** Standard gravity, m/s^2. */
export const GRAVITY = 9.80665;

const known = new Map<string, Sag>();

/** The plate's own numbers depend on glass, points and proportions only: worked out once. */
function shapeOf(rings: readonly PointRing[], poisson: number, thickness: number): Sag {
  const key = JSON.stringify([rings, poisson, thickness]);
  const sag = known.get(key) ?? plateOnPoints(rings, { poisson, thickness });
  known.set(key, sag);
  return sag;
}

/**
 * How much a disc sags on its points, looking straight up; at altitude h the load along the axis is sin h of it.
 *
 *     rms = c q a^4 / Dflex: with the fourth power of the width, and the inverse square of the thickness
 *
 * Thick discs shear too, the more the closer the points: at a thickness of a third of the radius 1.35 times the thin
 * plate's sag on 3 points, 2.2 on 6, 2.6 on 9, 6.5 on 18. That is a plate's height; a solid body's polished face, away from
 * the points and refocused, sags less than it: by 8 % on 3 points there, 30 % on 6 and on 9. So it errs on the safe side.
 *
 * @param disc      mm, GPa, kg/m^3
 * @param support   3, 6, 9 or 18 points at their usual places, or rings of your own
 * @throws {RangeError} outside the ranges of a plate
 * @see `plateOnPoints`; beside a solid body in tests/telescope/elasticDisc.ts (own derivation)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const glass = { youngGPa: 72, poisson: 0.22, densityKgPerM3: 2500 };
 * const sag = supportSag({ aperture: 150, thickness: 25, ...glass }, 3);
 * assert.equal(sag.rms.toFixed(2), "1.22");
 * assert.equal(sag.rmsThick.toFixed(1), "1.6");
 * ```
 */
export function supportSag(disc: Disc, support: Points | readonly PointRing[]): SupportSag {
  const unit = sagUnit(disc), a = disc.aperture / 2;
  const rings = typeof support === "number" ? SUPPORTS[support] : support;
  const thin = shapeOf(rings, disc.poisson, 0);
  const thick = shapeOf(rings, disc.poisson, disc.thickness / a);
  return {
    radii: [...new Set(rings.map(({ radius }) => radius * a))],
    rms: unit * thin.rms,
    rmsRefocused: unit * thin.rmsRefocused,
    rmsThick: unit * thick.rms,
    rmsThickRefocused: unit * thick.rmsRefocused,
    at: (r, angle) => unit * thin.at(r / a, angle),
  };
}

/**
 * Height above the disc's back of its centre of gravity, where edge supports belong, half a millimetre loose.
 *
 * @param radius  of curvature of the face, mm
 * @returns mm
 * @throws {RangeError} where the hollow is deeper than the disc
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(edgeSupportHeight({ aperture: 150, thickness: 25, radius: 2400 }).toFixed(2), "12.21");
 * ```
 */
export function edgeSupportHeight(
  { aperture, thickness, radius }: {
    readonly aperture: number;
    readonly thickness: number;
    readonly radius: number;
  },
): number {
  requireAbove0("edgeSupportHeight", { aperture, thickness, radius });
  const depth = sagitta(aperture, radius), hollow = capVolume(aperture, radius);
  const whole = (Math.PI / 4) * aperture ** 2 * thickness;
  if (depth >= thickness) {
    throw new RangeError(
      `edgeSupportHeight requires a hollow shallower than the disc, got ${
        given({ depth, thickness })
      }`,
    );
  }
  return (whole * (thickness / 2) - hollow * (thickness - depth / 3)) / (whole - hollow);
}
