/**
 * Nonlinear least squares by Levenberg and Marquardt, each step a QR solution in columns of one length.
 *
 * Our own, because it reaches the certified results of the reference sets from both published starts; the npm package
 * tried beside it (ml-levenberg-marquardt 5.1.0) did not.
 */
import { Matrix, QrDecomposition } from "ml-matrix";
import { linearFit } from "./leastSquares.ts";

/** A model that is not linear in its parameters, and the readings it is to fit. */
export interface NonlinearProblem<X> {
  /** what the model says at x for parameters b */
  readonly model: (x: X, b: readonly number[]) => number;
  /** where each reading was taken; whatever the model takes */
  readonly x: readonly X[];
  /** readings, more than there are parameters */
  readonly y: readonly number[];
  /** parameters to begin with */
  readonly start: readonly number[];
  /** 1/u² of each reading; default all 1 */
  readonly weights?: readonly number[];
  /** derivatives of the model by each parameter; default central differences */
  readonly partials?: (x: X, b: readonly number[]) => readonly number[];
  /** most steps tried, default 1000 */
  readonly steps?: number;
}

/** A fit of a model that is not linear in its parameters. */
export interface NonlinearFit {
  /** the parameters at the least sum of squares */
  readonly coefficients: readonly number[];
  /** square roots of the diagonal of `covariance` */
  readonly standardErrors: readonly number[];
  /** of the coefficients, by the model's slopes at the end, from the scatter of the residuals */
  readonly covariance: readonly (readonly number[])[];
  /** y less the fit, unweighted */
  readonly residuals: readonly number[];
  /** readings less parameters */
  readonly dof: number;
  /** standard deviation of one reading of weight 1 */
  readonly s: number;
  /** steps taken */
  readonly steps: number;
}

interface State {
  readonly b: readonly number[];
  /** weighted residuals */
  readonly r: readonly number[];
  readonly sum: number;
}

/**
 * Fits y = model(x, b) by least squares.
 *
 * Ends where the next full step would move every parameter by less than 1e-9 of itself (or of its standard error), or
 * where no step of any length lowers the sum of squares.
 *
 * @throws {RangeError} where the model is not finite at the start, the steps run out, or two parameters do the same work
 * @see Marquardt 1963, J. SIAM 11, 431; Madsen, Nielsen and Tingleff 2004 for the damping (both from memory)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const fit = nonlinearFit({
 *   model: (x: number, [a = 0, k = 0]) => a * Math.exp(-k * x),
 *   x: [0, 1, 2, 3],
 *   y: [2, 2 * Math.exp(-0.5), 2 * Math.exp(-1), 2 * Math.exp(-1.5)],
 *   start: [1, 1],
 * });
 * assert.equal(fit.coefficients.map((b) => b.toFixed(6)).join(" "), "2.000000 0.500000");
 * ```
 */
export function nonlinearFit<X>(problem: NonlinearProblem<X>): NonlinearFit {
  const { start, y, steps = 1000 } = problem;
  const first = evaluate(problem, start);
  if (!(Number.isFinite(first.sum) && y.length === problem.x.length && y.length > start.length)) {
    throw new RangeError(
      `nonlinearFit requires one x for each reading, more readings than parameters and a model finite at the start, got ${problem.x.length} x, ${y.length} readings, start [${
        start.join(", ")
      }]`,
    );
  }
  let state = first, damping = 1e-3, growth = 2;
  for (let step = 1; step <= steps; step++) {
    const jacobian = weightedJacobian(problem, state.b);
    if (settled(jacobian, state)) return finish(problem, state, step);
    let next: State | undefined;
    while (damping < 1e20 && !next) {
      const trial = evaluate(problem, move(state.b, dampedStep(jacobian, state.r, damping)));
      if (trial.sum < state.sum) next = trial;
      else [damping, growth] = [damping * growth, growth * 2];
    }
    if (!next) return finish(problem, state, step);
    state = next;
    [damping, growth] = [Math.max(damping / 3, 1e-16), 2];
  }
  throw new RangeError(
    `nonlinearFit requires a start nearer the answer, got none in ${steps} steps`,
  );
}

