/** What a live figure is: a picture of a few values, sliders for them, and one number that tests can read; and what all figures share. */
import { type Html, safe } from "../html.ts";
import type { Paint } from "./pixels.ts";
import { fixed, type Scale } from "../scale.ts";
import { group, type Point, stroke, words } from "../pen.ts";

/** A value the reader slides. */
export interface Control {
  readonly key: string;
  readonly label: string;
  readonly min: number;
  readonly max: number;
  readonly step: number;
  readonly digits: number;
  /** as printed, and as said aloud: "mm", "millimetres" */
  readonly unit: string;
  readonly spoken: string;
  /** words in place of the numbers 0, 1, ...: "on top", "below" */
  readonly choices?: readonly string[];
}

/** The values as they stand, by the keys of the controls; further keys are set by the notebook and stay. */
export type Values = Readonly<Record<string, number>>;

/** A live figure; everything in it is a pure function of the values, so the still and the page draw the same. */
export interface LiveFigure {
  readonly name: string;
  readonly controls: readonly Control[];
  readonly start: Values;
  /** drawings, and pixels through `paint` */
  readonly picture: (values: Values, paint: Paint) => Html;
  /** the reading beside the picture */
  readonly reading: (values: Values) => Html;
  /** the figure's main number, exposed as `data-value` */
  readonly value: (values: Values) => number;
  readonly caption: Html;
}

/** A value of a figure; the figures ask only for keys they start with. */
export function valueOf(values: Values, key: string): number {
  const value = values[key];
  if (value === undefined || !Number.isFinite(value)) {
    throw new RangeError(`a live figure requires a finite ${key}, got ${value}`);
  }
  return value;
}

/**
 * The same function, with its last answer kept: picture, reading and value of one place on the sliders reckon once.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * let calls = 0;
 * const slow = once((values) => ++calls + valueOf(values, "a"));
 * assert.deepEqual([slow({ a: 1 }), slow({ a: 1 }), slow({ a: 2 })], [2, 2, 4]);
 * ```
 */
export function once<R>(reckon: (values: Values) => R): (values: Values) => R {
  let last: { readonly key: string; readonly answer: R } | undefined;
  return (values) => {
    const key = JSON.stringify(values);
    if (last?.key !== key) last = { key, answer: reckon(values) };
    return last.answer;
  };
}

/** A value as it is printed beside its slider, and as it is said aloud. */
export function printed(control: Control, values: Values): { text: string; spoken: string } {
  const choice = control.choices?.[Math.round(valueOf(values, control.key))];
  if (choice !== undefined) return { text: choice, spoken: choice };
  const digits = fixed(valueOf(values, control.key), control.digits);
  return { text: `${digits} ${control.unit}`, spoken: `${digits} ${control.spoken}` };
}

/** As tall as a finger whatever the page around makes of a rem: in the classic notebook it is 10 px. */
function slider(control: Control, values: Values): Html {
  const { key, label, min, max, step } = control, { text, spoken } = printed(control, values);
  return safe`<div class="control"><label>${label} <output>${text}</output><input type="range" name="${key}" min="${min}" max="${max}" step="${step}" value="${
    valueOf(values, key)
  }" aria-label="${label}" aria-valuetext="${spoken}" autocomplete="off" style="min-height:44px"></label></div>\n`;
}

/** What the page's script puts in: sliders, and how to move them. */
export function sliders(figure: LiveFigure, values: Values): Html {
  return safe`${figure.controls.map((control) => slider(control, values))}`;
}
export const hint = "The arrow keys move a slider by one step.";

/**
 * Hairlines across a plot, numbered at the left.
 *
 * @param values  where they run
 * @param y       from a value to its place, px
 * @param name    a value as it is written
 * @param ends    left and right end of the lines, px
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { scale } from "../scale.ts";
 * const lines = levels([0, 1], scale(0, 1, 146, 26), String).markup;
 * assert.deepEqual(lines.match(/>[01]</g), [">0<", ">1<"]);
 * ```
 */
export function levels(
  values: readonly number[],
  y: Scale,
  name: (value: number) => string,
  [left, right]: Point = [44, 340],
): Html {
  return group(values.map((value) =>
    group(
      stroke("lead", [left, y(value)], [right, y(value)], "stroke:var(--hair)"),
      words([left - 6, y(value) + 4.5], name(value), { kind: "soft", anchor: "end" }),
    )
  ));
}
