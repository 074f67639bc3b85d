/** All methods of one mirror put together: the radius, the focal length, the depth, and what to doubt. */
import { focalLength, sagittaWithUncertainty } from "../optics/sphere.ts";
import { type Measured, measured } from "../quantity/measured.ts";
import { agreement, combine, type Combined } from "./combine.ts";
import type { Doubt, Estimate } from "./estimate.ts";
import { methodNamed, restsOnRim } from "./methods/methods.ts";
import { findSuspects, type Suspect } from "./suspects.ts";

/** What is known of the disc beside the estimates. */
export interface ReconcileOptions {
  /** the disc's diameter, mm: the sagitta is given for all of it */
  readonly aperture: number;
  /** true while the hollow is still being dug, so that a curve shallower than planned is no mistake; default false */
  readonly hollowing?: boolean;
}

/** One method, and whether the result rests on it. */
export interface Judged {
  /** what the method says */
  readonly estimate: Estimate;
  /** whether the result rests on it */
  readonly used: boolean;
  /** why not, when not used */
  readonly why?: string;
}

/** What all methods together say. */
export interface Reconciled {
  /** mm; these three and `combined` are absent when no estimate is left to rest on */
  readonly radius?: Measured;
  /** half the radius, mm */
  readonly focalLength?: Measured;
  /** depth at the full aperture, spherical, mm */
  readonly sagitta?: Measured;
  /** the weighted mean and its budget */
  readonly combined?: Combined;
  /** in the order they were given */
  readonly estimates: readonly Judged[];
  /** absent with fewer than two methods in use */
  readonly birgeRatio?: number;
  /** whether the methods agree within their uncertainties */
  readonly consistent: boolean;
  /** method that disagrees with the others */
  readonly oddOne?: string;
  /** readings shown and not used, of all methods */
  readonly setAside: readonly Doubt[];
  /** readings used, though doubted, of all methods */
  readonly doubted: readonly Doubt[];
  /** shares of the radius's variance by source */
  readonly budget: Combined["budget"];
  /** the first table (or the plan) with a misconception that has a name */
  readonly mistake?: { readonly file: string; readonly what: string };
  /** tables off by a factor, or the plan where the tables agree against it, each in a sentence or two */
  readonly suspects: readonly { readonly file: string; readonly what: string }[];
  /** sentences to show wherever the radius is used, those on suspects left out */
  readonly warnings: readonly string[];
}

/**
 * Puts all estimates of one curve together.
 *
 * A table off by a factor is left out and its misconception named; it is never converted. A method that is no more than a
 * check, the width of the Sun's image, carries the result when it stands alone. The rest is combined by `combine`.
 *
 * @param estimates      of the curve as it is now; the caller chooses the latest readings
 * @param plannedRadius  mm, above 0
 * @param options        aperture; whether the hollow is still being dug
 * @returns everything known of the curve
 * @throws {RangeError} when the planned radius or the aperture is not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const of = (method: "leaves" | "spherometer", value: number, u: number) => ({
 *   method, radius: { value, u, dof: Infinity, unit: "mm" }, components: [{ source: method, u, dof: Infinity }],
 *   readings: 6, setAside: [], doubted: [], assumed: [],
 * });
 * const all = reconcile([of("leaves", 2398.7, 13.9), of("spherometer", 60860, 145)], 2400, { aperture: 150 });
 * assert.deepEqual(all.estimates.map(({ used }) => used), [true, false]);
 * ```
 */
export function reconcile(
  estimates: readonly Estimate[],
  plannedRadius: number,
  options: ReconcileOptions,
): Reconciled {
  const suspects = findSuspects(estimates, plannedRadius, options.hollowing ?? false);
  const judged = judge(estimates, suspects);
  const used = judged.filter((one) => one.used).map(({ estimate }) => estimate);
  const named = suspects.find(({ misconception }) => misconception !== undefined);
  const combined = used.length === 0 ? undefined : combine(used);
  return {
    ...(combined === undefined ? {} : quantities(combined, options.aperture)),
    estimates: judged,
    consistent: combined?.consistent ?? false,
    ...(combined?.birgeRatio === undefined ? {} : { birgeRatio: combined.birgeRatio }),
    ...(combined?.oddOne === undefined ? {} : { oddOne: combined.oddOne }),
    setAside: estimates.flatMap(({ setAside }) => setAside),
    doubted: estimates.flatMap(({ doubted }) => doubted),
    budget: combined?.budget ?? [],
    ...(named === undefined ? {} : { mistake: { file: named.file, what: named.what } }),
    suspects: suspects.map(({ file, what }) => ({ file, what })),
    warnings: warningsOf(judged, combined, options.aperture),
  };
}

