/** A straight scale from values to places on the sheet, and round numbers to mark on it. */

/** Turns a value into a place on the sheet, in px. */
export type Scale = (value: number) => number;

/**
 * A scale that runs straight from one pair to another; a domain without width gets one around it.
 *
 * @param from  value at `at0`
 * @param to    value at `at1`
 * @throws {RangeError} where one of the four is not finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(scale(0, 10, 100, 200)(5), 150);
 * ```
 */
export function scale(from: number, to: number, at0: number, at1: number): Scale {
  if (![from, to, at0, at1].every(Number.isFinite)) {
    throw new RangeError(`scale requires finite ends, got from=${from}, to=${to}`);
  }
  const width = to - from || 1;
  const start = to === from ? from - 0.5 : from;
  return (value) => at0 + ((value - start) / width) * (at1 - at0);
}

/**
 * A round step: 1, 2 or 5 times a power of ten, so that about `count` steps fill the span.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(roundStep(0.35, 7), 0.05);
 * ```
 */
export function roundStep(span: number, count: number): number {
  const raw = Math.abs(span) / Math.max(1, count);
  if (!(raw > 0) || !Number.isFinite(raw)) return 1;
  const power = Math.floor(Math.log10(raw));
  const mantissa = raw / 10 ** power;
  const round = mantissa < Math.SQRT2
    ? 1
    : mantissa < Math.sqrt(10)
    ? 2
    : mantissa < Math.sqrt(50)
    ? 5
    : 10;
  return power < 0 ? round / 10 ** -power : round * 10 ** power;
}

/**
 * Round values to mark between two ends, both included where they are round.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(ticks(0.9, 1.25, 4), [0.9, 1, 1.1, 1.2]);
 * ```
 */
export function ticks(from: number, to: number, count: number): number[] {
  const step = roundStep(to - from, count);
  const first = Math.ceil(from / step - 1e-9), last = Math.floor(to / step + 1e-9);
  const marks: number[] = [];
  for (let i = first; i <= last; i++) {
    marks.push((step < 1 ? i / Math.round(1 / step) : i * step) + 0);
  }
  return marks;
}

/**
 * Ends that hold all the values with some room, never of zero width.
 *
 * @param room  share of the span added on either side
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(extent([2, 2], 0.1), [1.9, 2.1]);
 * ```
 */
export function extent(values: readonly number[], room = 0.06): [number, number] {
  const finite = values.filter(Number.isFinite);
  if (finite.length === 0) return [0, 1];
  const low = Math.min(...finite), high = Math.max(...finite);
  const size = Math.max(Math.abs(low), Math.abs(high));
  const span = high - low > 1e-9 * size ? high - low : size > 1e-100 ? size / 2 : 1;
  return [low - room * span, high + room * span];
}

// Numbers as they stand in figures: a true minus, fixed digits.

/**
 * A number with fixed digits and a true minus sign.
 *
 * @param digits  digits after the point, 0 to 20
 * @throws {RangeError} where the number is NaN or infinite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(fixed(-0.66667, 2), "−0.67");
 * assert.equal(fixed(-0.001, 1), "0.0");
 * ```
 */
export function fixed(value: number, digits = 0): string {
  if (!Number.isFinite(value)) throw new RangeError(`fixed requires a finite number, got ${value}`);
  const text = value.toFixed(digits);
  return Number(text) === 0 ? text.replace("-", "") : text.replace("-", "−");
}

/** The same with a plus before what is above zero: heights over and under a wanted curve. */
export function signed(value: number, digits = 0): string {
  const text = fixed(value, digits);
  return Number(text.replace("−", "-")) > 0 ? `+${text}` : text;
}

/** Digits after the point that a step needs: 0.05 needs two, 20 none. */
export function digitsOf(step: number): number {
  for (let digits = 0; digits < 8; digits++) {
    const scaled = step * 10 ** digits;
    const off = Math.abs(scaled - Math.round(scaled));
    if (off < 1e-6 * Math.min(1, Math.abs(scaled))) return digits;
  }
  return 8;
}
