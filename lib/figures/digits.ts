/** Numbers as they stand in figures: a true minus, fixed digits. */

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
