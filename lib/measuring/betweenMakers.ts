/** Several makers' results for one plan: how far they lie apart, and how much of that the makers are, not the gauges. */
import { grubbsLimit } from "../numeric/outliers.ts";
import type { Value } from "./weighing.ts";

/** What the spread of a class is made of. */
export interface MakersSpread {
  /** number of makers */
  readonly count: number;
  /** of their results, in the results' unit */
  readonly mean: number;
  /** standard deviation between the makers' results */
  readonly sd: number;
  /** of the mean: sd / sqrt n */
  readonly uOfMean: number;
  /** root mean square of the results' own standard uncertainties */
  readonly ownU: number;
  /** what is left when the gauges' share is taken away: sqrt(sd^2 - ownU^2), 0 where the gauges explain it all */
  readonly betweenMakers: number;
  /** the result farthest from the mean, in standard deviations, beside Grubbs' limit; absent under three or with no spread */
  readonly farthest?: {
    readonly index: number;
    readonly deviations: number;
    readonly limit: number;
    readonly tooFar: boolean;
  };
}

/**
 * The spread between makers, against what their own readings leave open.
 *
 *     sd^2 = between^2 + own^2
 *
 * A spread is a measurement, not an error: what the gauges do not explain is how differently people grind.
 *
 * @param results  two or more, each with its standard uncertainty, all in one unit and for one plan
 * @throws {RangeError} for fewer than two, or a value or uncertainty that is not finite or below 0
 * @see Grubbs 1969, Technometrics 11, 1, two-sided at 5 % (its limits read: tests/references/outlier-tests.json)
 * @example the course's twelve, own u 3 mm: the makers differ by 12 mm
 * ```ts
 * import assert from "node:assert/strict";
 * const f = [1198.3, 1191, 1206, 1183, 1202, 1229, 1195, 1208, 1187, 1199, 1211, 1193];
 * const { sd, betweenMakers, farthest } = betweenMakersSpread(f.map((value) => ({ value, u: 3 })));
 * assert.deepEqual([sd.toFixed(1), betweenMakers.toFixed(1)], ["12.4", "12.0"]);
 * assert.deepEqual([farthest?.index, farthest?.tooFar], [5, false]);
 * ```
 */
export function betweenMakersSpread(results: readonly Value[]): MakersSpread {
  const bad = results.find(({ value, u }) => !(Number.isFinite(value) && u >= 0 && u < Infinity));
  if (results.length < 2 || bad !== undefined) {
    throw new RangeError(
      `betweenMakersSpread requires two results or more, finite, u of 0 or more, got ` +
        (bad === undefined ? `${results.length}` : `${bad.value} with u=${bad.u}`),
    );
  }
  const count = results.length;
  const mean = results.reduce((sum, { value }) => sum + value, 0) / count;
  const sd = Math.sqrt(
    results.reduce((sum, { value }) => sum + (value - mean) ** 2, 0) / (count - 1),
  );
  const ownU = Math.sqrt(results.reduce((sum, { u }) => sum + u * u, 0) / count);
  const farthest = farthestOf(results, mean, sd);
  return {
    ...{ count, mean, sd, ownU },
    uOfMean: sd / Math.sqrt(count),
    betweenMakers: Math.sqrt(Math.max(0, sd * sd - ownU * ownU)),
    ...(farthest === undefined ? {} : { farthest }),
  };
}

function farthestOf(
  results: readonly Value[],
  mean: number,
  sd: number,
): MakersSpread["farthest"] {
  if (results.length < 3 || !(sd > 0)) return undefined;
  const away = results.map(({ value }) => Math.abs(value - mean) / sd);
  const deviations = Math.max(...away), limit = grubbsLimit(results.length);
  return { index: away.indexOf(deviations), deviations, limit, tooFar: deviations > limit };
}
