/** Covariance of estimates that may share errors. */
import { choleskyOfCovariance } from "../numeric/smallMatrix.ts";
import type { Component } from "./estimate.ts";

/**
 * Covariance matrix of several estimates from their components: independent ones on the diagonal only, shared ones
 * wherever the name occurs, u_i u_j with their signs.
 *
 * @param estimates  components of each, in one unit
 * @returns square matrix in that unit squared
 * @example one bevel under two gauges
 * ```ts
 * import assert from "node:assert/strict";
 * const bevel = { source: "bevel", shared: "bevel", dof: Infinity };
 * const both = [[{ ...bevel, u: 3 }, { source: "a", u: 4, dof: 5 }], [{ ...bevel, u: 2 }]];
 * assert.deepEqual(covarianceOf(both), [[25, 6], [6, 4]]);
 * ```
 */
export function covarianceOf(
  estimates: readonly (readonly Component[])[],
): readonly (readonly number[])[] {
  const shared = estimates.map(sharedSums);
  return estimates.map((components, i) =>
    estimates.map((_, j) => {
      const own = i === j
        ? components.filter((part) => part.shared === undefined).reduce(
          (sum, { u }) => sum + u * u,
          0,
        )
        : 0;
      const common = [...(shared[i] ?? [])].reduce(
        (sum, [name, u]) => sum + u * (shared[j]?.get(name) ?? 0),
        0,
      );
      return own + common;
    })
  );
}

function sharedSums(components: readonly Component[]): ReadonlyMap<string, number> {
  const sums = new Map<string, number>();
  for (const { shared, u } of components) {
    if (shared !== undefined) sums.set(shared, (sums.get(shared) ?? 0) + u);
  }
  return sums;
}

/**
 * Solves C x = b for a covariance matrix by Cholesky's triangle, scaled so that sizes do not matter.
 *
 * @param matrix  symmetric and positive definite
 * @param right   b
 * @throws {RangeError} when two estimates have only shared errors, so that nothing tells them apart
 * @see Golub and Van Loan, Matrix Computations, section 4.2 (held by its law in the tests)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(solveSymmetric([[4, 0], [0, 16]], [4, 4]), [1, 0.25]);
 * ```
 */
export function solveSymmetric(
  matrix: readonly (readonly number[])[],
  right: readonly number[],
): readonly number[] {
  const scale = matrix.map((row, i) => Math.sqrt(row[i] ?? 0));
  const root = choleskyOfCovariance(
    matrix.map((row, i) => row.map((c, j) => c / ((scale[i] ?? 1) * (scale[j] ?? 1)))),
  );
  if (root.some((row, i) => !((row[i] ?? 0) > 1e-6))) {
    throw new RangeError(
      "solveSymmetric requires a positive definite matrix: estimates that share all their errors cannot be weighed",
    );
  }
  const middle: number[] = [];
  root.forEach((row, i) => {
    const known = middle.reduce((sum, x, k) => sum + x * (row[k] ?? 0), 0);
    middle.push(((right[i] ?? 0) / (scale[i] ?? 1) - known) / (row[i] ?? 1));
  });
  const solution = [...middle];
  for (let i = right.length - 1; i >= 0; i--) {
    let rest = middle[i] ?? 0;
    for (let k = i + 1; k < right.length; k++) rest -= (root[k]?.[i] ?? 0) * (solution[k] ?? 0);
    solution[i] = rest / (root[i]?.[i] ?? 1);
  }
  return solution.map((x, i) => x / (scale[i] ?? 1));
}
