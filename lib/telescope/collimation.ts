/** Collimation: which screw, which way, how far. */
import type { MainMirror } from "./flat.ts";
import { requireAbove0, requireNot0Less } from "./ranges.ts";

/**
 * Three screws that carry the mirror's cell; lengths mm, angles rad.
 *
 * Frame, seen from the sky looking down at the mirror: x toward the focuser, y a quarter turn counter-clockwise from it,
 * angles counter-clockwise from x. A turn is + when it raises that point toward the sky.
 */
export interface Screws {
  /** rise for one turn */
  readonly pitch: number;
  /** of the circle the three stand on */
  readonly radius: number;
  /** where each screw stands, rad from x toward y */
  readonly angles: readonly number[];
}

/** Slopes of a plane: rise toward x and toward y, mm a mm. */
export interface Tilt {
  /** rise for each mm toward x */
  readonly x: number;
  /** rise for each mm toward y */
  readonly y: number;
}

function requireScrews(name: string, { pitch, radius, angles }: Screws): void {
  requireAbove0(name, { pitch, radius });
  const [a = 0, b = 0, c = 0] = angles;
  const area = Math.sin(b - a) + Math.sin(c - b) + Math.sin(a - c);
  if (angles.length !== 3 || !(Math.abs(area) > 1e-6)) {
    throw new RangeError(
      `${name} requires three screws at three different angles: two cannot point a mirror; got ${angles.length} at ${
        angles.join(", ")
      } rad`,
    );
  }
}

/**
 * Tilt of the mirror after the three screws have been turned.
 *
 * Evenly spaced, one screw tilts by pitch / 1.5 radius: the mirror turns about the line through the other two.
 *
 * @param turns  of each screw, + raises its point
 * @throws {RangeError} unless there are three screws at different angles, and as many turns
 * @see the plane through three points
 * @example one turn of one screw: 38.2 arcminutes
 * ```ts
 * import assert from "node:assert/strict";
 * const screws = { pitch: 1, radius: 60, angles: [90, 210, 330].map((a) => (a * Math.PI) / 180) };
 * assert.equal((tiltAfter(screws, [1, 0, 0]).y * 180 * 60 / Math.PI).toFixed(1), "38.2");
 * ```
 */
export function tiltAfter(screws: Screws, turns: readonly number[]): Tilt {
  requireScrews("tiltAfter", screws);
  if (turns.length !== 3 || !turns.every(Number.isFinite)) {
    throw new RangeError(`tiltAfter requires three turns, got ${turns.join(", ")}`);
  }
  const { pitch, radius, angles } = screws;
  const [p, q, r] = [0, 1, 2].map((i) => ({
    x: radius * Math.cos(angles[i] ?? 0),
    y: radius * Math.sin(angles[i] ?? 0),
    z: pitch * (turns[i] ?? 0),
  })) as [Raised, Raised, Raised];
  const ux = q.x - p.x, uy = q.y - p.y, uz = q.z - p.z;
  const vx = r.x - p.x, vy = r.y - p.y, vz = r.z - p.z;
  const normal = ux * vy - uy * vx;
  return { x: (uz * vy - uy * vz) / normal, y: (ux * vz - uz * vx) / normal };
}

