/** Units at the edge of the kit: what people write, turned into the kit's own units. */
import type { Unit } from "mathjs";
import { everydayUnit, OWN } from "./everydayUnits.ts";
import { mathjs } from "./mathjs.ts";

/** A number with its unit. */
export interface Quantity {
  /** in `unit` */
  readonly value: number;
  /** symbol as typed: "mm", "in", "deg" */
  readonly unit: string;
}

/** The kit's unit for each of mathjs's nine dimensions (mass, length, time, ..., angle, bit). */
const BASE_UNITS = ["g", "mm", "min", "A", "K", "cd", "mol", "rad", "b"] as const;

/** Names offered where a unit is not known. */
const COMMON = (
  "mm cm m km um nm in inch inches ft yard mil thou micron rad mrad deg arcmin arcsec s second sec min minute minutes h " +
  "hour hours day g kg mg lb oz degC degF K Hz W N J Pa"
).split(" ");

/** How a bare number could be read, by the unit that is wanted. */
const READINGS: readonly (readonly [string, string])[] = [
  ["mm", "in"],
  ["nm", "um"],
  ["rad", "deg"],
  ["min", "h"],
  ["g", "oz"],
  ["degC", "degF"],
];

/**
 * Reads a quantity as people write it: a number (also `1/8`, `1 1/2`, `1-1/2` or `1½`) and a unit; `3 ft 4 in` and `3' 4"`.
 *
 * @param text  e.g. "6 in", "150mm", "1/8 in", "46.4 deg", "0.005 mm"
 * @param unit  the unit wanted; default the kit's own: mm, rad, min, g, degC, or their products
 * @returns the value in that unit
 * @throws {RangeError} for a bare number, a decimal comma, an unknown unit, one of another kind, or a number that is not
 *   finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(quantity("6 in"), { value: 152.4, unit: "mm" });
 * assert.deepEqual(quantity("0.55 um", "nm"), { value: 550, unit: "nm" });
 * ```
 */
export function quantity(text: string, unit?: string): Quantity {
  const parts = feetAndInches(text);
  if (parts !== undefined) return { value: convert(parts, "in", unit ?? "mm"), unit: unit ?? "mm" };
  const { value, unitText } = splitQuantity(text, unit);
  const everyday = everydayUnit(unitText);
  const to = unit ?? (everyday ? OWN[everyday.kind] : kitUnit(parseUnit(unitText, text)));
  if (!everyday) parseUnit(unitText, text);
  return { value: toUnit(value, unitText, to), unit: to };
}

/**
 * The same value in another unit.
 *
 * @param value  finite
 * @param from   unit it is in
 * @param to     unit wanted, of the same kind
 * @throws {RangeError} for an unknown unit or two units of different kinds
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(convert(2, "thou", "mm"), 0.0508);
 * ```
 */
export function convert(value: number, from: string, to: string): number {
  if (!Number.isFinite(value)) {
    throw new RangeError(`convert requires a finite value, got ${value} ${from}`);
  }
  if (!everydayUnit(tidyUnit(from))) parseUnit(from, from);
  return toUnit(value, tidyUnit(from), to);
}

