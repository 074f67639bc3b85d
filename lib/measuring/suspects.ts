/** Which tables to leave out of the reckoning: those off by a ratio that a misconception, not a gauge, makes. */
import type { Estimate } from "./estimate.ts";
import { isBelievable, type Misconception } from "../quantity/misconceptions.ts";
import { misconceptionFromRatio } from "./misconceptions.ts";

/** A table left out, or the plan doubted. */
export interface Suspect {
  /** absent where the plan is doubted, not a table */
  readonly estimate?: Estimate;
  readonly file: string;
  /** a sentence or two: what it says, which misconception would explain it, how to find out */
  readonly what: string;
  readonly misconception?: Misconception;
}

/**
 * Finds the tables whose radius is off by a factor, and the misconception that would explain it.
 *
 * Tables near the plan, or else two or more that agree with each other, are believed; the others are compared with
 * them. One table alone is compared with the plan. A table so unsure that the difference lies within 2.5 u is kept.
 *
 * @param estimates      of one curve
 * @param plannedRadius  mm
 * @param hollowing      true while the curve is still being dug: shallower than planned is then no mistake
 * @returns what to leave out (with `estimate`) and what to doubt; empty when all is well
 * @throws {RangeError} when the planned radius is not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const radius = { value: 60945, u: 600, dof: Infinity, unit: "mm" };
 * const inches = { method: "leaves", radius, components: [], readings: 3, setAside: [], doubted: [], assumed: [] } as const;
 * assert.match(findSuspects([inches], 2400, false)[0]?.what ?? "", /inches were read as mm/);
 * ```
 */
export function findSuspects(
  estimates: readonly Estimate[],
  plannedRadius: number,
  hollowing: boolean,
): readonly Suspect[] {
  if (!(plannedRadius > 0 && Number.isFinite(plannedRadius))) {
    throw new RangeError(`findSuspects requires a planned radius above 0 mm, got ${plannedRadius}`);
  }
  const believed = believedRadius(estimates, plannedRadius);
  if (believed === undefined) return alone(estimates, plannedRadius, hollowing);
  const left = estimates.filter((estimate) => differs(estimate, believed.radius)).map((estimate) =>
    suspect(estimate, believed.radius, believed.words)
  );
  return [...left, ...doubtedPlan(believed, plannedRadius, hollowing)];
}

interface Believed {
  readonly radius: number;
  readonly words: string;
  /** the tables agree with the plan */
  readonly asPlanned: boolean;
}

function believedRadius(
  estimates: readonly Estimate[],
  plannedRadius: number,
): Believed | undefined {
  const near = estimates.filter(({ radius }) => isBelievable(radius.value / plannedRadius));
  if (near.length > 0) {
    return { radius: middle(near), words: "what the other tables say", asPlanned: true };
  }
  const groups = estimates.map((one) =>
    estimates.filter((other) => Math.abs(Math.log(other.radius.value / one.radius.value)) < 0.25)
  );
  const largest = groups.reduce((a, b) => (b.length > a.length ? b : a), []);
  if (largest.length < 2) return undefined;
  return { radius: middle(largest), words: "what the other tables agree on", asPlanned: false };
}

/** No two tables agree and none is near the plan: each is compared with the plan. */
function alone(
  estimates: readonly Estimate[],
  plannedRadius: number,
  hollowing: boolean,
): readonly Suspect[] {
  return estimates
    .filter((estimate) => differs(estimate, plannedRadius))
    .filter(({ radius }) => !(hollowing && radius.value > plannedRadius))
    .map((estimate) => suspect(estimate, plannedRadius, "the planned radius"))
    .filter(({ misconception }) => misconception !== undefined);
}

/** The tables agree with each other but not with the plan: then the plan is what to read again. */
function doubtedPlan(
  believed: Believed,
  plannedRadius: number,
  hollowing: boolean,
): readonly Suspect[] {
  const ratio = believed.radius / plannedRadius;
  if (believed.asPlanned || (hollowing && ratio > 1)) return [];
  const found = misconceptionFromRatio(ratio);
  if (found?.name !== "f for R" && found?.name !== "R for f") return [];
  const what = `the tables agree on R ${round(believed.radius)} mm, ${times(ratio)} the planned ` +
    `${
      round(plannedRadius)
    } mm: R and f were probably mixed up in focal_length, which is f, half of R.`;
  return [{ file: "mirror.yaml", what, misconception: found }];
}

function suspect(estimate: Estimate, expected: number, words: string): Suspect {
  const ratio = estimate.radius.value / expected;
  const found = misconceptionFromRatio(ratio, { method: estimate.method });
  const far =
    `${estimate.method}: R ${round(estimate.radius.value)} mm is ${times(ratio)} ${words}, ` +
    `${round(expected)} mm`;
  const what = found === undefined
    ? `${far}; no common slip explains it. Measure again before using it.`
    : `${far}; it would be so if ${found.explains}. ${found.findOut}`;
  return {
    estimate,
    file: estimate.file ?? estimate.method,
    what,
    ...(found === undefined ? {} : { misconception: found }),
  };
}

function differs({ radius }: Estimate, expected: number): boolean {
  return !isBelievable(radius.value / expected) &&
    Math.abs(radius.value - expected) > 2.5 * radius.u;
}

function middle(estimates: readonly Estimate[]): number {
  const sorted = estimates.map(({ radius }) => radius.value).sort((a, b) => a - b);
  const half = (sorted.length - 1) / 2;
  return ((sorted[Math.floor(half)] ?? 0) + (sorted[Math.ceil(half)] ?? 0)) / 2;
}

function times(ratio: number): string {
  return ratio >= 1 ? `${ratio.toPrecision(3)} times` : `1/${(1 / ratio).toPrecision(3)} of`;
}

function round(length: number): string {
  return length.toFixed(0);
}
