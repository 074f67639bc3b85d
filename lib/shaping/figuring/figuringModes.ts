/** A profile as a few smooth shapes: what its readings can show, and no more. */

/** A height along the radius. */
export interface ProfileHeight {
  /** mm from the centre */
  readonly radius: number;
  /** nm of glass, + is high */
  readonly surfaceError: number;
  /** standard uncertainty, nm; absent where it is not known */
  readonly u?: number;
}

/** One shape and how much of it there is. */
export interface Mode {
  /** 2 tells sphere from paraboloid; each next one is finer by about a ring */
  readonly order: number;
  /** nm rms of glass, as measured */
  readonly measured: number;
  /** nm rms; absent where nobody knows */
  readonly u?: number;
  /** as it is believed: drawn towards nothing by as much as it is doubtful */
  readonly believed: number;
}

/** A profile in smooth shapes. */
export interface ProfileModes {
  /** each shape with its amount */
  readonly modes: readonly Mode[];
  /** covariance of what is believed, nm^2; absent without uncertainty */
  readonly covariance?: readonly (readonly number[])[];
  /** covariance of what was measured, nm^2; absent without uncertainty */
  readonly measuredCovariance?: readonly (readonly number[])[];
}

/** Finest shape that five zones can hold. */
const finestOrder = 5;
/** Shapes that a profile is taken apart into. */
export const ORDERS: readonly number[] = Array.from({ length: finestOrder - 1 }, (_, i) => i + 2);

/**
 * Value of a shape at a place: Legendre's polynomials in the square of the radius, rms 1 over the area.
 *
 * Orders 0 and 1 are piston and focus; they are no errors.
 *
 * @param order  0 to 8
 * @param q      square of the distance over that of the rim, 0 to 1
 * @example sphere against paraboloid: high in the middle and at the rim, low between
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok(modeShape(2, 0) > 2.2 && modeShape(2, 1) > 2.2 && modeShape(2, 0.5) < -1.1);
 * ```
 */
export function modeShape(order: number, q: number): number {
  const x = 2 * q - 1;
  let last = 0, now = 1;
  for (let n = 0; n < order; n++) [last, now] = [now, ((2 * n + 1) * x * now - n * last) / (n + 1)];
  return Math.sqrt(2 * order + 1) * now;
}

/** Reach of a reading's error along the radius where no covariance is given, as a share of it. */
const reach = 0.2;

/**
 * Takes a profile apart into smooth shapes, each with its uncertainty, and draws each towards nothing by its doubt.
 *
 *     believed = measured x s^2 / (s^2 + u^2)
 *
 * s^2 is how large the shapes of this profile usually are: the mean of measured^2 - u^2 over all of them, or this shape's own
 * where that is larger; nothing where both are below nothing. So the square of what is left is expected to be least.
 *
 * Without an uncertainty only the coarsest shape, sphere against paraboloid, is believed: nothing finer can be shown.
 *
 * @param profile     two radii or more, rising; the last is the rim of what is judged
 * @param covariance  of the heights, nm^2, for how their errors hang together; their sizes are those of `u`
 * @throws {RangeError} for fewer than five radii, radii that do not rise, or heights that are not finite
 * @see shrinking by the data's own spread: empirical Bayes (judged by tests/trials/figuring.trial.ts)
 * @example a sphere that should be a paraboloid
 * ```ts
 * import assert from "node:assert/strict";
 * const profile = Array.from({ length: 50 }, (_, i) => {
 *   const radius = i * 74 / 49;
 *   return { radius, surfaceError: 30 * modeShape(2, (radius / 74) ** 2), u: 3 };
 * });
 * const [conic, next] = profileModes(profile).modes;
 * assert.equal(conic?.measured.toFixed(0), "30");
 * assert.ok(Math.abs(next?.believed ?? 9) < 1);
 * ```
 */
export function profileModes(
  profile: readonly ProfileHeight[],
  covariance?: readonly ArrayLike<number>[],
): ProfileModes {
  requireProfile(profile);
  const rows = loadings(profile);
  const measured = rows.map((row) => row.reduce((s, w, i) => s + w * height(profile, i), 0));
  if (!profile.every(({ u }) => u !== undefined)) {
    return {
      modes: measured.map((value, i) => (
        { order: i + 2, measured: value, believed: i === 0 ? value : 0 }
      )),
    };
  }
  const raw = modeCovariance(rows, profile, covariance);
  const keep = kept(measured, raw.map((row, i) => row[i] ?? 0));
  return {
    modes: measured.map((value, i) => ({
      order: i + 2,
      measured: value,
      u: Math.sqrt(raw[i]?.[i] ?? 0),
      believed: value * (keep[i] ?? 0),
    })),
    measuredCovariance: raw,
    covariance: raw.map((row, i) =>
      row.map((v, j) => v * Math.sqrt(Math.max(keep[i] ?? 0, 0.1) * Math.max(keep[j] ?? 0, 0.1)))
    ),
  };
}

