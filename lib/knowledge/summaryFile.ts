/** A summary as its file has it: the contract's names, words joined by underscores. */
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
  return `${JSON.stringify(inFile(summary), null, 2)}\n`;
}
