import assert from "node:assert/strict";

/** Asserts that two numbers agree within a share of the wanted one; the message says by how much they do. */
export function near(got: number | undefined, wanted: number, within = 1e-3, what = ""): void {
  const off = got === undefined ? NaN : Math.abs(got - wanted) / Math.abs(wanted);
  assert.ok(off <= within, `${what} got ${got}, wanted ${wanted}, off by ${off.toExponential(2)}`);
}
