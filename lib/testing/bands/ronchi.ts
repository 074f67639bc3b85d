/** The Ronchi test by rays: where light from each point of the mirror meets the grating. */
import { type Conic, conicHeight, conicSlope } from "../../optics/conic.ts";

/**
 * Where the lamp stands: behind the grating's own lines and moving with it (an LED, or a wide slit), as a narrow slit
 * beside the grating on the same slide, or as a slit that stays at the centre of curvature.
 */
export type RonchiSetUp = "same grating" | "slit beside" | "fixed";

/** Glass above the conic, nm, at a point of the face, mm; x to the right and y up as seen from the grating. */
export type FaceError = (x: number, y: number) => number;

/** A mirror before a grating. */
export interface RonchiSetting {
  /** the ideal face */
  readonly surface: Conic;
  /** half the clear aperture, mm */
  readonly half: number;
  /** default none */
  readonly error?: FaceError;
  /** which way light and grating stand */
  readonly setUp: RonchiSetUp;
  /** lines of the grating in each mm */
  readonly linesPerMm: number;
  /** grating from the paraxial centre of curvature along the axis, mm, + = farther from the mirror */
  readonly offset: number;
  /** middle of a clear line from the axis, across the lines, mm; default 0 */
  readonly shift?: number;
  /** the grating's turn, rad, counter-clockwise as seen in the picture; 0 (default): lines run up and down */
  readonly turn?: number;
  /** share of the pitch that is clear, 0 to 1; default 0.5 */
  readonly clear?: number;
  /** width of the slit across the lines, mm; not for "same grating"; default 0 */
  readonly slit?: number;
  /** nm; default 550 */
  readonly wavelength?: number;
}

/** How many times the grating's travel counts: 2 where the lamp moves along, 1 where it stays. */
export function travelFactor(setUp: RonchiSetUp): 1 | 2 {
  return setUp === "fixed" ? 1 : 2;
}

/**
 * Where a ray that left the axis and met the mirror at (x, y) comes to the grating, across its lines.
 *
 *     near:  X = (x/R)(-K r^2/R - 2d) - 2R dh/dx        the lamp moves with the grating (d alone where it stays)
 *
 * Here by exact reflection in space. To take one set-up for the other halves or doubles d: the commonest slip of this test.
 *
 * @param x  point of the face, mm
 * @param y  mm
 * @param setting  mirror and grating
 * @returns distance from the axis across the lines, mm; `along` is the other direction
 * @throws {RangeError} where the point lies outside the conic
 * @see law of reflection; the form above by two terms of its series (Malacara, Optical Shop Testing; reckoned anew in tests/testing/secondRoute.py)
 * @example 5 mm inside the centre of a sphere
 * ```ts
 * import assert from "node:assert/strict";
 * const mirror = { surface: { radius: 2400, conic: 0 }, half: 75, linesPerMm: 4, offset: -5 };
 * const moves = rayAtGrating(75, 0, { ...mirror, setUp: "same grating" });
 * const stays = rayAtGrating(75, 0, { ...mirror, setUp: "fixed" });
 * assert.equal(moves.across.toFixed(6), "0.312652");
 * assert.equal(stays.across.toFixed(6), "0.156326");
 * ```
 */
export function rayAtGrating(
  x: number,
  y: number,
  setting: RonchiSetting,
): { readonly across: number; readonly along: number } {
  const { surface, error, offset, setUp, turn = 0 } = setting;
  const plane = surface.radius + offset, lamp = setUp === "fixed" ? surface.radius : plane;
  const r = Math.sqrt(x * x + y * y), lean = r === 0 ? 0 : conicSlope(r, surface) / r;
  const bump = error === undefined ? NO_BUMP : bumpAt(error, x, y, 1e-4 * setting.half);
  const z = conicHeight(r, surface) + bump.height;
  // normal toward the lamp (-dz/dx, -dz/dy, 1), light (x, y, z - lamp) before the glass
  const nx = -lean * x - bump.dx, ny = -lean * y - bump.dy;
  const twice = (2 * (x * nx + y * ny + z - lamp)) / (nx * nx + ny * ny + 1);
  const reach = (plane - z) / (z - lamp - twice);
  const atX = x + reach * (x - twice * nx), atY = y + reach * (y - twice * ny);
  const c = Math.cos(turn), s = Math.sin(turn);
  return { across: c * atX + s * atY, along: c * atY - s * atX };
}

const NO_BUMP = { height: 0, dx: 0, dy: 0 };

/** Height and slopes of the departure, mm and mm/mm. */
function bumpAt(error: FaceError, x: number, y: number, step: number): typeof NO_BUMP {
  const over = 1e-6 / (2 * step);
  return {
    height: error(x, y) * 1e-6,
    dx: (error(x + step, y) - error(x - step, y)) * over,
    dy: (error(x, y + step) - error(x, y - step)) * over,
  };
}

/**
 * Refuses a setting no bench can have.
 *
 * @param name  of the function that asks
 */
export function requireRonchi(name: string, setting: RonchiSetting): void {
  const { half, linesPerMm, offset, surface, clear = 0.5, slit = 0, wavelength = 550 } = setting;
  const { shift = 0, turn = 0 } = setting;
  const sound = half > 0 && linesPerMm > 0 && clear > 0 && clear < 1 && slit >= 0 &&
    wavelength > 0 && surface.radius > 2 * half && surface.radius + offset > surface.radius / 2 &&
    [half, linesPerMm, offset, slit, wavelength, shift, turn, surface.conic].every(Number.isFinite);
  if (sound) return;
  throw new RangeError(
    `${name} requires half, linesPerMm and wavelength above 0, 0 < clear < 1, slit of 0 or more, radius above 2 x half ` +
      `and an offset of less than half the radius, lengths in mm, got half=${half}, linesPerMm=${linesPerMm}, ` +
      `wavelength=${wavelength}, clear=${clear}, slit=${slit}, radius=${surface.radius}, offset=${offset}`,
  );
}

/**
 * Distance from one bright band to the next on a sphere: R / (2 |d| p) where the lamp moves along, R / (|d| p) where not.
 *
 * @param radius  radius of curvature, mm
 * @param offset  grating from the centre of curvature, mm; not 0
 * @param linesPerMm  of the grating
 * @param setUp   where the lamp stands
 * @returns mm on the mirror
 * @throws {RangeError} where the radius or the lines are not above 0, or the offset is 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(bandSpacing(2396, -5, 4, "same grating").toFixed(1), "59.9");
 * assert.equal(bandSpacing(2396, -5, 4, "fixed").toFixed(1), "119.8");
 * ```
 */
export function bandSpacing(
  radius: number,
  offset: number,
  linesPerMm: number,
  setUp: RonchiSetUp,
): number {
  if (!(radius > 0 && linesPerMm > 0 && Math.abs(offset) > 0 && Number.isFinite(offset))) {
    throw new RangeError(
      `bandSpacing requires radius and linesPerMm above 0 and an offset that is not 0 mm, got radius=${radius}, ` +
        `linesPerMm=${linesPerMm}, offset=${offset}`,
    );
  }
  return radius / (travelFactor(setUp) * Math.abs(offset) * linesPerMm);
}
