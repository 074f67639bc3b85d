/** A cell's or key's digits to a number, by one decimal sign for the whole file. */

export type Decimal = "." | ",";

const SHAPE = /^[+-]?(\d+([.,]\d*)?|[.,]\d+)(e[+-]?\d{1,3})?$/i;

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
  if (plain.length > 40 || !SHAPE.test(plain)) return undefined;
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
  if (!SHAPE.test(text.replace("\u2212", "-"))) return undefined;
  if (text.includes(",")) return ",";
  return text.includes(".") ? "." : undefined;
}
