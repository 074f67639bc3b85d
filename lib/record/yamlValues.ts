/** Readers for single values in mirror.yaml: words, numbers, measures with their unit. */
import { isMap, isScalar, isSeq } from "yaml";
import { quantity } from "../quantity/units.ts";
import { clean } from "./clean.ts";
import { type Findings, shown } from "./errors.ts";
import { nearest } from "./nearest.ts";
import { parseNumber } from "./number.ts";
import type { Place } from "./types.ts";
import { BASE, type Dimension, unitFactor } from "./unit.ts";
import type { Context, Reader } from "./yaml.ts";

/** The characters that stood there, whatever YAML takes them for: `yes`, `2026` and `1.0` are words too. */
export function sourceOf(node: unknown): string {
  if (isScalar(node)) return String(node.source ?? node.value ?? "");
  if (isMap(node)) return "{ ... }";
  return isSeq(node) ? "[ ... ]" : "";
}

/** One value, its text given to `read`; refuses lists, groups and nothing at all. */
export function scalar<T>(read: (text: string, context: Context) => T | undefined): Reader<T> {
  return (node, context) => {
    const { findings, place } = context;
    if (node !== null && !isScalar(node)) {
      findings.refuse(place, shown(sourceOf(node)), "one value", "write it after the colon");
      return undefined;
    }
    const text = sourceOf(node).trim();
    if (text !== "") return read(text, context);
    findings.refuse(place, "nothing", "a value", "write it after the colon, or take the key out");
    return undefined;
  };
}

/** Words as they stand, at most 200 letters. */
export const words: Reader<string> = scalar((text, { findings, place }) => {
  if (text.startsWith("=")) {
    findings.refuse(place, `the formula ${shown(text)}`, "words", "write what it comes to");
    return undefined;
  }
  if (text.length <= 200) return clean(text);
  findings.refuse(place, `${text.length} letters`, "at most 200", "make it shorter");
  return undefined;
});

/**
 * One of a few words; capitals do not count.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { Findings } from "./errors.ts";
 * import { readYaml } from "./yaml.ts";
 * const side = choice("left", "right");
 * assert.equal(readYaml("Left", "m.yaml", side, new Findings())?.value, "left");
 * ```
 */
export function choice<const C extends string>(...choices: readonly C[]): Reader<C> {
  return scalar((text, { findings, place }) => {
    const plain = text.toLowerCase().replace(/\s+/g, " ");
    const word = choices.find((one) => one.toLowerCase() === plain);
    if (word !== undefined) return word;
    const [near] = nearest(text, choices, 1);
    const mend = near === undefined ? "write one of them" : `did you mean ${near}?`;
    findings.refuse(place, shown(text), choices.join(" or "), mend);
    return undefined;
  });
}

/**
 * A pure number from least to most.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { Findings } from "./errors.ts";
 * import { readYaml } from "./yaml.ts";
 * assert.equal(readYaml("0.15", "m.yaml", number(0, 1), new Findings())?.value, 0.15);
 * ```
 */
export function number(least: number, most: number): Reader<number> {
  return scalar((text, { findings, place }) => {
    const value = parseNumber(text, ".");
    if (value === undefined) {
      findings.refuse(
        place,
        shown(text),
        "a number",
        "write digits with a decimal point, without a unit",
      );
      return undefined;
    }
    if (value >= least && value <= most) return value;
    findings.refuse(
      place,
      shown(text),
      `${least} to ${most}`,
      "no bench has this; look at the digits",
    );
    return undefined;
  });
}

const OTHER: Readonly<Record<Dimension, readonly [string, string]>> = {
  length: ["mm", "in"],
  angle: ["deg", "rad"],
  time: ["min", "h"],
  mass: ["g", "kg"],
};

