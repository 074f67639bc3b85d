/**
 * A value somebody measured: how large, how surely, by how many independent pieces of information.
 *
 * The words are the GUM's (JCGM 100:2008, 2.3.1 and G.3): `u` is a standard uncertainty, `dof` its
 * degrees of freedom. `Infinity` degrees of freedom means that `u` is taken as known.
 */
export interface Measured {
  /** the estimate, in `unit` */
  readonly value: number;
  /** standard uncertainty, in the same unit; never negative */
  readonly u: number;
  /** degrees of freedom of `u`; greater than 0, `Infinity` when `u` is taken as known */
  readonly dof: number;
  /** the unit's symbol as printed: "mm", "nm", "wave"; "" for a pure number */
  readonly unit: string;
}

/**
 * Makes a `Measured` after checking it.
 *
 * @param value  any finite number
 * @param u      standard uncertainty, same unit; 0 or more
 * @param unit   symbol of the unit, "" for a pure number
 * @param dof    degrees of freedom; greater than 0, default `Infinity`
 * @throws {RangeError} where one of these does not hold
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(measured(1203, 4, "mm").dof, Infinity);
 * ```
 */
export function measured(value: number, u: number, unit: string, dof: number = Infinity): Measured {
  if (!Number.isFinite(value)) {
    throw new RangeError(`measured requires a finite value, got ${value}`);
  }
  if (!(Number.isFinite(u) && u >= 0)) {
    throw new RangeError(`measured requires a finite u of 0 or more, got u=${u}`);
  }
  if (!(dof > 0)) throw new RangeError(`measured requires dof above 0, got dof=${dof}`);
  return { value, u, dof, unit };
}
