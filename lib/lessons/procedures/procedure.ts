/** A procedure: what the hands do at a stage, step by step, with the sign that it went right and the sign that it did not. */
import { type Hazard, hazards } from "../../knowledge/hazards.ts";
import { fact, factRow } from "../../record/tables.ts";
import type { Settings } from "../../record/settings.ts";
import { sagitta } from "../../optics/sphere.ts";
import type { HandDrawing } from "../../figures/drawings/hands/names.ts";

/** One step, in words for the bench. */
export interface Step {
  /** what to do, an imperative with its number */
  readonly do: string;
  /** what is seen, heard or felt when it went right */
  readonly right: string;
  /** the sign that it did not, and what to do then */
  readonly wrong?: string;
  /** what a trained adult does at this step; the learner does what `do` says, and never this */
  readonly adult?: string;
  /** what is written down, and where */
  readonly write?: string;
  /** hazards of data/tables/hazards.csv that begin here, besides those known by their words */
  readonly minds?: readonly string[];
  /** the drawing that shows it */
  readonly drawing?: HandDrawing;
}

/** What a stage's procedure is written as. */
export interface Work {
  /** what will have been done, as a title: "Bevel two discs" */
  readonly title: string;
  /** who may do it */
  readonly who: string;
  /** what lies ready */
  readonly bench: readonly string[];
  /** what whoever is alone does instead, honestly */
  readonly alone: string;
  readonly steps: readonly Step[];
}

/** A step with the cautions that are said before it. */
export interface CautionedStep extends Step {
  /** sentences of hazards.csv, each before the first step it belongs to */
  readonly cautions: readonly string[];
}

/** A stage's procedure, ready to be shown, printed or given one step at a time. */
export interface Procedure extends Omit<Work, "steps"> {
  /** its own name: the stage's, or "care" */
  readonly name: string;
  /** name of the stage on whose page it stands: "grind-hollow" */
  readonly stage: string;
  readonly steps: readonly CautionedStep[];
}

/** The numbers of this very mirror that steps quote; lengths mm. */
export interface BenchNumbers {
  readonly aperture: number;
  readonly focalLength: number;
  /** twice the focal length */
  readonly radius: number;
  /** wanted depth of the curve */
  readonly depth: number;
  readonly thickness: number;
  /** how far beside the centre a rough stroke passes */
  readonly side: number;
  /** a stroke from end to end */
  readonly length: number;
  /** how far the upper disc hangs over at an end of a rough stroke */
  readonly overhang: number;
}

/**
 * The numbers of a record that steps quote.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const { side, length, overhang } = benchNumbers({ aperture: 150, focalLength: 1200, thickness: 25 });
 * assert.deepEqual([side, length, overhang].map(Math.round), [38, 50, 45]);
 * ```
 */
export function benchNumbers(
  { aperture, focalLength, thickness }: Pick<Settings, "aperture" | "focalLength" | "thickness">,
): BenchNumbers {
  const side = fact("stroke_side") * aperture, length = fact("stroke_length") * aperture;
  return {
    ...{ aperture, focalLength, thickness, side, length },
    radius: 2 * focalLength,
    depth: sagitta(aperture, 2 * focalLength),
    overhang: Math.hypot(side, length / 2),
  };
}

/** Units as they stand behind a number at the bench. */
const units: Readonly<Record<string, string>> = {
  deg: "°",
  "deg C": " °C",
  um: " µm",
  "um/min": " µm a minute",
  "strokes/min": " strokes a minute",
};

/** With a space that does not break a line. */
const unitOf = (unit: string): string =>
  unit === "" ? "" : (units[unit] ?? ` ${unit}`).replace(/^ /, "\u00a0");

const plain = (value: number): string => String(Number(value.toPrecision(3)));

/** What kitchen scales, a spoon and a bathroom scale can show: for other discs than 150 mm a number is rounded to that. */
const shown: Readonly<Record<string, (value: number) => number>> = {
  g: (value) => value < 20 ? Math.round(2 * value) / 2 : 5 * Math.round(value / 5),
  ml: (value) => Math.max(1, Math.round(value)),
  kg: (value) => value < 3 ? Math.round(10 * value) / 10 : Math.round(2 * value) / 2,
};

const scaled = (value: number, times: number, unit: string): number =>
  times === 1 ? value : (shown[unit] ?? ((one: number): number => one))(value * times);

