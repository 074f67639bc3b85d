/** Depth against the two clocks of the log: rates, their drift where it shows, and readings set aside. */
import { tCdf } from "../../numeric/quantiles.ts";
import { type ClockedReading, type DepthColumns, fitColumns } from "./depthColumns.ts";
import { type SetAsideReading, setMisreadAside } from "./misreadDepths.ts";

export interface DepthFit extends DepthColumns {
  readonly used: readonly ClockedReading[];
  readonly setAside: readonly SetAsideReading[];
  /** the same readings with a drift allowed that is too small to show, where there are seven or more */
  readonly wary?: DepthColumns;
}

/** A drift is looked for from this many readings on ... */
const driftLeast = 6;
/** ... and allowed for, though it does not show, from this many. */
const waryLeast = 7;
/** Drift stays in where chance alone would show as much less often than this ... */
const driftChance = 0.2;
/** ... or where leaving it out would matter: this share of the rate over the whole log. */
const driftShare = 0.06;

/**
 * Fits the depths, every reading counting alike.
 *
 * Misread rows are set aside first (see `setMisreadAside`).
 *
 * The rate may drift as grains and slurry change. The drift stays in the fit where it shows: where chance would show as
 * much less than once in five logs, or where it changes the rate by more than 6 %. With seven readings or more a fit
 * that allows for a drift too small to show comes along, for intervals that keep their promise.
 *
 * @param readings  with clocks; two more than there are columns
 * @returns `undefined` where there are too few readings to say anything of their scatter
 * @example depths that grow by 0.009 mm a minute
 * ```ts
 * import assert from "node:assert/strict";
 * const readings = [20, 40, 60, 80].map((afterMin, i) => ({
 *   afterMin, sagitta: 0.02 + 0.009 * afterMin + (i === 1 ? 0.002 : 0), u: 0.003,
 *   file: "sagitta.csv", line: i + 2, clocks: { top: afterMin, bottom: 0, drift: afterMin ** 2 / 2 },
 * }));
 * assert.equal(fitDepths(readings)?.coefficients[1].toFixed(5), "0.00899");
 * ```
 */
export function fitDepths(readings: readonly ClockedReading[]): DepthFit | undefined {
  const { kept: used, setAside } = setMisreadAside(readings);
  const plain = fitColumns(used, false);
  if (!plain) return undefined;
  const bent = used.length >= driftLeast ? fitColumns(used, true) : undefined;
  if (bent && driftMatters(bent, used)) return { ...bent, used, setAside };
  const isWary = bent && used.length >= waryLeast;
  return { ...plain, used, setAside, ...(isWary && { wary: bent }) };
}

function driftMatters(bent: DepthColumns, readings: readonly ClockedReading[]): boolean {
  const drift = bent.coefficients[3], u = Math.sqrt(bent.covariance[3]?.[3] ?? 0);
  const { early, late } = clockSpan(readings), span = late - early;
  const share = Math.abs(drift * span / (bent.coefficients[1] || bent.coefficients[2]));
  return share > driftShare || 2 * tCdf(-Math.abs(drift) / u, bent.dof) < driftChance;
}

/** Least and most minutes that the clocks of some readings show together. */
export function clockSpan(
  readings: readonly ClockedReading[],
): { readonly early: number; readonly late: number } {
  let early = Infinity, late = -Infinity;
  for (const { clocks: { top, bottom } } of readings) {
    early = Math.min(early, top + bottom);
    late = Math.max(late, top + bottom);
  }
  return { early, late };
}
