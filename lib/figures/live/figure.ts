/** What a live figure is: a picture of a few values, sliders for them, and one number that tests can read. */
import type { Html } from "../html.ts";
import type { Paint } from "./pixels.ts";

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
