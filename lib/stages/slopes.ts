/** The stage of repeated readings: the slopes of a formula, written as on paper. */
import { standingFormula } from "../figures/formula.ts";
import { type Shown, together } from "../figures/show.ts";
import type { FormulaResult } from "../quantity/derivative.ts";

/**
 * The slope of a formula by each of its inputs, as it is written on paper, with its value.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { measured } from "../quantity/measured.ts";
 * import { propagateFormula } from "../quantity/derivative.ts";
 * const found = propagateFormula("r^2 / 2", { r: measured(74, 0.15, "mm") });
 * assert.match(slopes("R", found).text, /dR\/dr = r = 74/);
 * ```
 */
export function slopes(name: string, found: FormulaResult): Shown {
  const lines = found.budget.map((line) => {
    const value = Number(line.sensitivity.toPrecision(3));
    const symbol = `\\frac{\\partial ${name}}{\\partial ${line.source}}`;
    return {
      html: standingFormula(`${symbol} = ${asWritten(line.partialTex)} = ${value}`),
      text: `d${name}/d${line.source} = ${line.partial} = ${value}`,
    };
  });
  return together(...lines);
}

/** mathjs takes some letters for units and sets them upright, keeps a factor of -1 at the end, and nests fractions. */
function asWritten(tex: string): string {
  const plain = tex.replace(/\\mathrm\{(\w)\}/g, "$1");
  const [above, below] = fraction(plain) ?? [];
  if (above === undefined || below === undefined) return plain;
  const inner = fraction(above);
  const [top, under] = inner === undefined ? [above, below] : [inner[0], `${inner[1]}\\,${below}`];
  const sign = top.endsWith("\\cdot-1") ? "-" : "";
  return `${sign}\\frac{${top.replace(/\\cdot-1$/, "")}}{${under}}`;
}

/** Numerator and denominator of a text that is one fraction and nothing else. */
function fraction(tex: string): readonly [string, string] | undefined {
  if (!tex.startsWith("\\frac{")) return undefined;
  const parts: string[] = [];
  let depth = 0, start = 0;
  for (let at = 5; at < tex.length; at++) {
    if (tex[at] === "{" && depth++ === 0) start = at + 1;
    if (tex[at] === "}" && --depth === 0) parts.push(tex.slice(start, at));
    if (parts.length === 2) {
      return at === tex.length - 1 ? [parts[0] ?? "", parts[1] ?? ""] : undefined;
    }
  }
  return undefined;
}
