/** Quantities in sentences: in markup and in words. */
import type { Measured } from "../quantity/measured.ts";
import { formatMeasured, formatQuantityHtml } from "../quantity/format.ts";
import { Html, type HtmlValue, safe, trusted } from "./html.ts";

/** A quantity as markup: value in ink, uncertainty and unit a step back. */
export function quantityHtml(quantity: Measured): Html {
  return trusted(formatQuantityHtml(quantity));
}

/** Value and uncertainty without the unit, for a label whose axis has the unit. */
export function plusMinus(quantity: Measured): string {
  return inWords({ ...quantity, unit: "" }).trim();
}

/** The same in words, with a true minus. */
export function inWords(quantity: Measured): string {
  return formatMeasured(quantity).replace(/-(?=\d)/g, "−");
}

/** A sentence in markup and in words. */
export interface Said {
  readonly html: string;
  readonly text: string;
}

function isMeasured(value: unknown): value is Measured {
  return typeof value === "object" && value !== null && "u" in value && "dof" in value;
}

/**
 * A sentence with quantities in it, the usual result of a cell.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { measured } from "../quantity/measured.ts";
 * const sentence = say`The focal length is ${measured(1203, 4, "mm")}.`;
 * assert.match(sentence.text, /1203 mm ± 4 mm/);
 * ```
 */
export function say(literals: TemplateStringsArray, ...values: (Measured | HtmlValue)[]): Said {
  const parts = values.map((v) => isMeasured(v) ? quantityHtml(v) : v);
  const words = values.map((v) =>
    isMeasured(v) ? inWords(v) : v instanceof Html ? v.markup.replace(/<[^>]*>/g, "") : v
  );
  const text = literals.map((literal, i) => literal + (words[i] ?? "")).join("");
  return { html: safe`<p class="out">${safe(literals, ...parts)}</p>`.markup, text };
}

/** A probability as one says it: never 1, never 0. */
export function probabilityText(probability: number): string {
  if (probability > 0.99) return "above 0.99";
  return probability < 0.01 ? "below 0.01" : probability.toFixed(2);
}
