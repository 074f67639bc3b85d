/** Several readings of one thing: their mean, how sure it is, and which of them to doubt. */
import { FEWEST_TO_SET_ASIDE, screen } from "../numeric/outliers.ts";
import type { Doubt, Placed } from "./estimate.ts";

/** One reading of a repeated series. */
export interface Reading extends Placed {
  /** in the unit of the series */
  readonly value: number;
  /** the least the gauge can tell apart here: a dial's step, a ruler's, the width of a go/no-go bracket */
  readonly step: number;
  /** what to show when the reading is doubted; absent means `value` itself */
  readonly asRead?: number;
}

/** A series put together. */
export interface Repeated {
  /** in the unit of the readings */
  readonly mean: number;
  /** standard uncertainty of the mean from scatter and step */
  readonly u: number;
  /** degrees of freedom of `u` */
  readonly dof: number;
  /** spread of one reading, absent for a single one */
  readonly s?: number;
  /** how many readings the mean rests on */
  readonly count: number;
  /** readings that the mean does not rest on */
  readonly setAside: readonly Doubt[];
  /** readings that it rests on, though doubted */
  readonly doubted: readonly Doubt[];
  /** all readings alike: the step hides whatever scatter there is, and reading again does not help */
  readonly hidden: boolean;
}

/** How a series is put together. */
export interface RepeatedOptions {
  /** spread of one reading to assume when there is only one, same unit as the readings; default 0 */
  readonly single?: number;
  /** true where the step is an error of the gauge at that place, the same each time, and counted elsewhere; default false */
  readonly stepApart?: boolean;
}

/**
 * Mean of repeated readings and its standard uncertainty, the gauge's step counted once.
 *
 * - Readings that differ: the scatter s / sqrt n (Type A) already holds the rounding of each reading, so the
 *   step is not added again; but it is never taken smaller than the rounding alone would be, step / sqrt(12 n).
 * - Readings all alike: the step hides the scatter, and n equal readings know no more than one: step / sqrt 12.
 * - A single reading: the step, and what else `single` says is usual.
 * - With `stepApart` only the scatter is meant, and the step is left to the caller.
 *
 * From six readings on one that Grubbs' test finds too far (5 %, two-sided) is set aside; with fewer it is only told.
 * The scale is never taken below step / sqrt 12 and nothing within 1.5 steps is called far, because rounding
 * alone makes one of seven equal readings look impossible.
 *
 * @param readings  at least one, all in the same unit
 * @param options   what to assume for a single reading; whether the step is counted here
 * @throws {RangeError} when empty, or a value is not finite, or a step is negative
 * @see Grubbs 1969 (read: tests/references/outlier-tests.json); JCGM 100:2008, 4.2 and F.2.2.1 (its examples read: tests/references/gum-h1-end-gauge.json)
 * @example six settings of the Sun's image
 * ```ts
 * import assert from "node:assert/strict";
 * const settings = [1199, 1194, 1203, 1197, 1196, 1201].map((value) => ({ value, step: 1 }));
 * assert.equal(repeated(settings).u.toFixed(3), "1.358");
 * ```
 */
export function repeated(readings: readonly Reading[], options: RepeatedOptions = {}): Repeated {
  check(readings);
  const step = readings.reduce((most, reading) => Math.max(most, reading.step), 0);
  const found = screen(readings.map(({ value }) => value), { rule: "grubbs", step });
  const out = new Set(found.setAside.map(({ index }) => index));
  const kept = readings.filter((_, index) => !out.has(index));
  const sum = readings.reduce((total, { value }) => total + value, 0);
  const describeAll = (suspects: typeof found.setAside): readonly Doubt[] =>
    suspects.flatMap(({ index }) => describe(readings, index, sum));
  return {
    ...meanOf(kept, options),
    count: kept.length,
    setAside: describeAll(found.setAside),
    doubted: describeAll(found.doubtful),
  };
}

function check(readings: readonly Reading[]): void {
  const bad = readings.find(({ value, step }) => !(Number.isFinite(value) && step >= 0));
  if (readings.length === 0 || bad !== undefined) {
    throw new RangeError(
      `repeated requires one reading or more, each finite with a step of 0 or more, got ` +
        (bad === undefined ? "none" : `value=${bad.value}, step=${bad.step}`),
    );
  }
}

function meanOf(
  readings: readonly Reading[],
  { single = 0, stepApart = false }: RepeatedOptions,
): Pick<Repeated, "mean" | "u" | "dof" | "s" | "hidden"> {
  const count = readings.length;
  const mean = average(readings.map(({ value }) => value));
  const rounding = roundingOf(readings);
  const step = stepApart ? 0 : rounding;
  if (count === 1) {
    const u = Math.hypot(step, single);
    // An assumed spread is trusted to about half of itself: two degrees of freedom (derived: JCGM 100, G.4.2).
    return { mean, u, dof: single > 0 ? (2 * u ** 4) / single ** 4 : Infinity, hidden: true };
  }
  const s = spreadOf(readings, mean);
  if (s < 1e-9 * rounding) return { mean, u: step, dof: Infinity, s, hidden: true };
  return step > s
    ? { mean, u: step / Math.sqrt(count), dof: Infinity, s, hidden: false }
    : { mean, u: s / Math.sqrt(count), dof: count - 1, s, hidden: false };
}

/** Why one of the readings is doubted; `sum` is that of all of them. */
function describe(readings: readonly Reading[], index: number, sum: number): readonly Doubt[] {
  const reading = readings[index], others = readings.length - 1;
  if (reading === undefined) return [];
  const away = Number((reading.value - (sum - reading.value) / others).toPrecision(2));
  const far = `${Math.abs(away)} mm ${
    away > 0 ? "above" : "below"
  } the mean of the other ${others}`;
  const { file, line } = reading;
  return [{
    ...(file === undefined ? {} : { file }),
    ...(line === undefined ? {} : { line }),
    value: reading.asRead ?? reading.value,
    why: readings.length < FEWEST_TO_SET_ASIDE
      ? `${far}: doubtful, but with ${readings.length} readings none is set aside; measure again`
      : `${far}, farther than chance explains (Grubbs, 5 %)`,
  }];
}

function average(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function spreadOf(readings: readonly Reading[], mean: number): number {
  const squares = readings.reduce((sum, { value }) => sum + (value - mean) ** 2, 0);
  return Math.sqrt(squares / (readings.length - 1));
}

function roundingOf(readings: readonly Reading[]): number {
  return Math.sqrt(average(readings.map(({ step }) => (step * step) / 12)));
}
