import assert from "node:assert/strict";
import fc from "fast-check";
import { linearFit } from "../../lib/numeric/leastSquares.ts";
import { nonlinearFit } from "../../lib/numeric/nonlinearFit.ts";
import { random } from "../../lib/numeric/random.ts";
import { digitsAgreed, fewestDigits, near, reference } from "../references/reference.ts";

type Model = (x: number, b: readonly number[]) => number;

/** The six models, as their files state them. */
const models: Readonly<Record<string, Model>> = {
  misra1a: (x, [b1 = 0, b2 = 0]) => b1 * (1 - Math.exp(-b2 * x)),
  danwood: (x, [b1 = 0, b2 = 0]) => b1 * x ** b2,
  thurber: (x, [b1 = 0, b2 = 0, b3 = 0, b4 = 0, b5 = 0, b6 = 0, b7 = 0]) =>
    (b1 + b2 * x + b3 * x ** 2 + b4 * x ** 3) / (1 + b5 * x + b6 * x ** 2 + b7 * x ** 3),
  mgh09: (x, [b1 = 0, b2 = 0, b3 = 0, b4 = 0]) => b1 * (x * x + x * b2) / (x * x + x * b3 + b4),
  lanczos3: (x, [b1 = 0, b2 = 0, b3 = 0, b4 = 0, b5 = 0, b6 = 0]) =>
    b1 * Math.exp(-b2 * x) + b3 * Math.exp(-b4 * x) + b5 * Math.exp(-b6 * x),
  gauss1: (x, [b1 = 0, b2 = 0, b3 = 0, b4 = 0, b5 = 1, b6 = 0, b7 = 0, b8 = 1]) =>
    b1 * Math.exp(-b2 * x) + b3 * Math.exp(-((x - b4) ** 2) / b5 ** 2) +
    b6 * Math.exp(-((x - b7) ** 2) / b8 ** 2),
};

interface Inputs {
  readonly rows: readonly (readonly [number, number])[];
  readonly start1: readonly number[];
  readonly start2: readonly number[];
}
interface Expected {
  readonly parameters: readonly number[];
  readonly standard_deviations: readonly number[];
  readonly residual_ss: number;
  readonly residual_sd: number;
  readonly dof: number;
}
interface Tolerance {
  readonly parameters_rel: number;
  readonly standard_deviations_rel: number;
  readonly residual_ss_rel: number;
}

for (const [name, model] of Object.entries(models)) {
  const { inputs, expected, tolerance } = reference<Inputs, Expected, Tolerance>(
    `nist-strd-${name}`,
  );
  for (const which of ["start1", "start2"] as const) {
    const fit = nonlinearFit({
      model,
      x: inputs.rows.map(([, x]) => x),
      y: inputs.rows.map(([y]) => y),
      start: inputs[which],
    });
    const digits = fewestDigits(fit.coefficients, expected.parameters);
    const square = fit.s ** 2 * fit.dof;
    const told = [
      `parameters ${digits.toFixed(1)}`,
      `their deviations ${
        fewestDigits(fit.standardErrors, expected.standard_deviations).toFixed(1)
      }`,
      `sum of squares ${digitsAgreed(square, expected.residual_ss).toFixed(1)}`,
    ];
    Deno.test(`certified nonlinear set ${name}, ${which}: digits of ${told.join(", ")}`, () => {
      assert.ok(digits >= 6, `${digits} digits`);
      fit.coefficients.forEach((b, j) =>
        near(b, expected.parameters[j] ?? NaN, tolerance.parameters_rel, `b${j + 1}`)
      );
      fit.standardErrors.forEach((u, j) =>
        near(
          u,
          expected.standard_deviations[j] ?? NaN,
          tolerance.standard_deviations_rel,
          `u${j + 1}`,
        )
      );
      near(square, expected.residual_ss, tolerance.residual_ss_rel, "sum of squares");
      near(fit.s, expected.residual_sd, tolerance.residual_ss_rel, "residual standard deviation");
      assert.equal(fit.dof, expected.dof);
    });
  }
}

