/** What to measure next: what one more reading, a surer gauge or a wider one would buy. */
import { combine, type Weighable } from "./combine.ts";
import type { Component } from "./estimate.ts";
import { methodNamed } from "./methods/methods.ts";

/** One thing that could be done, and the standard uncertainty it would leave. */
export interface Improvement {
  /** name of the method it is done with */
  readonly method: string;
  /** what to do: "settings of the Sun's image: one more reading" */
  readonly what: string;
  /** standard uncertainty of the radius then, mm */
  readonly u: number;
  /** share of today's u that would go, 0 to 1 */
  readonly gain: number;
}

/** What improvements are tried. */
export interface AdviceOptions {
  /** a wider instrument to try, its leg circle, relative to today's; default 1.4 */
  readonly widerLegs?: number;
  /** how much surer a gauge or a place would be known, relative to today's u; default 0.5 */
  readonly surer?: number;
}

/**
 * What each single change would buy, best first.
 *
 * One more reading shrinks a scatter by sqrt(n / (n + 1)). A surer gauge halves what is known of it. What else
 * would help is the method's own: a wider leg circle.
 * Differences between the methods are left out: no gauge mends those.
 *
 * @param estimates  those the result rests on
 * @param options    sizes of the changes
 * @throws {RangeError} as `combine`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const components = [{ source: "leg circle", u: 4.8, dof: Infinity }, { source: "readings on the mirror", u: 2, dof: 4, repeats: 5 }];
 * const radius = { value: 2400, u: 5.2, dof: Infinity, unit: "mm" };
 * assert.equal(whatWouldHelp([{ method: "spherometer", radius, components }])[0]?.what, "leg circle: known twice as well");
 * ```
 */
export function whatWouldHelp(
  estimates: readonly Weighable[],
  options: AdviceOptions = {},
): readonly Improvement[] {
  const now = combine(estimates).weightedMean.u;
  const changes = estimates.flatMap((estimate) => changesOf(estimate, options));
  return changes
    .map(({ method, what, change }) => {
      const u = combine(estimates.map((one) => changed(one, change(one)))).weightedMean.u;
      return { method, what, u, gain: 1 - u / now };
    })
    .filter(({ gain }) => gain > 1e-6)
    .sort((a, b) => b.gain - a.gain);
}

interface Change {
  readonly method: string;
  readonly what: string;
  readonly change: (estimate: Weighable) => readonly Component[];
}

function changesOf(estimate: Weighable, options: AdviceOptions): readonly Change[] {
  const { surer = 0.5, widerLegs = 1.4 } = options;
  const { method } = estimate;
  const apart = estimate.components.map((component): Change => {
    const { source, repeats } = component;
    const factor = repeats === undefined ? surer : Math.sqrt(repeats / (repeats + 1));
    const better = surer === 0.5 ? "twice" : `${(1 / surer).toFixed(1)} times`;
    const what = repeats === undefined
      ? `${source}: known ${better} as well`
      : `${source}: one more reading`;
    return { method, what, change: (one) => scaled(one, component, factor) };
  });
  const own = methodNamed(method)?.changes?.(widerLegs) ?? [];
  return [
    ...apart,
    ...own.map(({ what, components }): Change => ({
      method,
      what,
      change: (one) => (one === estimate ? components(one.components) : one.components),
    })),
  ];
}

/** A shared source is one thing: knowing it better helps every method that shares it. */
function scaled(estimate: Weighable, target: Component, factor: number): readonly Component[] {
  return estimate.components.map((component) => {
    const same = component === target ||
      (target.shared !== undefined && component.shared === target.shared);
    return same ? { ...component, u: component.u * factor } : component;
  });
}

function changed(estimate: Weighable, components: readonly Component[]): Weighable {
  const u = Math.hypot(...components.map((component) => component.u));
  return { ...estimate, components, radius: { ...estimate.radius, u } };
}
