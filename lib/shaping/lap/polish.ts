/** Polishing: how fast it goes, how long it takes at the centre and at the edge, and whether the pits are gone. */
import type { RangeUm } from "../grinding/grade.ts";

/** How a mirror is polished. */
export interface PolishWork {
  /** Preston's coefficient, per Pa; 5e-13 to 1e-12 for oxide on pitch, an order of magnitude from memory */
  readonly wearPerPa: number;
  /** mirror, weights and hands, kg */
  readonly loadKg: number;
  /** of the mirror, mm */
  readonly aperture: number;
  /** mean speed of the stroke, m/s */
  readonly metrePerSecond: number;
}

const gravity = 9.80665;

/**
 * Glass that polishing takes off where lap and mirror always rub, um/h.
 *
 *     rate = k x load / area x speed
 *
 * @throws {RangeError} where one of the numbers is not above 0
 * @see F. W. Preston 1927, wear in proportion to pressure and path (from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const work = { wearPerPa: 1e-12, loadKg: 3.25, aperture: 150, metrePerSecond: 0.2 };
 * assert.equal(polishRate(work).toFixed(3), "1.299");
 * ```
 */
export function polishRate(work: PolishWork): number {
  for (const [name, value] of Object.entries(work)) {
    if (!(value > 0 && value < Infinity)) {
      throw new RangeError(`polishRate requires ${name} above 0, got ${name}=${value}`);
    }
  }
  const { wearPerPa, loadKg, aperture, metrePerSecond } = work;
  return wearPerPa * polishPressure(loadKg, aperture) * metrePerSecond * 3600e6;
}

/**
 * Mean pressure of a mirror on its lap, Pa.
 *
 * @throws {RangeError} where one of the numbers is not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(polishPressure(3.25, 150).toFixed(1), "1803.6");
 * ```
 */
export function polishPressure(loadKg: number, aperture: number): number {
  if (!(loadKg > 0 && aperture > 0 && loadKg < Infinity && aperture < Infinity)) {
    throw new RangeError(
      `polishPressure requires load and aperture above 0, got loadKg=${loadKg}, aperture=${aperture}`,
    );
  }
  return loadKg * gravity / (Math.PI * (aperture / 2000) ** 2);
}

/** A time, and what it may be. */
export interface Hours {
  /** most likely */
  readonly hours: number;
  /** lower end */
  readonly least: number;
  /** upper end */
  readonly most: number;
}

/** Polishing from the last pits to none. */
export interface PolishTime {
  /** in the middle of the mirror */
  readonly centre: Hours;
  /** what decides */
  readonly edge: Hours;
}

/** What the time is reckoned from. */
export interface PolishOutlook {
  /** deepest pits, um */
  readonly pits: RangeUm;
  /** um/h at the centre */
  readonly rate: number;
  /** how much the rate may be off, as a factor; default 2, or 1.2 where you have measured it */
  readonly rateFactor?: number;
  /** rate at the edge over that at the centre; default 0.7 */
  readonly edgeShare?: number;
}

/** The edge is rubbed less, for the upper disc's rim hangs over: 0.9 against 1.3 um/h. COMMON PRACTICE */
export const usualEdgeShare = 0.7;

/**
 * Hours until the deepest pits are gone, at the centre and at the edge, with an honest range.
 *
 *     hours = depth / rate,  for the middle of the depths; least and most with the rate off by its factor
 *
 * @throws {RangeError} for depths below 0 or not in order, a rate not above 0, an edge share outside 0 to 1.5
 * @example 5 um at 1.3 um/h
 * ```ts
 * import assert from "node:assert/strict";
 * const { centre, edge } = polishTime({ pits: { least: 5, most: 5 }, rate: 1.3, edgeShare: 0.9 / 1.3 });
 * assert.deepEqual([centre.hours.toFixed(1), edge.hours.toFixed(1)], ["3.8", "5.6"]);
 * assert.deepEqual([edge.least.toFixed(1), edge.most.toFixed(1)], ["2.8", "11.1"]);
 * ```
 */
