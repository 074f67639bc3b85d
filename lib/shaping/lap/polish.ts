/** Polishing: how fast it goes, how long it takes at the centre and at the edge, and whether the pits are gone. */
import { type Measured, measured } from "../../quantity/measured.ts";
import type { RangeUm } from "../grinding/grade.ts";

/** How a mirror is polished. */
export interface PolishWork {
  /** Preston's coefficient, per Pa; COMMON PRACTICE, 5e-13 to 1e-12 for oxide on pitch; the range of hours holds a factor of two either way */
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
 * @see F. W. Preston 1927, wear in proportion to pressure and path (derived in its test)
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
}

/** What the course decides by; in data/tables. */
export interface PitRules {
  /** fields without a pit, at the edge */
  readonly fields: number;
}

/** Whether the polish is done. */
export interface PolishedOut {
  /** what comes next */
  readonly do: "test" | "polish" | "press" | "look more";
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
 * @param rules   how many fields
 * @throws {RangeError} for counts that are no whole numbers of 0 or more
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const rules = { fields: 5 };
 * assert.equal(polishedOut({ edge: [0, 0, 0, 0, 0] }, rules).do, "test");
 * assert.equal(polishedOut({ edge: [3, 1, 2, 4, 2], before: [3, 2, 2, 3, 2] }, rules).do, "press");
 * ```
 */
export function polishedOut(counts: PitCounts, rules: PitRules): PolishedOut {
  const { edge, before } = counts;
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

// How fast the pits go, told from two looks or more: counts in marked fields, for no loupe can tell a depth.

/** Pits counted at the edge after so many hours of polish. */
export interface PitLook {
  /** of polish so far */
  readonly hours: number;
  /** in all fields together */
  readonly pits: number;
  /** fields looked at, all of one size */
  readonly fields: number;
}

/** What two looks or more tell. */
export interface PitFall {
  /** hours in which the count halves */
  readonly halving: Measured;
  /** hours in all until ten fields hold one pit in two looks */
  readonly over: Measured;
}

/** Ten fields with a pit in every second look: then an empty look is as likely as not. */
const lastPits = 0.5 / 10;

/**
 * How fast the pits at the edge go, and when the last is gone.
 *
 * Deeper pits are fewer, so a count falls by the same share each hour: expected = m exp(-k h) to a field. Counts scatter by their
 * root (Poisson); m and k are the likeliest, by Newton's steps, their uncertainties from the curvature there.
 *
 * @param looks  two or more, at two different hours or more
 * @returns undefined where the count has not fallen by twice its uncertainty: press the lap first
 * @throws {RangeError} for counts that are none, fewer than two hours, or no pit at all
 * @example 40 pits in ten fields after two hours, 6 after four
 * ```ts
 * import assert from "node:assert/strict";
 * const fall = pitFall([{ hours: 2, pits: 40, fields: 10 }, { hours: 4, pits: 6, fields: 10 }]);
 * assert.equal(fall?.halving.value.toFixed(2), "0.73");
 * assert.equal(fall?.over.value.toFixed(1), "6.6");
 * ```
 */
export function pitFall(looks: readonly PitLook[]): PitFall | undefined {
  requireLooks(looks);
  const all = looks.reduce((total, { pits }) => total + pits, 0);
  // hours from their mean by pits, so that both unknowns hardly lean on one another
  const middle = looks.reduce((total, { pits, hours }) => total + pits * hours, 0) / all;
  let log = Math.log(all / looks.reduce((total, { fields }) => total + fields, 0)), rate = 0;
  let atRate = 1, between = 0, atLog = 1;
  for (let step = 0; step < 60; step++) {
    let upLog = 0, upRate = 0;
    [atLog, between, atRate] = [0, 0, 0];
    for (const { hours, pits, fields } of looks) {
      const later = hours - middle, expected = fields * Math.exp(log - rate * later);
      upLog += pits - expected;
      upRate -= later * (pits - expected);
      atLog += expected;
      between -= later * expected;
      atRate += later * later * expected;
    }
    const whole = atLog * atRate - between * between;
    const dLog = (atRate * upLog - between * upRate) / whole;
    const dRate = (atLog * upRate - between * upLog) / whole;
    const share = Math.min(1, 2 / Math.max(Math.abs(dLog), Math.abs(dRate), 1e-12));
    log += share * dLog;
    rate += share * dRate;
    if (Math.abs(dLog) + Math.abs(dRate) < 1e-12) break;
  }
  const whole = atLog * atRate - between * between;
  const uRate = Math.sqrt(atLog / whole), uLog = Math.sqrt(atRate / whole), both = -between / whole;
  if (!(rate > 2 * uRate)) return undefined;
  const left = (log - Math.log(lastPits)) / rate;
  const uOver = Math.sqrt(uLog ** 2 + (left * uRate) ** 2 - 2 * left * both) / rate;
  return {
    halving: measured(Math.LN2 / rate, Math.LN2 * uRate / rate ** 2, "h"),
    over: measured(middle + left, uOver, "h"),
  };
}

function requireLooks(looks: readonly PitLook[]): void {
  const sound = looks.every(({ hours, pits, fields }) =>
    hours >= 0 && hours < 1e4 && Number.isInteger(pits) && pits >= 0 && fields > 0 && fields < 1e4
  );
  const hours = new Set(looks.map((look) => look.hours));
  if (!sound || hours.size < 2 || !looks.some(({ pits }) => pits > 0)) {
    throw new RangeError(
      `pitFall requires looks at two different hours or more, whole counts of 0 or more with one pit at least, and fields above 0, got ${
        JSON.stringify(looks)
      }`,
    );
  }
}
