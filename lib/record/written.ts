/** Numbers, units and days as makers write them, in a cell or behind a key, to the kit's own: mm, rad, min, g, ISO days. */
import { convert } from "../quantity/units.ts";

/** What a column or a key measures. */
export type Dimension = "length" | "angle" | "time" | "mass";

/** The kit's unit of each dimension. */
export const BASE: Readonly<Record<Dimension, string>> = {
  length: "mm",
  angle: "rad",
  time: "min",
  mass: "g",
};

const SPELLINGS: Readonly<Record<string, string>> = {
  "µm": "um",
  "μm": "um",
  "thou": "mil",
  "°": "deg",
  "'": "arcmin",
};
const factors = new Map<string, number | undefined>();

/**
 * How many of the kit's units one of these is; `undefined` when there is no such unit or it measures something else.
 *
 * @param unit       as written, e.g. "in", "um", "deg"
 * @param dimension  what it should measure
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(unitFactor("in", "length"), 25.4);
 * assert.equal(unitFactor("kg", "length"), undefined);
 * ```
 */
export function unitFactor(unit: string, dimension: Dimension): number | undefined {
  const key = `${dimension} ${unit}`;
  if (!factors.has(key) && factors.size < 1000) factors.set(key, askedFactor(unit, dimension));
  return factors.get(key);
}

function askedFactor(unit: string, dimension: Dimension): number | undefined {
  const name = SPELLINGS[unit] ?? unit;
  if (!/^[a-zA-Z]{1,20}$/.test(name)) return undefined;
  if (name === BASE[dimension]) return 1;
  try {
    const factor = convert(1, name, BASE[dimension]);
    return Number.isFinite(factor) && factor > 0 ? factor : undefined;
  } catch {
    return undefined;
  }
}

export type Decimal = "." | ",";

const NUMBER = /^[+-]?(\d+([.,]\d*)?|[.,]\d+)(e[+-]?\d{1,3})?$/i;

/** `1/128`, `40 1/4`, `40-1/4` */
const FRACTION = /^([+-]?)(?:(\d{1,6})[ -]+)?(\d{1,6})\/(\d{1,6})$/;

function ofFraction([, sign, whole = "0", top, bottom]: RegExpExecArray): number | undefined {
  const size = Number(whole) + Number(top) / Number(bottom);
  return Number.isFinite(size) ? (sign === "-" ? -size : size) : undefined;
}

/**
 * Reads a number as people write it: `0.88`, `0,88`, `+3`, `−2.5` (with a true minus), `1e-3`, `40 1/4`. Nothing else
 * counts: no units, no thousands marks, no words, no NaN, nothing infinite.
 *
 * @param text     what stands in the cell, without spaces at its ends
 * @param decimal  the file's decimal sign
 * @returns the number, or `undefined`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(parseNumber("0,88", ","), 0.88);
 * assert.equal(parseNumber("0,88", "."), undefined);
 * ```
 */
export function parseNumber(text: string, decimal: Decimal): number | undefined {
  const plain = text.replace("\u2212", "-");
  const fraction = FRACTION.exec(plain);
  if (fraction !== null) return ofFraction(fraction);
  if (plain.length > 40 || !NUMBER.test(plain)) return undefined;
  if (plain.includes(decimal === "." ? "," : ".")) return undefined;
  const value = Number(plain.replace(",", "."));
  return Number.isFinite(value) ? value : undefined;
}

/**
 * The decimal sign in a cell that has the shape of a number; `undefined` where it has none.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(decimalSign("0,88"), ",");
 * assert.equal(decimalSign("88"), undefined);
 * ```
 */
export function decimalSign(text: string): Decimal | undefined {
  if (!NUMBER.test(text.replace("\u2212", "-"))) return undefined;
  if (text.includes(",")) return ",";
  return text.includes(".") ? "." : undefined;
}
