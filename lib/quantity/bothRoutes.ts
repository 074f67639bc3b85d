/** The law of propagation and the simulation side by side, and whether they say the same. */
import { interval } from "./coverage.ts";
import type { Distribution } from "./distributions.ts";
import type { Measured } from "./measured.ts";
import {
  monteCarlo,
  type MonteCarloOptions,
  type MonteCarloResult,
  numericalTolerance,
} from "./monteCarlo.ts";
import { propagate, type Propagated } from "./propagate.ts";
import { type SecondOrder, secondOrder } from "./secondOrder.ts";

export interface BothRoutes {
  readonly law: Propagated & { readonly interval: readonly [number, number] };
  /** absent where inputs are correlated, to which it does not apply */
  readonly bent?: SecondOrder;
  readonly simulated: MonteCarloResult;
  /** true where either end of the interval differs by more than half the last digit that matters */
  readonly differ: boolean;
  /** one sentence for a reader */
  readonly says: string;
}

export interface BothRoutesOptions<K extends string = string> extends MonteCarloOptions<K> {
  /** the result's unit, default "" */
  readonly unit?: string;
}

/**
 * Runs both routes on the same inputs.
 *
 * The two agree where both ends of their intervals lie within half a unit of the last significant digit of u (two
 * digits unless `digits` says otherwise). Where they differ, the simulation is to be believed.
 *
 * @param f       the result, of an object with the inputs' names
 * @param inputs  what is known of each input
 * @see JCGM 101:2008, clause 8 (from memory)
 * @example a logarithm over a wide range
 * ```ts
 * import assert from "node:assert/strict";
 * import { rectangularBetween } from "first-mirror/quantity";
 * const both = bothRoutes(({ x }) => Math.log(x), { x: rectangularBetween(0.1, 1.1) }, { trials: 20000 });
 * assert.equal(both.differ, true);
 * ```
 */
export function bothRoutes<K extends string>(
  f: (x: Readonly<Record<K, number>>) => number,
  inputs: Readonly<Record<K, Distribution>>,
  options: BothRoutesOptions<NoInfer<K>> = {},
): BothRoutes {
  const { unit = "", p = 0.95, digits = 2, correlations } = options;
  const measured = Object.fromEntries(
    (Object.keys(inputs) as K[]).map((name) => [name, asMeasured(inputs[name])]),
  ) as Record<K, Measured>;
  const result = propagate(f, measured, correlations ? { unit, correlations } : { unit });
  const law = { ...result, interval: interval(result, p) };
  const simulated = monteCarlo(f, inputs, options);
  const tolerance = numericalTolerance(law.u, digits);
  const gaps = [0, 1].map((k) => Math.abs((law.interval[k] ?? 0) - (simulated.interval[k] ?? 0)));
  const differ = gaps.some((gap) => gap > tolerance);
  const bent = correlations ? {} : bend(f, measured);
  return { law, ...bent, simulated, differ, says: sentence(differ, law.u, simulated.u) };
}

/** Second-order terms where the function is defined two uncertainties out; else nothing. */
function bend<K extends string>(
  f: (x: Readonly<Record<K, number>>) => number,
  inputs: Readonly<Record<K, Measured>>,
): { bent?: SecondOrder } {
  try {
    return { bent: secondOrder(f, inputs) };
  } catch (error) {
    if (error instanceof RangeError) return {};
    throw error;
  }
}

function asMeasured({ mean, u, dof }: Distribution): Measured {
  return { value: mean, u, dof, unit: "" };
}

function sentence(differ: boolean, law: number, simulated: number): string {
  const pair = `u ${law.toPrecision(3)} by the law of propagation, ${
    simulated.toPrecision(3)
  } by simulation`;
  return differ
    ? `The two routes differ: ${pair}; the formula bends within the uncertainty, so believe the simulation.`
    : `The two routes agree: ${pair}.`;
}
