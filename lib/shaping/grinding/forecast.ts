/** When a growing depth meets its target, and how surely: the interval by Fieller's argument. */
import { type Measured, measured } from "../../quantity/measured.ts";
import { tQuantile } from "../../numeric/quantiles.ts";

/** A depth foreseen some minutes from now, mm, with its standard uncertainty. */
export type Foreseen = (minutes: number) => { readonly value: number; readonly u: number };

export interface Meeting {
  /** minutes from now */
  readonly minutes: Measured;
  /** every moment at which the target lies inside the depth's own interval; never below 0 */
  readonly interval95: readonly [number, number];
}

/** No forecast reaches farther than this, minutes. */
const farthest = 2000;

/**
 * Finds when the depth meets the target.
 *
 * The interval holds every moment x at which the target is credible:
 *
 *     |target - depth(x)| <= t u(depth(x))
 *
 * For a straight line this is Fieller's interval. It is lopsided, and where the rate is hardly known it has no end: then
 * nothing is returned, and one measures again.
 *
 * @param depth   depth foreseen, mm, minutes from now
 * @param target  mm
 * @param dof     of the uncertainties
 * @param p       coverage, between 0 and 1
 * @returns `undefined` where the depth does not meet the target or the interval has no end within 2000 min
 * @throws {RangeError} where the target is not finite
 * @see E. C. Fieller, J. R. Statist. Soc. B 16 (1954) 175 (from memory)
 * @example 9 um a minute, 90 um to go
 * ```ts
 * import assert from "node:assert/strict";
 * const stop = meet((x) => ({ value: 1.08 + 0.009 * x, u: 0.002 }), 1.17, 4);
 * assert.equal(stop?.minutes.value.toFixed(2), "10.00");
 * ```
 */
export function meet(
  depth: Foreseen,
  target: number,
  dof: number,
  p = 0.95,
): Meeting | undefined {
  if (!Number.isFinite(target)) {
    throw new RangeError(`meet requires a finite target in mm, got ${target}`);
  }
  const t = tQuantile((1 + p) / 2, dof);
  const start = depth(0).value, rising = target > start ? 1 : -1;
  const short = (x: number): number => (target - depth(x).value) * rising;
  const x = start === target ? 0 : crossing(short, 0, 1);
  if (x === undefined) return undefined;
  const outside = (y: number): number => t * depth(y).u - Math.abs(target - depth(y).value);
  const low = crossing(outside, x, -1), high = crossing(outside, x, 1);
  if (low === undefined || high === undefined) return undefined;
  const slope = (depth(x + 0.01).value - depth(x - 0.01).value) / 0.02;
  const minutes = measured(x, depth(x).u / Math.abs(slope), "min", dof);
  return { minutes, interval95: [Math.max(0, low), Math.max(0, high)] };
}

/** Where f, positive at `from`, first falls to 0 in a direction. */
function crossing(
  f: (x: number) => number,
  from: number,
  direction: 1 | -1,
): number | undefined {
  let inside = from;
  for (let step = 0.02; step < farthest; step *= 1.3) {
    const next = inside + direction * step;
    if (f(next) <= 0) return bisect(f, inside, next);
    inside = next;
  }
  return undefined;
}

function bisect(f: (x: number) => number, inside: number, outside: number): number {
  let a = inside, b = outside;
  for (let i = 0; i < 100 && Math.abs(b - a) > 1e-12 * (1 + Math.abs(a)); i++) {
    const middle = (a + b) / 2;
    if (f(middle) > 0) a = middle;
    else b = middle;
  }
  return (a + b) / 2;
}