function evaluate<X>(problem: NonlinearProblem<X>, b: readonly number[]): State {
  const r = problem.y.map((y, i) =>
    (y - problem.model(problem.x[i] as X, b)) * Math.sqrt(problem.weights?.[i] ?? 1)
  );
  const sum = r.reduce((total, v) => total + v * v, 0);
  return { b, r, sum: Number.isFinite(sum) ? sum : Infinity };
}

function weightedJacobian<X>(problem: NonlinearProblem<X>, b: readonly number[]): number[][] {
  return problem.x.map((x, i) => {
    const root = Math.sqrt(problem.weights?.[i] ?? 1);
    const row = problem.partials?.(x, b) ?? b.map((_, j) => slope(problem, x, b, j));
    return row.map((v) => v * root);
  });
}

/** Derivative of the model by parameter j, five points. */
function slope<X>(problem: NonlinearProblem<X>, x: X, b: readonly number[], j: number): number {
  const own = b[j] ?? 0, h = (Math.abs(own) || 1e-3) * 2 ** -10;
  const at = (k: number): number => problem.model(x, b.map((v, i) => i === j ? own + k * h : v));
  return (8 * (at(1) - at(-1)) - (at(2) - at(-2))) / (12 * h);
}

/** The step that lowers |r - J d|² + damping |D d|², D the lengths of J's columns. */
function dampedStep(
  jacobian: readonly number[][],
  r: readonly number[],
  damping: number,
): number[] {
  const lengths = columnLengths(jacobian), root = Math.sqrt(damping);
  const rows = jacobian.map((row) => row.map((v, j) => v / (lengths[j] ?? 1)));
  const below = lengths.map((_, i) => lengths.map((__, j) => i === j ? root : 0));
  const right = [...r, ...lengths.map(() => 0)];
  const solution = new QrDecomposition(new Matrix([...rows, ...below]))
    .solve(Matrix.columnVector(right));
  return lengths.map((length, j) => solution.get(j, 0) / length);
}

/** True where an undamped step would move nothing that matters. */
function settled(jacobian: readonly number[][], { b, r, sum }: State): boolean {
  if (sum === 0) return true;
  const step = dampedStep(jacobian, r, 1e-16);
  return step.every((d, j) => Math.abs(d) <= 1e-9 * Math.abs(b[j] ?? 0));
}

function finish<X>(problem: NonlinearProblem<X>, state: State, steps: number): NonlinearFit {
  const jacobian = weightedJacobian(problem, state.b);
  const final = polish(problem, state, jacobian);
  const { unscaledCovariance } = linearFit(weightedJacobian(problem, final.b), final.r);
  const dof = problem.y.length - final.b.length, s = Math.sqrt(final.sum / dof);
  const covariance = unscaledCovariance.map((row) => row.map((v) => v * s * s));
  return {
    coefficients: final.b,
    standardErrors: covariance.map((row, j) => Math.sqrt(row[j] ?? 0)),
    covariance,
    residuals: problem.y.map((y, i) => y - problem.model(problem.x[i] as X, final.b)),
    dof,
    s,
    steps,
  };
}

/** A few undamped steps, each kept only if the sum of squares does not rise beyond rounding. */
function polish<X>(problem: NonlinearProblem<X>, state: State, jacobian: number[][]): State {
  let best = state, at = jacobian;
  for (let turn = 0; turn < 3; turn++) {
    const next = evaluate(problem, move(best.b, dampedStep(at, best.r, 1e-24)));
    if (!(next.sum <= best.sum * (1 + 1e-12))) return best;
    best = next;
    at = weightedJacobian(problem, best.b);
  }
  return best;
}

function move(b: readonly number[], step: readonly number[]): number[] {
  return b.map((v, j) => v + (step[j] ?? 0));
}

function columnLengths(rows: readonly number[][]): number[] {
  const size = rows[0]?.length ?? 0;
  return Array.from(
    { length: size },
    (_, j) => Math.sqrt(rows.reduce((sum, row) => sum + (row[j] ?? 0) ** 2, 0)) || 1,
  );
}
