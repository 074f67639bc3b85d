import assert from "node:assert/strict";

/** Fails where a value lies outside a range. */
export function within(value: number, low: number, high: number): void {
  assert.ok(value >= low && value <= high, `${value} should lie in ${low}..${high}`);
}
