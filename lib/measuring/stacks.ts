/** Which leaves to stack: exact whole numbers. */

/** A stack of feeler leaves and what it adds up to, mm. */
export interface Stack {
  /** thickest first */
  readonly leaves: readonly number[];
  /** thickness of the stack */
  readonly sum: number;
  /** sum less the target; positive is too thick */
  readonly error: number;
}

/** Common metric sets as sold, mm. COMMON PRACTICE: read the blades of your own. */
export const LEAF_SETS: Readonly<
  Record<
    `metric, ${8 | 10 | 13 | 20 | 32} leaves`,
    readonly number[]
  >
> = {
  "metric, 20 leaves": evenly(5, 100, 5),
  "metric, 13 leaves": [...evenly(5, 30, 5), ...evenly(40, 100, 10)],
  "metric, 10 leaves": evenly(5, 50, 5),
  "metric, 8 leaves": [...evenly(5, 30, 5), 0.4, 0.5],
  "metric, 32 leaves": hundredths([
    ...[4, 5, 6, 8, 10, 13, 15, 18, 20, 23, 25, 28, 30, 33, 35, 38, 40, 43, 45, 48, 50],
    ...[53, 55, 58, 60, 63, 65, 70, 75, 80, 85, 88],
  ]),
};

/** Thicknesses are compared as whole numbers of 0.00001 mm, which holds metric leaves and ten-thousandths of an inch. */
const PER_MM = 100_000;

/**
 * The two stacks to try beside a depth: the thickest that should pass, and the thinnest that should not.
 *
 * @param most  leaves in a stack at most, default 2; more leaves make the bracket narrower and each stack less sure
 * @returns go (at or below the target) and nogo (above it); either `undefined` when the set does not reach
 * @throws {RangeError} for an empty set, a leaf or target not above 0, the same leaf twice
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const { go, nogo } = stacksAround(LEAF_SETS["metric, 32 leaves"], 1.14);
 * assert.deepEqual([go?.sum, nogo?.sum], [1.13, 1.15]);
 * ```
 */
export function stacksAround(
  set: readonly number[],
  target: number,
  most = 2,
): { readonly go: Stack | undefined; readonly nogo: Stack | undefined } {
  const goal = check("stacksAround", set, target);
  let go: readonly number[] | undefined;
  let nogo: readonly number[] | undefined;
  for (let size = 1; size <= Math.min(most, set.length); size++) {
    for (const stack of stacksOf(wholes(set), size)) {
      const sum = total(stack);
      if (sum <= goal && (go === undefined || sum > total(go))) go = stack;
      if (sum > goal && (nogo === undefined || sum < total(nogo))) nogo = stack;
    }
  }
  return {
    go: go === undefined ? undefined : describe(go, goal),
    nogo: nogo === undefined ? undefined : describe(nogo, goal),
  };
}

/**
 * Refuses a stack that holds the same leaf twice: a set has each thickness once.
 *
 * @param leaves  mm, as written: `0.88+0.25` is [0.88, 0.25]
 * @throws {RangeError} when a leaf stands there twice or is not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.throws(() => checkStack([0.5, 0.5]), /each leaf once/);
 * ```
 */
export function checkStack(leaves: readonly number[]): void {
  const bad = leaves.find((leaf) => !(leaf > 0 && Number.isFinite(leaf)));
  if (leaves.length === 0 || bad !== undefined) {
    throw new RangeError(`a stack requires leaves above 0 mm, got ${bad ?? "none"}`);
  }
  const twice = leaves.find((leaf, at) => leaves.indexOf(leaf) !== at);
  if (twice !== undefined) {
    throw new RangeError(`a stack requires each leaf once, got ${leaves.join("+")} mm`);
  }
}

/**
 * Thickness of a stack, mm, added in whole numbers: 0.1 + 0.2 is 0.3.
 *
 * @throws {RangeError} as `checkStack`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(thicknessOf([0.1, 0.2]), 0.3);
 * ```
 */
export function thicknessOf(leaves: readonly number[]): number {
  checkStack(leaves);
  return total(leaves.map((leaf) => leaf * PER_MM)) / PER_MM;
}

function check(caller: string, set: readonly number[], target: number): number {
  if (!(target > 0 && Number.isFinite(target))) {
    throw new RangeError(`${caller} requires a target above 0 mm, got target=${target}`);
  }
  checkStack(set);
  return target * PER_MM;
}

function wholes(set: readonly number[]): readonly number[] {
  return set.map((leaf) => Math.round(leaf * PER_MM)).sort((a, b) => b - a);
}

/** All stacks of one size, thickest leaves first. */
function* stacksOf(set: readonly number[], size: number): Generator<readonly number[]> {
  if (size === 0) {
    yield [];
    return;
  }
  for (let first = 0; first + size <= set.length; first++) {
    const leaf = set[first] ?? 0;
    for (const rest of stacksOf(set.slice(first + 1), size - 1)) yield [leaf, ...rest];
  }
}

function total(whole: readonly number[]): number {
  return Math.round(whole.reduce((sum, leaf) => sum + leaf, 0));
}

function describe(stack: readonly number[], goal: number): Stack {
  return {
    leaves: stack.map((leaf) => leaf / PER_MM),
    sum: total(stack) / PER_MM,
    error: Number(((total(stack) - goal) / PER_MM).toFixed(9)),
  };
}

function hundredths(counts: readonly number[]): readonly number[] {
  return counts.map((count) => count / 100);
}

function evenly(from: number, to: number, by: number): readonly number[] {
  return hundredths(
    Array.from({ length: Math.round((to - from) / by) + 1 }, (_, at) => from + at * by),
  );
}