/** `3 ft 4 in`, `3' 4 1/2"`: in inches; undefined where it is no such pair. */
function feetAndInches(text: string): number | undefined {
  const pair =
    /^(\d+)\s*(?:ft\.?|feet|foot|['\u2032])\s*(.+?)\s*(?:in\.?|inch|inches|["\u2033\u201d]|'')$/i
      .exec(withPlainFractions(text.trim()));
  if (pair === null) return undefined;
  const inches = readNumber((pair[2] ?? "").trim());
  return Number.isFinite(inches) && inches >= 0 && inches < 12
    ? 12 * Number(pair[1]) + inches
    : undefined;
}

const GLYPHS: Readonly<Record<string, string>> = {
  "½": "1/2",
  "¼": "1/4",
  "¾": "3/4",
  "⅛": "1/8",
  "⅜": "3/8",
  "⅝": "5/8",
  "⅞": "7/8",
};

/** Fractions that are one sign, or hang on a whole number by a dash, as the reader knows them: `40 1/4`. */
function withPlainFractions(text: string): string {
  return text.replace(/[½¼¾⅛⅜⅝⅞]/g, (glyph) => ` ${GLYPHS[glyph]} `)
    .replace(/^([-+−]?\d+)-(\d+ *\/ *\d+)/, "$1 $2")
    .replace(/^([-+−]?\d+) {2,}/, "$1 ").trim();
}

function toUnit(value: number, from: string, to: string): number {
  const own = everydayUnit(from), other = everydayUnit(tidyUnit(to));
  if (own && other && own.kind === other.kind) {
    return finite(value * own.size / other.size, value, from);
  }
  const wanted = parseUnit(to, to), given = mathjs().unit(value, from);
  if (!given.equalBase(wanted)) {
    throw new RangeError(
      `a quantity in ${to} requires a unit of the same kind, got ${value} ${from}`,
    );
  }
  return finite(given.toNumber(tidyUnit(to)), value, from);
}

function finite(result: number, value: number, from: string): number {
  if (Number.isFinite(result)) return shortest(result);
  throw new RangeError(`a quantity requires a finite value, got ${value} ${from}`);
}

/** The shorter decimal where it is the same number but for rounding: 152.4 for 152.39999999999998. */
function shortest(value: number): number {
  const short = Number(value.toPrecision(14));
  return Math.abs(short - value) <= 4 * Number.EPSILON * Math.abs(value) ? short : value;
}

/** Number and unit of a text; refuses what could be read in two ways. */
function splitQuantity(text: string, wanted?: string): { value: number; unitText: string } {
  const parts = /^([-+−]?(?:\d+ +)?\d+ *\/ *\d+|[-+−]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?)(.*)$/i
    .exec(withPlainFractions(text.trim()));
  if (!parts) throw new RangeError(`quantity requires a number and a unit, got "${text}"`);
  const numberText = (parts[1] ?? "").replace("−", "-"), rest = (parts[2] ?? "").trim();
  if (/^,\d/.test(rest)) {
    throw new RangeError(
      `quantity requires a decimal point, got "${text}"; write "${text.trim().replace(",", ".")}"`,
    );
  }
  const value = readNumber(numberText);
  if (!Number.isFinite(value)) {
    throw new RangeError(`quantity requires a finite number, got "${text}"`);
  }
  if (rest === "") throw new RangeError(bareNumber(text, value, wanted));
  return { value, unitText: tidyUnit(rest) };
}

function bareNumber(text: string, value: number, wanted = "mm"): string {
  const pair = READINGS.find(([own]) => own === wanted) ?? READINGS.find((p) => p[1] === wanted);
  if (!pair) return `quantity requires a unit, got "${text}"; ${value} ${wanted}?`;
  const [first, second] = pair;
  const other = Number(toUnit(value, second, first).toPrecision(6));
  return `quantity requires a unit, got "${text}": ${value} ${first} or ${value} ${second} (${other} ${first})?`;
}

/** "1.5", "1/8" or "1 1/2" as a number. */
function readNumber(text: string): number {
  const fraction = /^([-+]?)(?:(\d+) +)?(\d+) *\/ *(\d+)$/.exec(text);
  if (!fraction) return Number(text);
  const [, sign, whole = "0", top, bottom] = fraction;
  const size = Number(whole) + Number(top) / Number(bottom);
  return sign === "-" ? -size : size;
}

/** Signs people type, and how mathjs spells them. */
const SPELLINGS: readonly (readonly [RegExp, string])[] = [
  [/[µμ]/g, "u"],
  [/^(?:[″"”]|'')$/, "in"],
  [/^([a-z]+)\.$/i, "$1"],
  [/^°$/, "deg"],
  [/°([CF])/, "deg$1"],
  [/²/g, "^2"],
  [/³/g, "^3"],
  [/[·⋅]/g, "*"],
  [/^1? *\/ *([a-z]+)$/i, "$1^-1"],
  [/^1? *\/ *([a-z]+)\^(\d+)$/i, "$1^-$2"],
];

function tidyUnit(unit: string): string {
  const tidy = SPELLINGS.reduce((text, [typed, spelt]) => text.replace(typed, spelt), unit.trim());
  const lower = tidy.toLowerCase(); // a telephone begins a word with a capital
  return !COMMON.includes(tidy) && COMMON.includes(lower) ? lower : tidy;
}

function parseUnit(unit: string, text: string): Unit {
  const tidy = tidyUnit(unit);
  try {
    if (/^[a-z(][a-z0-9()^*/ .-]*$/i.test(tidy)) return mathjs().unit(tidy);
  } catch { // mathjs's own message names neither the text nor a remedy
  }
  const near = COMMON.filter((name) => editDistance(name, tidy.toLowerCase()) <= 1).slice(0, 3);
  const hint = near.length > 0 ? `; did you mean ${near.join(" or ")}?` : "; for example mm or in";
  throw new RangeError(`quantity requires a unit it knows, got "${unit}" in "${text}"${hint}`);
}

/** The kit's unit of a unit's kind: mm for any length, "g/mm^3" for any density. */
function kitUnit(unit: Unit): string {
  const { dimensions } = unit as unknown as { readonly dimensions: readonly number[] };
  const factors = BASE_UNITS.map((name, i) => ({ name, power: dimensions[i] ?? 0 }))
    .filter(({ power }) => power !== 0);
  if (factors.length === 1 && factors[0]?.name === "K" && factors[0].power === 1) return "degC";
  const write = (list: typeof factors, sign: number): string =>
    list.map(({ name, power }) => power * sign === 1 ? name : `${name}^${power * sign}`).join(" ");
  const above = factors.filter((f) => f.power > 0), below = factors.filter((f) => f.power < 0);
  if (below.length === 0) return write(above, 1);
  if (above.length > 0 && below.length === 1) return `${write(above, 1)}/${write(below, -1)}`;
  if (above.length > 0) return `${write(above, 1)}/(${write(below, -1)})`;
  return below.length === 1 ? `1/${write(below, -1)}` : write(below, 1);
}

/** How many letters must be changed, added or dropped to turn one word into the other. */
function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = (row[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(change, (row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1));
    }
    row = next;
  }
  return row[b.length] ?? 0;
}
