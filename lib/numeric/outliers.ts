/**
 * Which of a few repeated readings to doubt.
 *
 * Three published rules, and `screen`, the kit's own way with them: every scale has a floor at step/√12, nothing within
 * a step and a half of the median is ever doubted, and under six readings nothing is set aside by itself.
 */
import { median, tQuantile } from "./quantiles.ts";
import { findRoot } from "./rootFinding.ts";
import { incompleteGamma } from "./specialFunctions.ts";

/** Fewest readings from which one may be set aside without asking. */
export const FEWEST_TO_SET_ASIDE = 6;

/**
 * Grubbs's limit: how many standard deviations the farthest of n clean readings keeps within.
 *
 *     G = (n-1)/√n √(t² / (n-2+t²)),   t the upper α/n point (one side) or α/2n (both) of Student's t, n-2 degrees
 *
 * @param n      readings, three or more
 * @param alpha  chance of doubting a clean set, default 0.05
 * @param sides  2 where the suspect may lie on either side (default), 1 where the side was known beforehand
 * @see Grubbs 1969, Technometrics 11, 1 (its limits read: tests/references/outlier-tests.json)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(grubbsLimit(8, 0.05, 1).toFixed(3), "2.032");
 * ```
 */
export function grubbsLimit(n: number, alpha = 0.05, sides: 1 | 2 = 2): number {
  requireCount("grubbsLimit", n, 3);
  if (!(alpha > 0 && alpha < 1)) {
    throw new RangeError(`grubbsLimit requires 0 < alpha < 1, got alpha=${alpha}`);
  }
  const t = -tQuantile(alpha / (sides * n), n - 2);
  return (n - 1) / Math.sqrt(n) * Math.sqrt(t * t / (n - 2 + t * t));
}

/**
 * Peirce's limit for a number of doubtful readings among n, solved from his equations.
 *
 *     λ^(n-k) r^k = k^k (n-k)^(n-k) / n^n,   r = e^((x²-1)/2) erfc(x/√2),   x² = 1 + (n-k-1)/k (1-λ²)
 *
 * One mean is taken to be found from the readings. Printed tables carry errors (n = 3 above all); this is the root.
 *
 * @param n         readings, three or more
 * @param doubtful  how many are doubted at once, k; 1 to n - 2
 * @returns x, in standard deviations of all readings
 * @see Peirce 1852, Astron. J. 2, 161; Ross 2003, J. Engr. Technology (read: tests/references/outlier-tests.json)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(peirceLimit(10, 1).toFixed(4) + " " + peirceLimit(10, 2).toFixed(4), "1.8777 1.5698");
 * ```
 */
export function peirceLimit(n: number, doubtful: number): number {
  requireCount("peirceLimit", n, 3);
  const k = doubtful;
  if (!(Number.isInteger(k) && k >= 1 && k <= n - 2)) {
    throw new RangeError(`peirceLimit requires 1 to n-2 doubtful readings, got ${k} of ${n}`);
  }
  const logQ = k * Math.log(k) + (n - k) * Math.log(n - k) - n * Math.log(n);
  return findRoot(
    (x) => {
      const logR = (x * x - 1) / 2 + Math.log(incompleteGamma(0.5, x * x / 2).upper);
      const lambda = Math.exp((logQ - k * logR) / (n - k));
      return x * x - 1 - (n - k - 1) / k * (1 - lambda * lambda);
    },
    0.01,
    30,
  );
}

/** A reading that stands apart from the others. */
export interface Suspect {
  /** place in the list of readings, from 0 */
  readonly index: number;
  /** the reading itself */
  readonly value: number;
  /** the rule that it breaks, in a sentence */
  readonly why: string;
}

/** Readings after a look for outliers. */
export interface Screening {
  /** left out of what follows, to be shown */
  readonly setAside: readonly Suspect[];
  /** kept, but worth measuring again */
  readonly doubtful: readonly Suspect[];
  /** the readings that stay, in their order */
  readonly kept: readonly number[];
}

/** Which rule looks for outliers, and how strictly. */
export interface ScreenOptions {
  /** default "peirce", which is not fooled by two wild readings on the same side */
  readonly rule?: "peirce" | "grubbs";
  /** smallest step of the readings' scale, same unit; default 0 */
  readonly step?: number;
  /** for Grubbs, default 0.05 */
  readonly alpha?: number;
}

/**
 * Looks through repeated readings of one thing for wild ones.
 *
 * @param values   readings, finite; fewer than three are returned as they are
 * @param options  see `ScreenOptions`
 * @throws {RangeError} where a reading is not finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const readings = [5.522, 5.521, 5.523, 5.522, 5.022, 5.522, 5.521];
 * const { setAside, kept } = screen(readings, { step: 0.001 });
 * assert.deepEqual(setAside.map((s) => s.value), [5.022]);
 * assert.equal(kept.length, 6);
 * ```
 */
