/** Numbers as a metrologist prints them: as many digits as the uncertainty allows, and no more. */
import type { Measured } from "./measured.ts";

/** Thin space between a number and its unit in HTML. */
const THIN = "\u2009";

const SYMBOLS: Readonly<Record<string, string>> = {
  um: "µm",
  "um/min": "µm/min",
  degC: "°C",
  deg: "°",
  arcmin: "arcmin",
  wave: "wave",
};

/**
 * Millimetres as a sentence prints them: six digits, no dust of binary fractions.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(mm(0.1 + 0.2), "0.3 mm");
 * ```
 */
export function mm(value: number): string {
  return `${Number(value.toPrecision(6))} mm`;
}

/**
 * A measured value in one line, the uncertainty one standard uncertainty: "1203 mm ± 4 mm".
 *
 * The uncertainty has two digits where they begin with 1 or 2, else one; the value stops at the same place. Where the
 * uncertainty is 0 the value stands alone.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(formatMeasured({ value: 1203.3, u: 4.2, dof: 5, unit: "mm" }), "1203 mm ± 4 mm");
 * assert.equal(formatMeasured({ value: 0.9653, u: 0.0118, dof: 5, unit: "mm" }), "0.965 mm ± 0.012 mm");
 * ```
 */
export function formatMeasured(m: Measured): string {
  const unit = m.unit === "" ? "" : ` ${unitSymbol(m.unit)}`;
  const { value, u } = measuredDigits(m.value, m.u);
  return u === undefined ? `${value}${unit}` : `${value}${unit} ± ${u}${unit}`;
}

/**
 * The same as HTML for a page: `<span class="q">0.965 <i>± 0.012</i> mm</span>`.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(
 *   formatQuantityHtml({ value: -0.9653, u: 0.0118, dof: 5, unit: "mm" }),
 *   '<span class="q">−0.965 <i>± 0.012</i>\u2009mm</span>',
 * );
 * ```
 */
export function formatQuantityHtml(m: Measured): string {
  const unit = m.unit === "" ? "" : THIN + escapeHtml(unitSymbol(m.unit));
  const { value, u } = measuredDigits(m.value, m.u);
  const doubt = u === undefined ? "" : ` <i>± ${u}</i>`;
  return `<span class="q">${value.replaceAll("-", "−")}${doubt.replaceAll("-", "−")}${unit}</span>`;
}

/**
 * Value and uncertainty as text, cut to the uncertainty's digits.
 *
 * @param value  finite
 * @param u      standard uncertainty, 0 or more
 * @returns `u` is absent where it is 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(measuredDigits(2396.47, 3.26), { value: "2396", u: "3" });
 * assert.deepEqual(measuredDigits(2396.47, 26), { value: "2396", u: "26" });
 * ```
 */
export function measuredDigits(value: number, u: number): { value: string; u?: string } {
  if (!(Number.isFinite(value) && Number.isFinite(u) && u >= 0)) {
    throw new RangeError(`measuredDigits requires finite value and u >= 0, got ${value}, ${u}`);
  }
  if (u === 0) return { value: formatNumber(value) };
  const place = uncertaintyPlace(u);
  const size = Math.max(Math.abs(value), u);
  if (size < 1e-4 || size >= 1e7) return powerOfTen(value, u, place);
  return { value: toPlace(value, place), u: toPlace(u, place) };
}

/**
 * Place of the last digit an uncertainty is printed to, as a power of ten: 0 for "4", -3 for "0.012", 1 for "120".
 *
 * @param u  above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual([4.2, 0.0118, 118, 0.96].map(uncertaintyPlace), [0, -3, 1, -1]);
 * ```
 */
export function uncertaintyPlace(u: number): number {
  if (!(u > 0 && Number.isFinite(u))) {
    throw new RangeError(`uncertaintyPlace requires a finite u above 0, got u=${u}`);
  }
  const [digits = "", exponent = "0"] = u.toExponential(1).split("e");
  return Number(exponent) - (digits.startsWith("1") || digits.startsWith("2") ? 1 : 0);
}

/**
 * A number without an uncertainty: at most six significant digits, no trailing zeros.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual([152.4, 1 / 3, 1200, 0.0000021].map((x) => formatNumber(x)), ["152.4", "0.333333", "1200", "2.1 × 10^-6"]);
 * ```
 */
export function formatNumber(value: number, digits = 6): string {
  if (!Number.isFinite(value)) {
    throw new RangeError(`formatNumber requires a finite value, got ${value}`);
  }
  const rounded = Number(value.toPrecision(digits)), size = Math.abs(rounded);
  if (size === 0) return "0";
  if (size >= 1e-4 && size < 1e9) return String(rounded);
  const [mantissa = "", exponent = ""] = rounded.toExponential().split("e");
  return `${mantissa} × 10^${exponent.replace("+", "")}`;
}

/**
 * A unit as printed: "µm" for "um", "°C" for "degC", others as they are.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(unitSymbol("um"), "µm");
 * ```
 */
export function unitSymbol(unit: string): string {
  return SYMBOLS[unit] ?? unit;
}

function toPlace(value: number, place: number): string {
  const text = place <= 0
    ? value.toFixed(-place)
    : (Math.round(value / 10 ** place) * 10 ** place).toFixed(0);
  return Number(text) === 0 ? text.replace("-", "") : text;
}

function powerOfTen(value: number, u: number, place: number): { value: string; u: string } {
  const power = Math.floor(Math.log10(Math.max(Math.abs(value), u)));
  const scale = 10 ** power, ten = ` × 10^${power}`;
  return {
    value: toPlace(value / scale, place - power) + ten,
    u: toPlace(u / scale, place - power) + ten,
  };
}

function escapeHtml(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}
