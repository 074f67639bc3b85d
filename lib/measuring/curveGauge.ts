/** A gauge slid across the disc: depths at several half-chords, fitted with one curve. */
import { linearFit } from "../numeric/leastSquares.ts";
import { sagitta } from "../optics/sphere.ts";
import { type Measured, measured } from "../quantity/measured.ts";

/** A depth at a distance from the centre, mm. */
export interface ProfilePoint {
  /** half the chord, mm; above 0 */
  readonly halfChord: number;
  /** sagitta below that chord, mm */
  readonly depth: number;
}

/** A circle through depths read along a straight line. */
export interface ProfileFit {
  /** mm, u from the scatter of the points about the curve */
  readonly radius: Measured;
  /** depth the gauge showed where it should show none, mm; absent where the zero is taken as right */
  readonly zero?: Measured;
  /** scatter of one point about the curve, mm */
  readonly s: number;
  /** measured less curve, mm, in the order given */
  readonly residuals: readonly number[];
}

/** How the profile is fitted. */
export interface ProfileOptions {
  /** paraboloid s = r^2 / 2R, or the exact sphere; default sphere */
  readonly shape?: "paraboloid" | "sphere";
  /** is the gauge's zero trusted, or fitted along with the radius; default trusted */
  readonly zero?: "trusted" | "fitted";
}

/**
 * One radius from depths at several chords.
 *
 *     paraboloid  s = c + r^2 / 2R          sphere  s = c + R - sqrt(R^2 - r^2)
 *
 * The paraboloid is linear in 1/R; the sphere is fitted by repeating that on what the paraboloid leaves over.
 *
 * @param points   at least two more than there are unknowns is wise; one more is needed
 * @param options  shape and zero
 * @throws {RangeError} for too few points, half-chords not above 0, or a profile that is not hollow
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const points = [[15, 0.0469], [30, 0.1895], [45, 0.4237], [60, 0.7494], [70, 1.0206]]
 *   .map(([halfChord = 0, depth = 0]) => ({ halfChord, depth }));
 * assert.equal(fitProfile(points).radius.value.toFixed(1), "2399.8");
 * ```
 */
export function fitProfile(
  points: readonly ProfilePoint[],
  options: ProfileOptions = {},
): ProfileFit {
  const { shape = "sphere", zero = "trusted" } = options;
  check(points, zero);
  let radius = Infinity;
  let fit = fitAbout(points, radius, zero);
  for (let turn = 0; turn < 50; turn++) {
    const next = hollowRadius(fit.coefficients[0] ?? 0);
    const settled = Math.abs(next - radius) <= 1e-12 * next;
    radius = next;
    if (settled || shape === "paraboloid") break;
    fit = fitAbout(points, radius, zero);
  }
  const [, offset] = fit.coefficients;
  return {
    // R = 1 / 2k, so u(R) = u(k) / 2k^2 = 2 R^2 u(k)
    radius: measured(radius, 2 * radius ** 2 * (fit.standardErrors[0] ?? 0), "mm", fit.dof),
    ...(offset === undefined
      ? {}
      : { zero: measured(offset, fit.standardErrors[1] ?? 0, "mm", fit.dof) }),
    s: fit.s,
    residuals: fit.residuals,
  };
}

/** Least squares in k = 1/2R about a sphere of `radius`; an infinite radius gives the paraboloid. */
function fitAbout(
  points: readonly ProfilePoint[],
  radius: number,
  zero: "trusted" | "fitted",
): ReturnType<typeof linearFit> {
  const rows = points.map(({ halfChord }) => {
    const slope = Number.isFinite(radius) ? perK(halfChord, radius) : halfChord ** 2;
    return zero === "fitted" ? [slope, 1] : [slope];
  });
  const depths = points.map(({ halfChord, depth }, at) => {
    if (!Number.isFinite(radius)) return depth;
    return depth - sagitta(2 * halfChord, radius) + (rows[at]?.[0] ?? 0) / (2 * radius);
  });
  return linearFit(rows, depths);
}

/** ds/dk of the sphere, k = 1/2R: ds/dR is -s / sqrt(R^2 - r^2), dR/dk is -2 R^2. */
function perK(halfChord: number, radius: number): number {
  const depth = sagitta(2 * halfChord, radius);
  return (2 * radius ** 2 * depth) / Math.sqrt(radius ** 2 - halfChord ** 2);
}

function hollowRadius(k: number): number {
  if (!(k > 0)) {
    throw new RangeError(`fitProfile requires depths that grow outwards, got 1/2R=${k} per mm`);
  }
  return 1 / (2 * k);
}

function check(points: readonly ProfilePoint[], zero: "trusted" | "fitted"): void {
  const least = zero === "fitted" ? 3 : 2;
  const bad = points.find(({ halfChord, depth }) => !(halfChord > 0 && Number.isFinite(depth)));
  if (points.length < least || bad !== undefined) {
    const got = bad === undefined
      ? `${points.length}`
      : `halfChord=${bad.halfChord}, depth=${bad.depth}`;
    throw new RangeError(
      `fitProfile requires ${least} points or more, half-chords above 0 mm, got ${got}`,
    );
  }
}
