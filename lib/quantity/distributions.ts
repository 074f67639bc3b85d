/** What is known of an input, as something to draw from. */
import type { RandomSource } from "../numeric/random.ts";
import { effectiveDof } from "./coverage.ts";

/** A distribution: one draw at a time, with its own mean and standard deviation for the law of propagation. */
export interface Distribution {
  draw(source: RandomSource): number;
  /** many draws at once, where that is faster than one by one; not the numbers `draw` would give */
  readonly fill?: (out: Float64Array, source: RandomSource) => void;
  readonly mean: number;
  readonly u: number;
  readonly dof: number;
}

/**
 * A value that is not in doubt.
 *
 * @param value  finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(exactly(50).u, 0);
 * ```
 */
export function exactly(value: number): Distribution {
  requireSpread("exactly", value, 0);
  return {
    draw: () => value,
    fill: (out) => void out.fill(value),
    mean: value,
    u: 0,
    dof: Infinity,
  };
}

/**
 * The bell curve.
 *
 * @param mean  finite
 * @param sd    standard deviation, 0 or more
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(normalAbout(5, 0.1).u, 0.1);
 * ```
 */
export function normalAbout(mean: number, sd: number): Distribution {
  requireSpread("normalAbout", mean, sd);
  return {
    draw: (source) => mean + sd * source.normal(),
    fill: (out, source) => source.fillNormal(out, mean, sd),
    mean,
    u: sd,
    dof: Infinity,
  };
}

/**
 * A mean of a few readings: Student's t, scaled by its standard uncertainty.
 *
 * Its standard deviation is larger than `scale` by √(dof/(dof-2)); the law of propagation is given `scale` and `dof`.
 *
 * @param mean   finite
 * @param scale  s / √n, 0 or more
 * @param dof    n - 1, above 0
 * @see JCGM 101:2008, 6.4.9 (from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(studentAbout(5, 0.1, 4).dof, 4);
 * ```
 */
export function studentAbout(mean: number, scale: number, dof: number): Distribution {
  requireSpread("studentAbout", mean, scale);
  if (!(dof > 0)) throw new RangeError(`studentAbout requires dof above 0, got dof=${dof}`);
  return {
    draw: (source) => mean + scale * source.studentT(dof),
    fill: (out, source) => source.fillStudent(out, dof, mean, scale),
    mean,
    u: scale,
    dof,
  };
}

/**
 * Anything from low to high equally likely.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(rectangularBetween(1, 3).mean, 2);
 * ```
 */
export function rectangularBetween(low: number, high: number): Distribution {
  const half = requireEnds("rectangularBetween", low, high);
  return {
    draw: (source) => low + (high - low) * source.uniform(),
    fill: (out, source) => source.fillUniform(out, low, high),
    mean: low + half,
    u: half / Math.sqrt(3),
    dof: Infinity,
  };
}

/**
 * Several independent inputs added: the errors of the leaves of a stack, of a dial at two places.
 *
 * @param parts  one or more
 * @throws {RangeError} for none
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const error = rectangularBetween(-0.005, 0.005);
 * assert.equal(sumOf([error, error, error]).u.toFixed(6), "0.005000");
 * ```
 */
export function sumOf(parts: readonly Distribution[]): Distribution {
  const [first, ...others] = parts;
  if (first === undefined) {
    throw new RangeError("sumOf requires one distribution or more, got none");
  }
  if (others.length === 0) return first;
  let scratch = new Float64Array(0);
  return {
    draw: (source) => parts.reduce((sum, part) => sum + part.draw(source), 0),
    fill: (out, source) => {
      if (scratch.length !== out.length) scratch = new Float64Array(out.length);
      fillColumn(first, out, source);
      for (const part of others) {
        fillColumn(part, scratch, source);
        for (let i = 0; i < out.length; i++) out[i] = (out[i] ?? 0) + (scratch[i] ?? 0);
      }
    },
    mean: parts.reduce((sum, part) => sum + part.mean, 0),
    u: Math.hypot(...parts.map(({ u }) => u)),
    dof: effectiveDof(parts),
  };
}

/**
 * Fills an array with draws, by the quickest way the distribution knows.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { random } from "first-mirror/numeric";
 * const out = new Float64Array(2);
 * fillColumn(normalAbout(5, 0), out, random(1));
 * assert.deepEqual([...out], [5, 5]);
 * ```
 */
export function fillColumn(
  distribution: Distribution,
  out: Float64Array,
  source: RandomSource,
): void {
  if (distribution.fill) return distribution.fill(out, source);
  for (let i = 0; i < out.length; i++) out[i] = distribution.draw(source);
}

function requireSpread(name: string, mean: number, spread: number): void {
  if (!(Number.isFinite(mean) && Number.isFinite(spread) && spread >= 0)) {
    throw new RangeError(`${name} requires a finite mean and spread >= 0, got ${mean}, ${spread}`);
  }
}

/** Half the distance between the ends. */
function requireEnds(name: string, low: number, high: number): number {
  if (Number.isFinite(low) && Number.isFinite(high) && low <= high) return (high - low) / 2;
  throw new RangeError(`${name} requires finite low <= high, got ${low}, ${high}`);
}
