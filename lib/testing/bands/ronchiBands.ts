/** Bright bands of the Ronchi test by rays: where they lie, how far apart, how many. */
import {
  rayAtGrating,
  requireRonchi,
  type RonchiSetting,
  type RonchiSetUp,
  travelFactor,
} from "./ronchi.ts";

/** A bright band where it crosses a line over the mirror. */
export interface BandCrossing {
  /** how many pitches its light lies from the axis */
  readonly order: number;
  /** distance from the middle of the mirror across the grating's lines, mm */
  readonly across: number;
}

/**
 * Middles of the bright bands by rays, along a chord of the mirror across the grating's lines.
 *
 * Light is brightest where X = n/p + g, g the middle of a clear line; where the lamp lies behind the same grating the
 * lamp's lines have moved too, and it is X = n/p + 2g. On a picture the eye's middle of a band can lie millimetres off,
 * because X is not symmetric about it and light bends: fit a picture whole (`fitPhoto`), do not measure its bands.
 *
 * @param setting  mirror and grating
 * @param along    the chord's distance from the middle, along the lines, mm
 * @returns from left to right; the same order may come twice where bands close
 * @throws {RangeError} where the setting is impossible or the chord misses the mirror
 * @example a sphere, 5 mm inside, an LED behind 4 lines in each mm
 * ```ts
 * import assert from "node:assert/strict";
 * const bands = brightBands({
 *   surface: { radius: 2400, conic: 0 }, half: 75, setUp: "same grating", linesPerMm: 4, offset: -5,
 * });
 * assert.deepEqual(bands.map(({ across }) => across.toFixed(1)), ["-60.0", "0.0", "60.0"]);
 * ```
 */
export function brightBands(setting: RonchiSetting, along = 0): readonly BandCrossing[] {
  requireRonchi("brightBands", setting);
  const { half, turn = 0, shift = 0, linesPerMm, setUp } = setting;
  if (!(Math.abs(along) < half)) {
    throw new RangeError(`brightBands requires a chord inside ${half} mm, got along=${along}`);
  }
  const c = Math.cos(turn), s = Math.sin(turn), chord = Math.sqrt(half * half - along * along);
  const middle = setUp === "same grating" ? 2 * shift : shift;
  const orderAt = (u: number): number =>
    (rayAtGrating(c * u - s * along, s * u + c * along, setting).across - middle) * linesPerMm;
  const found: BandCrossing[] = [], steps = 2000;
  let u = -chord, here = orderAt(u);
  for (let i = 1; i <= steps; i++) {
    const next = chord * ((2 * i) / steps - 1), there = orderAt(next);
    const low = Math.min(here, there), high = Math.max(here, there);
    for (let n = Math.ceil(low); n <= high; n++) {
      if (n > low || low === high || i === 1) {
        found.push({ order: n + 0, across: crossing(orderAt, n, u, next) });
      }
    }
    [u, here] = [next, there];
  }
  return found;
}

/** Where `f` has the value n between a and b, by halving. */
function crossing(f: (u: number) => number, n: number, a: number, b: number): number {
  const rising = f(b) > f(a);
  for (let i = 0; i < 60; i++) {
    const middle = (a + b) / 2;
    if ((f(middle) < n) === rising) a = middle;
    else b = middle;
  }
  return Math.abs(a + b) < 1e-9 ? 0 : (a + b) / 2;
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