function measure(value: number, unit: string): string {
  if (unit === "share") return `${plain(100 * value)}\u00a0%`;
  const one = value === 1 && /[^s]s$/.test(unit) ? unit.slice(0, -1) : unit;
  return `${plain(value)}${unitOf(one)}`;
}

/**
 * A shared fact as it is said: value and unit.
 *
 * @param times  a factor, as of the area for a charge on a larger disc
 * @throws {RangeError} when there is no such fact
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual([said("press_cold"), said("turn_upper"), said("warm_water")], ["15\u00a0min", "150°", "45\u00a0°C"]);
 * ```
 */
export function said(name: string, times = 1): string {
  const { value, unit } = factRow(name);
  return measure(scaled(value, times, unit), unit);
}

/**
 * A shared fact with the range within which it works.
 *
 * @throws {RangeError} when there is no such fact, or it has no range
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(about("press_cold"), "15\u00a0min (10 to 30)");
 * ```
 */
export function about(name: string): string {
  const { low, high } = ranged(name);
  return `${said(name)} (${plain(low)} to ${plain(high)})`;
}

/**
 * A shared fact as its range alone.
 *
 * @param times  a factor, as of the area
 * @throws {RangeError} when there is no such fact, or it has no range
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(from("charge_lasts_coarse"), "3 to 6\u00a0min");
 * ```
 */
export function from(name: string, times = 1): string {
  const { low, high, unit } = ranged(name);
  return `${plain(scaled(low, times, unit))} to ${measure(scaled(high, times, unit), unit)}`;
}

function ranged(
  name: string,
): { readonly low: number; readonly high: number; readonly unit: string } {
  const { value, low = value, high = value, unit } = factRow(name);
  if (low === high) throw new RangeError(`a range requires a fact with low and high, got ${name}`);
  return { low, high, unit };
}

/**
 * A wait for glass of another thickness than the 25 mm that its fact is for, to five minutes.
 *
 * Air cools a plate in proportion to its thickness; warmth of a hand goes through it with the square, less what the air takes
 * meanwhile: 20, 30, 40 and 60 min for 19, 25, 32 and 40 mm, the power of 1.4.
 *
 * @param name       a fact in minutes
 * @param thickness  mm, above 0
 * @param power      1 for air, 1.4 for a touch or a bath
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const touched = [19, 25, 32, 40].map((mm) => waited("touch_bare", mm, 1.4).replace("\u00a0min", ""));
 * assert.deepEqual(touched, ["20", "30", "40", "60"]);
 * assert.equal(waited("wait_2", 40), "295\u00a0min");
 * ```
 */
export function waited(name: string, thickness: number, power = 1): string {
  const minutes = factRow(name).value * (thickness / 25) ** power;
  return measure(5 * Math.round(minutes / 5), "min");
}

/** A length of this mirror at the bench, whole millimetres unless digits are asked for. */
export function mm(length: number, digits = 0): string {
  return `${Number(length.toFixed(digits))}\u00a0mm`;
}

/** Everything a step says, for whoever looks for words in it. */
export function wordsOf({ do: what, right, wrong, adult, write }: Step): string {
  return [what, right, wrong, adult, write].filter(Boolean).join(" ");
}

/**
 * Puts each caution before the first step it belongs to: the first in whose words the hazard is known or that names it, else
 * the first step of all.
 *
 * @param name  the procedure's own, where it is not the stage's
 * @throws {RangeError} where a step names a hazard that the list does not have for this stage
 */
export function cautioned(stage: string, work: Work, name: string = stage): Procedure {
  const met = hazards().filter(({ pages }) => pages.includes(stage));
  for (const name of work.steps.flatMap(({ minds = [] }) => minds)) {
    if (!met.some(({ hazard }) => hazard === name)) {
      throw new RangeError(`a step of ${stage} requires hazards of that page, got ${name}`);
    }
  }
  const begins = ({ hazard, knownBy }: Hazard): number =>
    Math.max(
      0,
      work.steps.findIndex((step) => step.minds?.includes(hazard) || knownBy.test(wordsOf(step))),
    );
  return {
    ...work,
    name,
    stage,
    steps: work.steps.map((step, i) => ({
      ...step,
      cautions: met.filter((hazard) => begins(hazard) === i).map(({ short }) => short),
    })),
  };
}
