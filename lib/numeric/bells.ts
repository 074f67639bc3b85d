/** The bell curve and Student's curves as layers to draw from in bulk. */
import { logGamma } from "./specialFunctions.ts";
import { tCdf } from "./quantiles.ts";
import { type FallingCurve, type Ziggurat, zigguratOf } from "./ziggurat.ts";

let madeBell: Ziggurat | undefined;

/**
 * The bell, exp(-x^2 / 2), made when first asked for. Its tail is drawn by Marsaglia's way (1964, from memory).
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(bell().ends[1]?.toFixed(8), "3.65415289"); // MEMORY: Marsaglia and Tsang 2000, 256 layers
 * ```
 */
export function bell(): Ziggurat {
  madeBell ??= zigguratOf({
    height: (x) => Math.exp(-x * x / 2),
    width: (y) => Math.sqrt(-2 * Math.log(y)),
    beyond: bellBeyond,
    drawBeyond: (start, next) => {
      for (;;) {
        const x = Math.sqrt(start * start - 2 * Math.log(next()));
        if (next() * x <= start) return x;
      }
    },
  });
  return madeBell;
}

/** Area under the bell beyond x by its continued fraction; x of 1 and more. */
function bellBeyond(x: number): number {
  let fraction = x;
  for (let k = 400; k >= 1; k--) fraction = x + k / fraction;
  return Math.exp(-x * x / 2) / fraction;
}

const students = new Map<number, Ziggurat>();

/**
 * Student's curve, (1 + x^2 / dof)^(-(dof + 1) / 2), made once for each number of degrees of freedom.
 *
 * Its tail is drawn with x times the curve, whose area is known, and kept as often as start / x says.
 *
 * @param dof  2 or more and finite; below that the curve times x has no area
 * @throws {RangeError} outside that range
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok((student(3).ends[1] ?? 0) > (student(30).ends[1] ?? 0)); // fewer readings, longer tails
 * ```
 */
export function student(dof: number): Ziggurat {
  if (!(dof >= 2 && Number.isFinite(dof))) {
    throw new RangeError(`student requires finite dof of 2 or more, got dof=${dof}`);
  }
  const known = students.get(dof);
  if (known) return known;
  const made = zigguratOf(studentCurve(dof));
  if (students.size >= MOST_KEPT) students.clear();
  students.set(dof, made);
  return made;
}

/** Layers of 64 curves are 400 kB. */
const MOST_KEPT = 64;

function studentCurve(dof: number): FallingCurve {
  const area = Math.sqrt(Math.PI * dof) * Math.exp(logGamma(dof / 2) - logGamma((dof + 1) / 2));
  return {
    height: (x) => Math.exp(-(dof + 1) / 2 * Math.log1p(x * x / dof)),
    width: (y) => Math.sqrt(dof * Math.expm1(-2 / (dof + 1) * Math.log(y))),
    beyond: (x) => area * tCdf(-x, dof),
    drawBeyond: (start, next) => {
      for (;;) {
        const ratio = Math.pow(next(), -2 / (dof - 1));
        const x = Math.sqrt(start * start * ratio + dof * (ratio - 1));
        if (next() * x <= start) return x;
      }
    },
  };
}