export function screen(values: readonly number[], options: ScreenOptions = {}): Screening {
  const { rule = "peirce", step = 0, alpha = 0.05 } = options;
  if (!(values.every(Number.isFinite) && step >= 0)) {
    throw new RangeError(`screen requires finite readings and step >= 0, got step=${step}`);
  }
  if (values.length < 3) return { setAside: [], doubtful: [], kept: values };
  const suspects = rule === "peirce" ? peirce(values, step) : grubbs(values, step, alpha);
  if (values.length < FEWEST_TO_SET_ASIDE) {
    const doubtful = suspects.map((s) => ({
      ...s,
      why: `${s.why}; under ${FEWEST_TO_SET_ASIDE} readings nothing is set aside, so measure again`,
    }));
    return { setAside: [], doubtful, kept: values };
  }
  const out = new Set(suspects.map((s) => s.index));
  return { setAside: suspects, doubtful: [], kept: values.filter((_, i) => !out.has(i)) };
}

/** Peirce's rule as Ross gives it: mean and s of all readings throughout, one more doubtful reading at each turn. */
function peirce(values: readonly number[], step: number): Suspect[] {
  const { mean, s } = spread(values, step);
  let found: number[] = [];
  for (let k = 1; k <= values.length - 2; k = found.length + 1) {
    const limit = peirceLimit(values.length, k) * s;
    const beyond = farIndices(values, mean, limit, step);
    if (beyond.length <= found.length || beyond.length > values.length / 2) break;
    found = beyond;
  }
  const limit = found.length === 0 ? 0 : peirceLimit(values.length, found.length);
  return found.map((index) => suspect(values, index, mean, s, limit, "Peirce"));
}

/**
 * Grubbs's test again and again, the farthest reading leaving at each turn.
 *
 * The farthest from the mean is the least or the greatest of those left, so that sorted once they leave at the ends.
 */
function grubbs(values: readonly number[], step: number, alpha: number): Suspect[] {
  const found: Suspect[] = [];
  const order = values.map((value, index) => ({ value, index })).sort((a, b) => a.value - b.value);
  const middle = median(values), left = new Shrinking(order.map(({ value }) => value));
  while (left.count > 2 && 2 * (found.length + 1) <= values.length) {
    const { mean, square } = left;
    const s = Math.max(Math.sqrt(square / (left.count - 1)), step / Math.sqrt(12));
    const limit = grubbsLimit(left.count, alpha);
    const last = order[left.farthest()];
    if (!last || !isFar(last.value, mean, limit * s, middle, step)) break;
    found.push(suspect(values, last.index, mean, s, limit, "Grubbs"));
    left.drop();
  }
  return found.sort((a, b) => a.index - b.index);
}

/** Sorted readings that leave one by one at either end, with the mean and the sum of squares about it of those left. */
class Shrinking {
  mean = 0;
  square = 0;
  #low = 0;
  #high: number;
  /** the sum of squares when it was last added up anew */
  #whole = 0;

  constructor(private readonly sorted: readonly number[]) {
    this.#high = sorted.length - 1;
    this.#addUp();
  }

  get count(): number {
    return this.#high - this.#low + 1;
  }

  /** the place of the reading farthest from the mean */
  farthest(): number {
    const below = this.mean - (this.sorted[this.#low] ?? 0);
    const above = (this.sorted[this.#high] ?? 0) - this.mean;
    return below > above ? this.#low : this.#high;
  }

  /** Takes the farthest out; once digits are lost by taking away, what is left is added up anew. */
  drop(): void {
    const at = this.farthest(), away = (this.sorted[at] ?? 0) - this.mean;
    if (at === this.#low) this.#low++;
    else this.#high--;
    const before = this.mean;
    this.mean -= away / this.count;
    this.square -= away * (before + away - this.mean);
    if (!(this.square > 1e-3 * this.#whole)) this.#addUp();
  }

  #addUp(): void {
    let sum = 0, square = 0;
    for (let i = this.#low; i <= this.#high; i++) sum += this.sorted[i] ?? 0;
    this.mean = sum / this.count;
    for (let i = this.#low; i <= this.#high; i++) {
      square += ((this.sorted[i] ?? 0) - this.mean) ** 2;
    }
    this.square = square;
    this.#whole = square;
  }
}

/** Beyond the limit, and by more than a step and a half from the median. */
function isFar(value: number, mean: number, limit: number, middle: number, step: number): boolean {
  return Math.abs(value - mean) > limit && Math.abs(value - middle) > 1.5 * step * (1 + 1e-9);
}

function farIndices(
  values: readonly number[],
  mean: number,
  limit: number,
  step: number,
): number[] {
  const middle = median(values);
  return values.flatMap((v, i) => isFar(v, mean, limit, middle, step) ? [i] : []);
}

function suspect(
  values: readonly number[],
  index: number,
  mean: number,
  s: number,
  limit: number,
  rule: string,
): Suspect {
  const value = values[index] ?? 0, far = Math.abs(value - mean) / s;
  return {
    index,
    value,
    why: `${far.toFixed(1)} standard deviations from the mean, ${rule}'s limit is ${
      limit.toFixed(1)
    }`,
  };
}

function spread(values: readonly number[], step: number): { mean: number; s: number } {
  const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
  const square = values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (values.length - 1);
  return { mean, s: Math.max(Math.sqrt(square), step / Math.sqrt(12)) };
}

function requireCount(name: string, n: number, least: number): void {
  if (!(Number.isInteger(n) && n >= least)) {
    throw new RangeError(`${name} requires ${least} or more readings, got n=${n}`);
  }
}
