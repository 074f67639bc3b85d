/** One way of measuring the radius of curvature, with everything that may have moved it, named. */
import { CannotTell } from "../numeric/cannotTell.ts";
import { effectiveDof } from "../quantity/coverage.ts";
import { type Measured, measured } from "../quantity/measured.ts";

/** One reason why the radius may be off. */
export interface Component {
  /** what may be off, in the trade's words: "leg circle", "leaf brackets" */
  readonly source: string;
  /** standard uncertainty it brings to the radius, mm; its sign says which way the radius moves when the source grows */
  readonly u: number;
  /** degrees of freedom of u; `Infinity` when taken as known */
  readonly dof: number;
  /** a name two methods have in common when one error moves both: one bevel, one ruler */
  readonly shared?: string;
  /** how many readings it is the scatter of; absent where reading again would not help */
  readonly repeats?: number;
}

/** A reading that is not used, or that is used and doubted: always shown, never deleted. */
export interface Doubt {
  /** the table it stands in */
  readonly file?: string;
  /** from 1 */
  readonly line?: number;
  /** as read, mm */
  readonly value: number;
  /** in a sentence */
  readonly why: string;
}

/** What one method says about the radius of curvature. */
export interface Estimate {
  /** its name in the registry of methods */
  readonly method: string;
  /** mm */
  readonly radius: Measured;
  /** of its uncertainty, by source */
  readonly components: readonly Component[];
  /** how many readings the value rests on, those set aside not counted */
  readonly readings: number;
  /** shown and not used */
  readonly setAside: readonly Doubt[];
  /** used all the same, because too few readings stand beside it to judge */
  readonly doubted: readonly Doubt[];
  /** sentences: what had to be assumed */
  readonly assumed: readonly string[];
  /** the table it was read from */
  readonly file?: string;
}

/** Where a row stands; any row of a record fits. */
export interface Placed {
  /** name of the table */
  readonly file?: string;
  /** from 1 */
  readonly line?: number;
}

/** A row's place alone. */
export function placeOf({ file, line }: Placed): Placed {
  return {
    ...(file === undefined ? {} : { file }),
    ...(line === undefined ? {} : { line }),
  };
}

/** Everything of an estimate but its uncertainty, which is summed here. */
export interface EstimateParts {
  /** its name in the registry of methods */
  readonly method: string;
  /** radius of curvature R, mm */
  readonly radius: number;
  /** of its uncertainty, by source */
  readonly components: readonly Component[];
  /** how many the value rests on */
  readonly readings: number;
  /** shown and not used; default none */
  readonly setAside?: readonly Doubt[];
  /** used, though doubted; default none */
  readonly doubted?: readonly Doubt[];
  /** sentences: what had to be assumed; default none */
  readonly assumed?: readonly string[];
  /** the table it was read from */
  readonly file?: string | undefined;
}

/**
 * Sums the components into the radius's standard uncertainty, and their degrees of freedom by Welch and Satterthwaite.
 *
 *     u^2 = sum u_i^2          dof = u^4 / sum (u_i^4 / dof_i)
 *
 * Components of nothing (u = 0) are left out.
 *
 * @param parts  method, radius in mm, components in mm of radius, number of readings
 * @throws {CannotTell} when the radius is not above 0: the readings are 0 or less
 * @throws {RangeError} when no component is above 0
 * @see JCGM 100:2008, 5.1.2 and G.4.1 (its examples read: tests/references/gum-h1-end-gauge.json)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const components = [{ source: "leg circle", u: 4.8, dof: Infinity }, { source: "dial", u: -2.9, dof: 8 }];
 * const { radius } = estimate({ method: "spherometer", radius: 2401.6, components, readings: 10 });
 * assert.equal(radius.u.toFixed(2), "5.61");
 * ```
 */
export function estimate(parts: EstimateParts): Estimate {
  const components = parts.components.filter((component) => component.u !== 0);
  if (parts.radius <= 0) {
    throw new CannotTell("the mean of the readings is 0 or less, and no curve has that");
  }
  if (components.length === 0 || Number.isNaN(parts.radius)) {
    throw new RangeError(
      `estimate requires a radius in mm and a component of uncertainty, got radius=${parts.radius}, ` +
        `components=${components.length}`,
    );
  }
  const { u, dof } = sumOfComponents(components);
  return {
    method: parts.method,
    radius: measured(parts.radius, u, "mm", dof),
    components,
    readings: parts.readings,
    setAside: parts.setAside ?? [],
    doubted: parts.doubted ?? [],
    assumed: parts.assumed ?? [],
    ...(parts.file === undefined ? {} : { file: parts.file }),
  };
}

/**
 * Root of the sum of squares, with effective degrees of freedom.
 *
 * @param components  independent contributions in one unit
 * @returns u, and dof (`Infinity` when every component's is)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(sumOfComponents([{ u: 3, dof: Infinity }, { u: -4, dof: Infinity }]), { u: 5, dof: Infinity });
 * ```
 */
export function sumOfComponents(
  components: readonly { readonly u: number; readonly dof: number }[],
): { readonly u: number; readonly dof: number } {
  const u = Math.sqrt(components.reduce((sum, component) => sum + component.u ** 2, 0));
  return { u, dof: effectiveDof(components) };
}

/** The table an estimate was read from: the first row's. */
export function fileOf(rows: readonly Placed[]): string | undefined {
  return rows.find((row) => row.file !== undefined)?.file;
}