export function polishTime(outlook: PolishOutlook): PolishTime {
  const { pits, rate, rateFactor = 2, edgeShare = usualEdgeShare } = outlook;
  const sound = pits.least >= 0 && pits.most >= pits.least && pits.most < Infinity;
  if (!(sound && rate > 0 && rateFactor >= 1 && edgeShare > 0 && edgeShare <= 1.5)) {
    throw new RangeError(
      `polishTime requires 0 <= least <= most um, rate above 0 um/h, rateFactor of 1 or more, edgeShare above 0 to 1.5, got ${pits.least} to ${pits.most}, ${rate}, ${rateFactor}, ${edgeShare}`,
    );
  }
  const at = (share: number): Hours => ({
    hours: (pits.least + pits.most) / 2 / (rate * share),
    least: pits.least / (rate * share * rateFactor),
    most: pits.most * rateFactor / (rate * share),
  });
  return { centre: at(1), edge: at(edgeShare) };
}

// Whether a mirror is polished out: judged by pits in fields of the loupe, at the edge, never by hours or shine.

/** Fields of the loupe at one place, and the pits counted in each. */
export interface PitCounts {
  /** at the edge, field by field */
  readonly edge: readonly number[];
  /** the same fields at the look before, where there was one */
  readonly before?: readonly number[];
  /** depth of the deepest pit, um, where it could be told from the focus of the loupe */
  readonly deepestUm?: number;
}

/** What the course decides by; in data/tables/decisions.csv. */
export interface PitRules {
  /** fields without a pit, at the edge */
  readonly fields: number;
  /** deeper than this, um: back to the last grade */
  readonly deepestUm: number;
}

/** Whether the polish is done. */
export interface PolishedOut {
  /** what comes next */
  readonly do: "test" | "polish" | "press" | "look more" | "back to the last grade";
  /** in a sentence */
  readonly why: string;
  /** with no pit seen: at 95 % there are fewer than this to a field */
  readonly pitsPerFieldAtMost?: number;
}

/** No pit in n fields: at 95 % fewer than 3.0 / n to a field, from exp(-m n) = 0.05. DERIVED */
const noneSeen = -Math.log(0.05);

/**
 * Says whether polishing is over.
 *
 * @param counts  fields at the edge, and the same at the look before
 * @param rules   how many fields, how deep a pit
 * @throws {RangeError} for counts that are no whole numbers of 0 or more
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const rules = { fields: 5, deepestUm: 5 };
 * assert.equal(polishedOut({ edge: [0, 0, 0, 0, 0] }, rules).do, "test");
 * assert.equal(polishedOut({ edge: [3, 1, 2, 4, 2], before: [3, 2, 2, 3, 2] }, rules).do, "press");
 * ```
 */
export function polishedOut(counts: PitCounts, rules: PitRules): PolishedOut {
  const { edge, before, deepestUm } = counts;
  requireCounts([...edge, ...(before ?? [])]);
  const pits = sum(edge);
  if (edge.length < rules.fields) {
    return {
      do: "look more",
      why: `${edge.length} of ${rules.fields} fields were looked at; ${
        pits === 0 ? "none of them shows a pit" : `${pitsSaid(pits)} so far`
      }`,
    };
  }
  if (pits === 0) {
    const most = noneSeen / edge.length;
    return {
      do: "test",
      why: `no pit in ${edge.length} fields at the edge`,
      pitsPerFieldAtMost: most,
    };
  }
  if (deepestUm !== undefined && deepestUm > rules.deepestUm) {
    return {
      do: "back to the last grade",
      why:
        `a pit of ${deepestUm} um is deeper than ${rules.deepestUm} um: a quarter of an hour of the last grade is shorter than hours of polishing`,
    };
  }
  if (before !== undefined && !isFewer(edge, before)) {
    return { do: "press", why: "the count has not fallen: press the lap and look at its contact" };
  }
  return { do: "polish", why: `${pitsSaid(pits)} in ${edge.length} fields at the edge` };
}

function pitsSaid(pits: number): string {
  return `${pits} ${pits === 1 ? "pit" : "pits"}`;
}

/** Counts scatter by their root: a fall of less than that is no fall. */
function isFewer(now: readonly number[], before: readonly number[]): boolean {
  const a = sum(now) / now.length, b = sum(before) / before.length;
  const scatter = Math.sqrt(sum(now) / now.length ** 2 + sum(before) / before.length ** 2);
  return b - a > scatter;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

function requireCounts(counts: readonly number[]): void {
  if (!counts.every((count) => Number.isInteger(count) && count >= 0)) {
    throw new RangeError(
      `polishedOut requires whole counts of 0 or more, got ${counts.join(", ")}`,
    );
  }
}