function judge(estimates: readonly Estimate[], suspects: readonly Suspect[]): readonly Judged[] {
  const left = (estimate: Estimate): Suspect | undefined =>
    suspects.find((suspect) => suspect.estimate === estimate);
  const sound = estimates.filter((estimate) => left(estimate) === undefined);
  const isCheck = ({ method }: Estimate): boolean => methodNamed(method)?.check !== undefined;
  const others = sound.some((estimate) => !isCheck(estimate));
  return estimates.map((estimate) => {
    const suspect = left(estimate);
    if (suspect !== undefined) return { estimate, used: false, why: suspect.what };
    return isCheck(estimate) && others
      ? {
        estimate,
        used: false,
        why: "a check for gross slips, too coarse to weigh with the others",
      }
      : { estimate, used: true };
  });
}

function quantities(
  combined: Combined,
  aperture: number,
): Pick<Reconciled, "radius" | "focalLength" | "sagitta" | "combined"> {
  const { radius } = combined;
  // a ball smaller than the disc has no depth at its rim
  const hasDepth = radius.value > aperture / 2;
  return {
    combined,
    radius,
    focalLength: measured(focalLength(radius.value), radius.u / 2, "mm", radius.dof),
    ...(hasDepth ? { sagitta: sagittaWithUncertainty(aperture, radius) } : {}),
  };
}

function warningsOf(
  judged: readonly Judged[],
  combined: Combined | undefined,
  aperture: number,
): readonly string[] {
  const estimates = judged.map(({ estimate }) => estimate);
  return [
    ...estimates.flatMap(({ method, assumed }) => assumed.map((words) => `${method}: ${words}`)),
    ...(combined === undefined ? [] : disagreement(combined)),
    ...(combined === undefined ? [] : checks(judged, combined)),
    ...(combined === undefined ? [] : bevelHint(judged, aperture)),
  ];
}

function disagreement({ consistent, p = 1, oddOne }: Combined): readonly string[] {
  if (consistent) return [];
  const odd = oddOne === undefined ? "" : ` ${oddOne} is the odd one:`;
  const chance = p < 0.001
    ? "less than 1 in 1000"
    : `about ${Math.max(1, Math.round(p * 100))} in 100`;
  return [
    `the methods disagree more than their uncertainties allow (chance ${chance});${odd} find the cause before averaging`,
  ];
}

/** A check that does not fit what it checks. */
function checks(judged: readonly Judged[], { radius }: Combined): readonly string[] {
  return judged.flatMap(({ estimate, used }) => {
    const { check } = methodNamed(estimate.method) ?? {};
    if (check === undefined || used) return [];
    if (!(Math.abs(agreement(estimate.radius, radius)) > 1)) return [];
    return [
      `${estimate.method}: R ${estimate.radius.value.toFixed(0)} mm ${check.what} does not fit R ` +
      `${radius.value.toFixed(0)} mm; ${check.ask}`,
    ];
  });
}

/** A straight-edge that rests farther in than the record says makes every radius on it too long. */
function bevelHint(judged: readonly Judged[], aperture: number): readonly string[] {
  const used = judged.filter((one) => one.used).map(({ estimate }) => estimate);
  const onRim = used.filter(({ method }) => restsOnRim(method));
  const rest = used.filter((estimate) => !onRim.includes(estimate));
  if (rest.length === 0) return [];
  const { radius } = combine(rest);
  return onRim.filter((estimate) => agreement(estimate.radius, radius) > 1).flatMap((estimate) => {
    const farther = (aperture / 2) * (1 - Math.sqrt(radius.value / estimate.radius.value));
    return farther > 2.5 ? [] : [
      `${estimate.method}: R ${
        estimate.radius.value.toFixed(0)
      } mm is longer than the other methods' ` +
      `${radius.value.toFixed(0)} mm, as if the bevel were ${
        farther.toFixed(1)
      } mm wider than written; measure it again`,
    ];
  });
}
