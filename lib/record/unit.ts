/** Units as makers write them, to the kit's own: mm, rad, min, g. */
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
const known = new Map<string, number | undefined>();

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
  if (!known.has(key) && known.size < 1000) known.set(key, askedFactor(unit, dimension));
  return known.get(key);
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
