/** Days as `2026-04-18`: the only order that no two countries read differently. Apart from `written.ts`, since commands that load no library ask for it. */

/**
 * Whether a text is a day of the calendar, year first, from 1900 to 2199.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(isDate("2028-02-29"), true);
 * assert.equal(isDate("2026-02-29"), false);
 * assert.equal(isDate("18/04/2026"), false);
 * ```
 */
export function isDate(text: string): boolean {
  const parts = /^(19|20|21)\d\d-(\d\d)-(\d\d)$/.exec(text);
  if (parts === null) return false;
  const day = new Date(`${text}T00:00:00Z`);
  return Number.isFinite(day.getTime()) && day.toISOString().startsWith(text);
}
