/** Plainer ways from zone means to a wavefront, shown beside the kit's own: what they miss is a lesson. */
import { product, solve, times, transpose } from "../../numeric/smallMatrix.ts";
import { naturalSpline } from "../../numeric/spline.ts";
import { gaussLegendre } from "../../numeric/quadrature.ts";
import { atBestFocus, radialGrid } from "../../optics/quality.ts";
import { effectiveRadius, type Opening } from "./openings.ts";
import type { Tester } from "./zoneModel.ts";

/** Plainer ways from zone means to a surface. */
export type ZoneMethod = "natural spline" | "conic only" | "polynomial";

/** What one method makes of the zone means. */
export interface MethodResult {
  /** which way */
  readonly method: ZoneMethod;
  /** conic constant K of the best conic */
  readonly conic: number;
  /** peak to valley of the wavefront, waves */
  readonly wavefrontPvWaves: number;
  /** root mean square of the wavefront by area, waves */
  readonly wavefrontRmsWaves: number;
  /** Strehl ratio, 0 to 1 */
  readonly strehl: number;
}

/**
 * Reduces zone means by one of three textbook methods.
 *
 * - natural spline: of dL against q = (r/a)^2 through the windows' effective radii, straight beyond the end ones;
 * - conic only: a straight line in q. It sees nothing but K: on a mirror with a turned edge it is a third short;
 * - polynomial: in q, a parabola unless told otherwise.
 *
 * @param zones       openings on the glass, mm
 * @param departures  of each zone's mean from the paraboloid's reading, mm
 * @param tester      half aperture, radius, lamp, shape of openings
 * @param method      which
 * @param wavelength  nm; default 550
 * @param degree      of the polynomial in q; default 2
 * @throws {RangeError} where there are fewer zones than the method needs (2; 3 for the polynomial)
 * @example readings with the ideal spread mean a paraboloid by any method
 * ```ts
 * import assert from "node:assert/strict";
 * const zones = [{ inner: 0, outer: 40 }, { inner: 40, outer: 60 }, { inner: 60, outer: 75 }];
 * const tester = { half: 75, radius: 2400, source: "moves", openings: "bands" } as const;
 * assert.equal(reduceBy(zones, [0, 0, 0], tester, "natural spline").conic.toFixed(6), "-1.000000");
 * ```
 */
export function reduceBy(
  zones: readonly Opening[],
  departures: readonly number[],
  tester: Tester,
  method: ZoneMethod,
  wavelength = 550,
  degree = 2,
): MethodResult {
  const places = zones.map((zone) => (effectiveRadius(zone, tester.openings) / tester.half) ** 2);
  const curve = method === "natural spline"
    ? naturalSpline(places, departures).value
    : polynomial(places, departures, method === "conic only" ? 1 : degree);
  const { half, radius, source } = tester;
  const nmPerMm = (half * half * 1e6) / ((source === "moves" ? 1 : 2) * radius * radius);
  const grid = radialGrid(40);
  const waves = runningIntegral(grid.q, curve).map((v) => (-nmPerMm * v) / wavelength);
  const best = atBestFocus(grid, waves);
  let primary = 0;
  best.waves.forEach((w, i) => {
    const q = grid.q[i] ?? 0;
    primary += 30 * (grid.weights[i] ?? 0) * w * (6 * q * q - 6 * q + 1);
  });
  const unit = (half ** 4 * 1e6) / (4 * radius ** 3 * wavelength);
  return {
    method,
    conic: -1 + primary / unit,
    wavefrontPvWaves: best.pvWaves,
    wavefrontRmsWaves: best.rmsWaves,
    strehl: best.strehl,
  };
}

function polynomial(
  places: readonly number[],
  values: readonly number[],
  degree: number,
): (q: number) => number {
  if (places.length <= degree) {
    throw new RangeError(
      `reduceBy requires more than ${degree} zones for this method, got ${places.length}`,
    );
  }
  const rows = places.map((q) => Float64Array.from({ length: degree + 1 }, (_, j) => q ** j));
  const turned = transpose(rows);
  const right = times(turned, values);
  const c = solve(product(turned, rows), Array.from(right, (v) => Float64Array.of(v))).map((r) =>
    r[0] ?? 0
  );
  return (q) => c.reduce((sum, v, j) => sum + v * q ** j, 0);
}

function runningIntegral(places: ArrayLike<number>, f: (q: number) => number): Float64Array {
  const rule = gaussLegendre(5);
  let sum = 0, from = 0;
  return Float64Array.from(places, (q) => {
    rule.nodes.forEach((x, g) =>
      sum += ((rule.weights[g] ?? 0) * (q - from) * f(from + ((q - from) * (x + 1)) / 2)) / 2
    );
    from = q;
    return sum;
  });
}
