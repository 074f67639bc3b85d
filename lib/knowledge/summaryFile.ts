/** A summary as its file has it: the contract's names, words joined by underscores. */
import { QUANTITIES } from "./quantities.ts";
import type { Summary } from "./summaryTypes.ts";

/**
 * The name of a key in summary.json.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(["nextStep", "interval95", "u"].map(keyInFile), ["next_step", "interval_95", "u"]);
 * ```
 */
export function keyInFile(key: string): string {
  return key.replace(/(?<=[a-z])(?=[A-Z0-9])/g, "_").toLowerCase();
}

function inFile(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(inFile);
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, inner]) => [keyInFile(key), inFile(inner)]),
  );
}

/** summary.json's text: everything known of a mirror, for other programs. */
export function summaryText(summary: Summary): string {
  const whole = inFile(summary) as Keyed;
  for (const { key, of } of QUANTITIES) {
    const value = key === undefined ? undefined : of(summary);
    if (key !== undefined && value !== undefined) lay(whole, key.split("."), inFile(value));
  }
  return `${JSON.stringify(whole, null, 2)}\n`;
}

type Keyed = Record<string, unknown>;

/** Lays a value at its place, where what it belongs to is known and nothing stands there yet. */
function lay(whole: Keyed, [first = "", ...rest]: readonly string[], value: unknown): void {
  if (rest.length === 0) whole[first] ??= value;
  else if (typeof whole[first] === "object") lay(whole[first] as Keyed, rest, value);
}
