/** How the telescope's functions refuse: one sentence with the ranges and what was given. */

/**
 * Refuses values that are not finite numbers above 0.
 *
 * @param name    function that asks
 * @param values  by name; lengths in mm unless the name says otherwise
 * @throws {RangeError} naming all that was given
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.throws(() => requireAbove0("flat", { aperture: -1 }), /flat requires aperture above 0, got aperture=-1/);
 * ```
 */
export function requireAbove0(name: string, values: Readonly<Record<string, number>>): void {
  if (Object.values(values).every((value) => value > 0 && Number.isFinite(value))) return;
  const names = Object.keys(values).join(", ");
  throw new RangeError(`${name} requires ${names} above 0, got ${given(values)}`);
}

/**
 * Refuses values that are not finite numbers of 0 or more.
 *
 * @throws {RangeError} naming all that was given
 */
export function requireNot0Less(name: string, values: Readonly<Record<string, number>>): void {
  if (Object.values(values).every((value) => value >= 0 && Number.isFinite(value))) return;
  const names = Object.keys(values).join(", ");
  throw new RangeError(`${name} requires ${names} of 0 or more, got ${given(values)}`);
}

/** Values as they stand in a refusal: "aperture=150, focalLength=1200". */
export function given(values: Readonly<Record<string, number>>): string {
  return Object.entries(values).map(([key, value]) => `${key}=${value}`).join(", ");
}