/** Share of each amount that is believed. */
function kept(measured: readonly number[], variances: readonly number[]): number[] {
  const own = measured.map((value, i) => value * value - (variances[i] ?? 0));
  const usual = own.reduce((sum, v) => sum + v, 0) / own.length;
  return own.map((square, i) => {
    const size = Math.max(0, square, usual);
    return size === 0 ? 0 : size / (size + (variances[i] ?? 0));
  });
}

function height(profile: readonly ProfileHeight[], i: number): number {
  return profile[i]?.surfaceError ?? 0;
}

/** For each order from 2 on: the weights of the heights that give its amount, by least squares with piston and focus beside. */
function loadings(profile: readonly ProfileHeight[]): number[][] {
  const rim = profile.at(-1)?.radius ?? 1, weights = areaWeights(profile);
  // shapes made to stand at right angles on these very radii; `parts` says how much of each is in the next ones
  const flat: number[][] = [], parts: number[][] = [];
  for (let order = 0; order <= finestOrder; order++) {
    const shape = profile.map(({ radius }) => modeShape(order, (radius / rim) ** 2));
    const along = flat.map((base) => inner(shape, base, weights));
    const rest = shape.map((v, i) =>
      v - flat.reduce((s, base, k) => s + (along[k] ?? 0) * (base[i] ?? 0), 0)
    );
    const size = Math.sqrt(inner(rest, rest, weights));
    flat.push(rest.map((v) => v / size));
    parts.push([...along, size]);
  }
  const rows: number[][] = [];
  for (let order = finestOrder; order >= 0; order--) {
    const size = parts[order]?.[order] ?? 1;
    rows[order] = profile.map((_, i) => {
      let own = (flat[order]?.[i] ?? 0) * (weights[i] ?? 0);
      for (let finer = order + 1; finer <= finestOrder; finer++) {
        own -= (parts[finer]?.[order] ?? 0) * (rows[finer]?.[i] ?? 0);
      }
      return own / size;
    });
  }
  return rows.slice(2);
}

function inner(a: readonly number[], b: readonly number[], weights: readonly number[]): number {
  return a.reduce((sum, v, i) => sum + (weights[i] ?? 0) * v * (b[i] ?? 0), 0);
}

/** Share of the area that each radius stands for. */
export function areaWeights(profile: readonly Pick<ProfileHeight, "radius">[]): number[] {
  const radii = profile.map(({ radius }) => radius), rim = radii.at(-1) ?? 1;
  const edges = radii.map((r, i) => i === 0 ? 0 : ((radii[i - 1] ?? 0) + r) / 2);
  return radii.map((_, i) => ((edges[i + 1] ?? rim) ** 2 - (edges[i] ?? 0) ** 2) / rim ** 2);
}

function modeCovariance(
  rows: readonly (readonly number[])[],
  profile: readonly ProfileHeight[],
  covariance?: readonly ArrayLike<number>[],
): number[][] {
  const rim = profile.at(-1)?.radius ?? 1;
  const together = (i: number, j: number): number => {
    const both = (profile[i]?.u ?? 0) * (profile[j]?.u ?? 0);
    if (covariance === undefined) {
      const apart = ((profile[i]?.radius ?? 0) - (profile[j]?.radius ?? 0)) / rim / reach;
      return both * Math.exp(-apart * apart / 2);
    }
    const size = Math.sqrt((covariance[i]?.[i] ?? 0) * (covariance[j]?.[j] ?? 0));
    return size > 0 ? both * (covariance[i]?.[j] ?? 0) / size : 0;
  };
  const spread = profile.map((_, i) => profile.map((_, j) => together(i, j)));
  const half = rows.map((row) =>
    spread.map((line) => line.reduce((sum, v, j) => sum + v * (row[j] ?? 0), 0))
  );
  return half.map((line) =>
    rows.map((row) => row.reduce((sum, w, i) => sum + w * (line[i] ?? 0), 0))
  );
}

function requireProfile(profile: readonly ProfileHeight[]): void {
  const rising = profile.every(({ radius }, i) =>
    i === 0 ? radius >= 0 : radius > (profile[i - 1]?.radius ?? NaN)
  );
  const finite = profile.every(({ surfaceError, u = 0 }) =>
    Number.isFinite(surfaceError) && u >= 0
  );
  if (profile.length <= finestOrder || !rising || !finite) {
    throw new RangeError(
      `profileModes requires more than ${finestOrder} rising radii with finite heights and u of 0 or more, got ${profile.length}`,
    );
  }
}