/** Offered where a unit is not known. */
const UNITS: Readonly<Record<Dimension, readonly string[]>> = {
  length: ["mm", "cm", "um", "nm", "inch", "thou", "ft"],
  angle: ["deg", "rad", "arcmin", "arcsec"],
  time: ["min", "hour", "sec"],
  mass: ["g", "kg", "mg", "oz", "lb"],
};

/**
 * A number with its unit, e.g. `150 mm`, `6 in`, `0.3 kg`, in the kit's unit of that dimension.
 *
 * @param least  smallest value allowed, in that unit
 * @param most   largest
 * @param mend   what to do about a value beyond them
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { Findings } from "./errors.ts";
 * import { readYaml } from "./yaml.ts";
 * const length = measure("length", 0, 1000);
 * assert.equal(readYaml("4 1/2 in", "m.yaml", length, new Findings())?.value, 114.3);
 * ```
 */
export function measure(
  dimension: Dimension,
  least: number,
  most: number,
  mend = "no bench has this; look at the digits and the unit",
): Reader<number> {
  return scalar((text, { findings, place }) => {
    const value = measured(text, dimension, place, findings);
    if (value === undefined || (value >= least && value <= most)) return value;
    const [unit] = dimension === "angle" ? OTHER.angle : [BASE[dimension]];
    const [low, high] = [least, most].map((end) => tidy(end / (unitFactor(unit, dimension) ?? 1)));
    const wanted = `${low} to ${high} ${unit}`;
    findings.refuse(place, shown(text), wanted, mend);
    return undefined;
  });
}

function tidy(value: number): string {
  return String(Number(value.toPrecision(6)));
}

function measured(
  text: string,
  dimension: Dimension,
  place: Place,
  findings: Findings,
): number | undefined {
  const [mm, inches] = OTHER[dimension];
  const value = quantityIn(text, dimension);
  if (value !== undefined) return value;
  const parts = /^([+\-\u2212]?(?:(?:\d+ )?\d+\/\d+|[\d.,]+(?:e[+-]?\d+)?))\s*([^\d\s.,+-]*)$/i
    .exec(text);
  const [, typed = "", unit = ""] = parts ?? [];
  const digits = parseNumber(typed, ".");
  if (digits === undefined) {
    const mend = typed.includes(",") ? withPoint(typed, unit || mm) : `write it like 12.5 ${mm}`;
    findings.refuse(place, shown(text), `a number and a unit of ${dimension}`, mend);
  } else if (unit === "") {
    const factor = (name: string): number => unitFactor(name, dimension) ?? NaN;
    const other = tidy(digits * factor(inches) / factor(mm));
    const mend = `write ${typed} ${mm} or ${typed} ${inches} (which is ${other} ${mm})`;
    findings.refuse(place, `the bare number ${typed}`, `a unit of ${dimension}`, mend);
  } else {
    const near = nearest(unit, UNITS[dimension]).join(" or ");
    const mend = near === "" ? `write ${mm} or ${inches}, for example` : `did you mean ${near}?`;
    findings.refuse(place, `the unit ${shown(unit)}`, `a unit of ${dimension}`, mend);
  }
  return undefined;
}

/** How a number with a comma is written: by a point; where three digits follow it, both readings. */
function withPoint(typed: string, unit: string): string {
  const comma = /^([+\-\u2212]?\d+),(\d+)$/.exec(typed);
  if (comma === null) return "write a decimal point here, and no thousands marks";
  const [, whole = "", rest = ""] = comma;
  const point = `${whole}.${rest} ${unit}`;
  return rest.length === 3
    ? `write ${point} or ${whole}${rest} ${unit}, whichever is meant`
    : `write ${point}, with a decimal point`;
}

function quantityIn(text: string, dimension: Dimension): number | undefined {
  const parts = /^([^a-zµμ°]*?)\s*(µm|μm|°)$/i.exec(text);
  const plain = parts === null ? text : `${parts[1]} ${parts[2] === "°" ? "deg" : "um"}`;
  try {
    return quantity(plain.slice(0, 60), BASE[dimension]).value;
  } catch (error) {
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}
