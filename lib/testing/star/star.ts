/** The check at the eyepiece: what a star should look like a little inside and outside focus, for the glass as measured. */
import { atBestFocus, radialGrid } from "../../optics/quality.ts";
import { type StarProfile, starProfile } from "../../optics/starImage.ts";

/** One star, a little out of focus. */
export interface StarView extends StarProfile {
  /** waves of defocus at the edge: + with the eyepiece outside (farther from the mirror), - inside */
  readonly defocusWaves: number;
}

/** A star's disc on both sides of focus, and in it. */
export interface StarTest {
  /** eyepiece pushed in, toward the mirror */
  readonly inside: StarView;
  /** at best focus */
  readonly focus: StarView;
  /** eyepiece drawn out */
  readonly outside: StarView;
  /** travel of the eyepiece for one wave of defocus, 8 wavelength N^2, mm */
  readonly travelPerWave: number;
  /** how unlike the two sides are, 0 for a perfect mirror: RMS difference of brightness over its RMS, by area */
  readonly unlike: number;
}

/** A mirror and how its star is looked at. */
export interface StarSetting {
  /** glass height, nm, at distance r from the axis, mm, such as the zone test's profile gives */
  readonly surface: (r: number) => number;
  /** half the clear aperture, mm */
  readonly half: number;
  /** mm */
  readonly focalLength: number;
  /** width of the obstruction over the aperture; default 0 */
  readonly obstruction?: number;
  /** waves of defocus on each side; default 5 */
  readonly defocusWaves?: number;
  /** nm; default 550 */
  readonly wavelength?: number;
}

/**
 * Star images at focus and equally far on both sides of it, at the best focus of the measured glass.
 *
 * A perfect mirror gives the same rings on both sides. With spherical aberration the rings are crisp on one side and
 * soft on the other, which needs no knife, no mask and no arithmetic to see.
 *
 * @param setting  glass, aperture, focal length
 * @throws {RangeError} where lengths are not above 0 or the obstruction is not from 0 to below 1
 * @see Malacara, Optical Shop Testing, star tests (beside tests/testing/star/starBench.py)
 * @example a perfect mirror looks alike inside and outside
 * ```ts
 * import assert from "node:assert/strict";
 * const test = starTest({ surface: () => 0, half: 75, focalLength: 1200 });
 * assert.ok(test.unlike < 1e-9);
 * assert.equal(test.travelPerWave.toFixed(4), "0.2816");
 * ```
 */
export function starTest(setting: StarSetting): StarTest {
  const { half, focalLength, obstruction = 0, defocusWaves = 5, wavelength = 550 } = setting;
  if (!(half > 0 && focalLength > 0 && defocusWaves > 0 && wavelength > 0)) {
    throw new RangeError(
      `starTest requires half, focalLength, defocusWaves and wavelength above 0, ` +
        `got ${half}, ${focalLength}, ${defocusWaves}, ${wavelength}`,
    );
  }
  const grid = radialGrid(60, obstruction);
  const waves = grid.q.map((q) => (2 * setting.surface(half * Math.sqrt(q))) / wavelength);
  const best = atBestFocus(grid, waves).waves;
  const extent = Math.max(4, 2.6 * defocusWaves * 2);
  const view = (defocus: number): StarView => ({
    defocusWaves: defocus,
    // moving the eyepiece away leaves light that is ahead at the edge: an advance growing with q
    ...starProfile(
      grid,
      best.map((w, i) => w + defocus * (grid.q[i] ?? 0)),
      defocus === 0 ? 4 : extent,
      160,
    ),
  });
  const inside = view(-defocusWaves),
    outside = view(defocusWaves),
    ratio = focalLength / (2 * half);
  return {
    inside,
    focus: view(0),
    outside,
    travelPerWave: 8 * wavelength * 1e-6 * ratio * ratio,
    unlike: difference(inside, outside),
  };
}

function difference(a: StarProfile, b: StarProfile): number {
  let apart = 0, whole = 0;
  a.distances.forEach((v, i) => {
    const x = a.brightness[i] ?? 0, y = b.brightness[i] ?? 0;
    apart += v * (x - y) ** 2;
    whole += (v * (x * x + y * y)) / 2;
  });
  return Math.sqrt(apart / whole);
}

/**
 * A surface function from a profile table, straight between its rows; constant beyond its ends.
 *
 * @param profile  radius, mm, rising, and surface error, nm
 * @throws {RangeError} where there are fewer than two rows
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const glass = surfaceFromProfile([{ radius: 0, surfaceError: 10 }, { radius: 50, surfaceError: 0 }]);
 * assert.equal(glass(25), 5);
 * ```
 */
export function surfaceFromProfile(
  profile: readonly { readonly radius: number; readonly surfaceError: number }[],
): (r: number) => number {
  if (profile.length < 2) {
    throw new RangeError(`surfaceFromProfile requires two rows or more, got ${profile.length}`);
  }
  return (r) => {
    const next = profile.findIndex((row) => row.radius >= r);
    const b = profile[next], a = profile[next - 1];
    if (b === undefined) return profile.at(-1)?.surfaceError ?? 0;
    if (a === undefined) return b.surfaceError;
    return a.surfaceError +
      ((b.surfaceError - a.surfaceError) * (r - a.radius)) / (b.radius - a.radius);
  };
}