interface Raised {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/**
 * Where a star's image goes when the mirror tilts: away from the raised side, by twice the tilt.
 *
 * Places are those of the unfolded focal plane. Through an eyepiece directions are mirrored or turned: try an eighth of a
 * turn and watch.
 *
 * @param focalLength  mm; above 0
 * @returns mm toward x and y, exact for a star on the axis: f tan(2 tilt)
 * @throws {RangeError} where the focal length is not above 0
 * @example one turn at a focal length of 1200 mm
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(imageShift(1200, { x: 1 / 90, y: 0 }).x.toFixed(2), "-26.67");
 * ```
 */
export function imageShift(focalLength: number, tilt: Tilt): Tilt {
  requireAbove0("imageShift", { focalLength });
  const scale = (-2 * focalLength) / (1 - tilt.x ** 2 - tilt.y ** 2);
  return { x: scale * tilt.x + 0, y: scale * tilt.y + 0 };
}

/**
 * Turns that bring a star's image to the middle.
 *
 * @param focalLength  mm; above 0
 * @param screws       three
 * @param imageAt      where the image is now, mm toward x and y
 * @param keep         screw to leave alone, 0 to 2; default none: the three turns add up to 0
 * @returns turns of each screw, + raises its point
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const screws = { pitch: 1, radius: 60, angles: [90, 210, 330].map((a) => (a * Math.PI) / 180) };
 * const turns = screwTurns(1200, screws, [3, -2]);
 * assert.deepEqual(turns.map((turn) => turn.toFixed(3)), ["-0.050", "-0.040", "0.090"]);
 * ```
 */
export function screwTurns(
  focalLength: number,
  screws: Screws,
  imageAt: readonly [number, number],
  keep?: 0 | 1 | 2,
): readonly number[] {
  requireScrews("screwTurns", screws);
  requireAbove0("screwTurns", { focalLength });
  const [x, y] = imageAt;
  if (!(Number.isFinite(x) && Number.isFinite(y))) {
    throw new RangeError(`screwTurns requires a place of the image in mm, got ${x}, ${y}`);
  }
  const slopes = { x: x / (2 * focalLength), y: y / (2 * focalLength) };
  const turns = screws.angles.map((angle) =>
    (screws.radius * (slopes.x * Math.cos(angle) + slopes.y * Math.sin(angle))) / screws.pitch
  );
  const zero = keep === undefined
    ? turns.reduce((sum, turn) => sum + turn, 0) / 3
    : turns[keep] ?? 0;
  return turns.map((turn) => turn - zero);
}

/** How far the image of a star moves for one turn of each screw, mm. */
export function shiftPerTurn(focalLength: number, screws: Screws): readonly number[] {
  return [0, 1, 2].map((i) => {
    const { x, y } = imageShift(
      focalLength,
      tiltAfter(screws, [0, 1, 2].map((j) => (i === j ? 1 : 0))),
    );
    return Math.hypot(x, y);
  });
}

/** How good is good enough. */
export interface CollimationTolerance {
  /** how far from the middle of the field the mirror's axis may pass, mm */
  readonly axis: number;
  /** tilt of the main mirror that comes to the same, rad: the axis moves by f x tilt, a star by twice that */
  readonly tilt: number;
}

/**
 * How far the alignment may be off before coma takes 1/14 wave RMS in the middle of the field.
 *
 * @param mirror      mm
 * @param wavelength  nm; default 550
 * @throws {RangeError} where a value is not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const { tilt } = collimationTolerance({ aperture: 150, focalLength: 1200 });
 * assert.equal((tilt * 180 * 60 / Math.PI).toFixed(1), "15.6");
 * ```
 */
export function collimationTolerance(mirror: MainMirror, wavelength = 550): CollimationTolerance {
  requireAbove0("collimationTolerance", { ...mirror });
  const axis = comaFreeRadius(mirror.focalLength / mirror.aperture, wavelength);
  return { axis, tilt: axis / mirror.focalLength };
}

/** One step of the work, in the order it must be done. */
export interface CollimationStep {
  /** what is done */
  readonly name: string;
  /** what is seen when it is done */
  readonly until: string;
  /** what is turned for it */
  readonly turn: string;
}

/** The order of the work: the main mirror last, the star to judge it. */
export const COLLIMATION_STEPS: readonly CollimationStep[] = [
  {
    name: "flat under the focuser",
    until: "the flat looks round, in the middle of the drawtube",
    turn: "the spider, and the flat's stem",
  },
  {
    name: "flat's tilt",
    until: "the mark on the main mirror stands under the cross of the cap",
    turn: "the small screws of the flat",
  },
  {
    name: "main mirror's tilt",
    until: "the hole of the cap, seen twice, stands on the mark",
    turn: "the three screws of the cell",
  },
  {
    name: "star",
    until: "the rings are round on both sides of the focus",
    turn: "the three screws, an eighth of a turn at a time",
  },
];

// Coma: what a paraboloid does to a star away from its axis, and how much misalignment that allows.

/** Coma of one star; lengths in the focal plane mm. */
export interface Coma {
  /** length of the flare, 3h / 16N^2 */
  readonly tangential: number;
  /** a third of it: the width of the flare's end */
  readonly sagittal: number;
  /** peak coefficient W131 of the wavefront, nm: h / 32N^3 */
  readonly wavefrontPeak: number;
  /** RMS of the wavefront about its best tilt, nm: W131 / root 72 */
  readonly wavefrontRms: number;
}

const ROOT_72 = Math.sqrt(72), NM = 1e6;

/**
 * Coma of a paraboloid for a star off its axis, third order.
 *
 * @param mirror  mm
 * @param height  of the star's image from the mirror's axis, mm; 0 or more
 * @throws {RangeError} outside those ranges
 * @see Schroeder, Astronomical Optics (reckoned anew in tests/telescope/secondRoute.py); traced ray by ray in the tests, within 0.6 %
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const coma = comaOf({ aperture: 200, focalLength: 1000 }, 1);
 * assert.equal((1000 * coma.tangential).toFixed(1), "7.5"); // um
 * assert.equal(coma.wavefrontPeak.toFixed(0), "250"); // nm
 * ```
 */
export function comaOf(mirror: MainMirror, height: number): Coma {
  requireAbove0("comaOf", { ...mirror });
  requireNot0Less("comaOf", { height });
  const ratio = mirror.focalLength / mirror.aperture;
  const wavefrontPeak = (NM * height) / (32 * ratio ** 3);
  const tangential = (3 * height) / (16 * ratio ** 2);
  return {
    tangential,
    sagittal: tangential / 3,
    wavefrontPeak,
    wavefrontRms: wavefrontPeak / ROOT_72,
  };
}

/**
 * How far from the axis coma stays within 1/14 wave RMS: the diffraction-limited radius of the field.
 *
 * It is also how far the axis may pass from the field's middle, so it is the tolerance of the alignment. It depends on
 * the focal ratio only.
 *
 * @param focalRatio  f / D; above 0
 * @param wavelength  nm; above 0, default 550
 * @returns mm: 32 root 72 N^3 wavelength / 14
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(comaFreeRadius(8).toFixed(2), "5.46");
 * ```
 */
export function comaFreeRadius(focalRatio: number, wavelength = 550): number {
  requireAbove0("comaFreeRadius", { focalRatio, wavelength });
  return (32 * ROOT_72 * focalRatio ** 3 * wavelength) / 14 / NM;
}
