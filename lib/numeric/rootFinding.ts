/**
 * The place between two ends where a function crosses zero (Ridders's method: a bent secant that stays inside).
 *
 * @param f     continuous between low and high, of different sign (or zero) at the two
 * @param low   one end
 * @param high  the other, above low
 * @param tolerance  widest bracket accepted, default two units in the last place
 * @throws {RangeError} where f has the same sign at both ends or is not a number
 * @see Ridders 1979, IEEE Trans. Circuits Syst. 26, 979 (held by its law in the tests)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok(Math.abs(findRoot((x) => x * x - 2, 0, 2) - Math.SQRT2) < 1e-15);
 * ```
 */
export function findRoot(
  f: (x: number) => number,
  low: number,
  high: number,
  tolerance = 0,
): number {
  let a: Point = [low, f(low)], b: Point = [high, f(high)];
  if (!(low < high && a[1] * b[1] <= 0)) {
    throw new RangeError(
      `findRoot requires low < high and a change of sign between them, got f(${low})=${
        a[1]
      }, f(${high})=${b[1]}`,
    );
  }
  for (let step = 0; step < 200; step++) {
    if (a[1] === 0) return a[0];
    if (b[1] === 0) return b[0];
    const middle = a[0] + (b[0] - a[0]) / 2;
    const finest = 2 ** -52 * Math.max(Math.abs(a[0]), Math.abs(b[0]));
    if (b[0] - a[0] <= Math.max(tolerance, finest)) return middle;
    const fMiddle = f(middle), x = bent(a, b, middle, fMiddle);
    [a, b] = crossing([a, [middle, fMiddle], [x, f(x)], b]);
  }
  return a[0] + (b[0] - a[0]) / 2;
}

/** A place and the function's value there. */
type Point = readonly [number, number];

/** Where the secant through the ends crosses zero once the function is unbent by an exponential. */
function bent(a: Point, b: Point, middle: number, fMiddle: number): number {
  const root = Math.sqrt(fMiddle * fMiddle - a[1] * b[1]);
  const x = middle + (middle - a[0]) * Math.sign(a[1] - b[1]) * fMiddle / root;
  return x > a[0] && x < b[0] ? x : middle;
}

/** The two neighbours between which the sign changes. */
function crossing(points: readonly [Point, Point, Point, Point]): [Point, Point] {
  const [a, ...inner] = points, b = inner.pop() ?? a;
  inner.sort((p, q) => p[0] - q[0]);
  let left: Point = a;
  for (const right of [...inner, b]) {
    if (left[1] * right[1] <= 0) return [left, right];
    left = right;
  }
  return [a, b];
}

/**
 * The steps of an even grid in which a function's sign changes. Where it lies farther from zero than it can come in some steps,
 * these are passed over: the same steps are found, for a fraction of the work.
 *
 * @param f        asked at ends of steps only
 * @param from     beginning of the first step
 * @param to       where the grid ends; a last step that would reach beyond it is left out
 * @param step     above 0
 * @param fastest  most that f changes within a unit of its argument; a bound too high only costs time
 * @returns ends of each such step, in order
 * @throws {RangeError} for a step or a bound that is not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(signChanges((x) => 5 * Math.sin(x), 0.5, 7, 0.5, 5), [[3, 3.5], [6, 6.5]]);
 * ```
 */
export function signChanges(
  f: (x: number) => number,
  from: number,
  to: number,
  step: number,
  fastest: number,
): readonly (readonly [low: number, high: number])[] {
  if (!(step > 0 && fastest > 0)) {
    throw new RangeError(
      `signChanges requires step and fastest above 0, got ${step} and ${fastest}`,
    );
  }
  const count = Math.floor((to - from) / step), found: [number, number][] = [];
  let at = 0, here = f(from);
  while (at < count) {
    const sure = Math.floor(Math.abs(here) / (fastest * step)), next = at + Math.max(1, sure);
    if (next > count) break;
    const there = f(from + next * step);
    if (here * there < 0) found.push([from + at * step, from + next * step]);
    [at, here] = [next, there];
  }
  return found;
}