Deno.test("a model linear in its parameters gives the linear fit, weights and all", () => {
  const x = [0, 1, 2, 3, 4, 5], y = [1, 2.9, 5.2, 6.8, 9.1, 11.2], weights = [1, 2, 1, 0.5, 1, 3];
  const bent = nonlinearFit({
    model: (v: number, [a = 0, b = 0]) => a + b * v,
    x,
    y,
    weights,
    start: [0, 0],
  });
  const straight = linearFit(x.map((v) => [1, v]), y, weights);
  bent.coefficients.forEach((b, j) => near(b, straight.coefficients[j] ?? NaN, 1e-9, `b${j}`));
  bent.standardErrors.forEach((u, j) => near(u, straight.standardErrors[j] ?? NaN, 1e-7, `u${j}`));
  near(bent.s, straight.s, 1e-10, "s");
});

Deno.test("given derivatives lead to the same place as differences", () => {
  const x = [0, 1, 2, 3, 4, 5, 6], source = random(2);
  const y = x.map((v) => 5 * Math.exp(-0.4 * v) + 0.01 * source.normal());
  const problem = {
    model: (v: number, [a = 0, k = 0]: readonly number[]) => a * Math.exp(-k * v),
    x,
    y,
    start: [1, 1],
  };
  const plain = nonlinearFit(problem);
  const given = nonlinearFit({
    ...problem,
    partials: (v: number, [a = 0, k = 0]) => [Math.exp(-k * v), -a * v * Math.exp(-k * v)],
  });
  assert.ok(fewestDigits(given.coefficients, plain.coefficients) > 8);
  assert.ok(fewestDigits(given.standardErrors, plain.standardErrors) > 7);
});

Deno.test("law: a decay without noise is found from any start nearby", () => {
  const x = [0, 1, 2, 3, 5, 8];
  const size = fc.double({ min: 0.5, max: 20, noNaN: true }),
    rate = fc.double({ min: 0.05, max: 1, noNaN: true });
  const off = fc.double({ min: 0.5, max: 2, noNaN: true });
  fc.assert(
    fc.property(size, rate, off, off, (a, k, da, dk) => {
      const model: Model = (v, [b1 = 0, b2 = 0]) => b1 * Math.exp(-b2 * v);
      const fit = nonlinearFit({
        model,
        x,
        y: x.map((v) => model(v, [a, k])),
        start: [a * da, k * dk],
      });
      near(fit.coefficients[0], a, 1e-8, "size");
      near(fit.coefficients[1], k, 1e-8, "rate");
    }),
    { numRuns: 50 },
  );
});

Deno.test("x may be anything the model understands", () => {
  const points = [{ u: 0, v: 0 }, { u: 1, v: 0 }, { u: 0, v: 1 }, { u: 1, v: 1 }];
  const fit = nonlinearFit({
    model: ({ u, v }: { u: number; v: number }, [a = 0, b = 0]) => a * u + b * v,
    x: points,
    y: [0, 2, 3, 5],
    start: [1, 1],
  });
  near(fit.coefficients[0], 2, 1e-9, "a");
  near(fit.coefficients[1], 3, 1e-9, "b");
});

Deno.test("what cannot be fitted is refused", () => {
  const model: Model = (x, [a = 0, b = 0]) => a + b * x;
  assert.throws(
    () => nonlinearFit({ model, x: [1, 2], y: [1, 2], start: [0, 0] }),
    /more readings than parameters/,
  );
  assert.throws(
    () => nonlinearFit({ model, x: [1, 2, 3], y: [1, 2], start: [0] }),
    /one x for each reading/,
  );
  assert.throws(
    () => nonlinearFit({ model: () => NaN, x: [1, 2], y: [1, 2], start: [0] }),
    /finite at the start/,
  );
  const twice: Model = (x, [a = 0, b = 0]) => (a + b) * x;
  assert.throws(
    () => nonlinearFit({ model: twice, x: [1, 2, 3], y: [1, 2, 4], start: [1, 1] }),
    /made up of the earlier ones/,
  );
  const slow = {
    model: models["mgh09"] ?? model,
    x: [4, 2, 1, 0.5, 0.25],
    y: [0.2, 0.19, 0.17, 0.16, 0.08],
    start: [25, 39, 41, 39],
  };
  assert.throws(() => nonlinearFit({ ...slow, steps: 2 }), /none in 2 steps/);
});
