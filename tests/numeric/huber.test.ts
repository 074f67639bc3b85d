import assert from "node:assert/strict";
import fc from "fast-check";
import { huberFit, huberMiddle } from "../../lib/numeric/huber.ts";
import { linearFit } from "../../lib/numeric/leastSquares.ts";
import { random } from "../../lib/numeric/random.ts";
import { near, reference } from "../references/reference.ts";

interface Settled {
  readonly coef: readonly number[];
  readonly scale: number;
  readonly weights: readonly number[];
}
const { inputs, expected, tolerance } = reference<
  {
    readonly stackloss: { readonly rows: readonly (readonly number[])[] };
    readonly line_outlier: { readonly x: readonly number[]; readonly y: readonly number[] };
    readonly location: readonly number[];
  },
  {
    readonly stackloss: {
      readonly ols: readonly number[];
      readonly "huber_1.345_scale_mad0": Settled;
      readonly huber_fixed_c2: readonly number[];
      readonly published: { readonly ols: readonly number[]; readonly huber: readonly number[] };
    };
    readonly line_outlier: {
      readonly "huber_1.345_scale_mad0": Settled;
      readonly "huber_fixed_c0.5": readonly number[];
    };
    readonly location: Readonly<Record<string, number>>;
  }
>("robust-regression");
const rel = tolerance["huber_rel"] ?? 0, printed = tolerance["published_abs"] ?? 0;

function compare(got: readonly number[], wanted: readonly number[], what: string, by = rel): void {
  assert.equal(got.length, wanted.length);
  got.forEach((v, i) => near(v, wanted[i] ?? NaN, by, `${what} ${i}`));
}

const stack = {
  rows: inputs.stackloss.rows.map(([air = 0, water = 0, acid = 0]) => [1, air, water, acid]),
  y: inputs.stackloss.rows.map((row) => row[3] ?? NaN),
};
const line = { rows: inputs.line_outlier.x.map((x) => [1, x]), y: inputs.line_outlier.y };

Deno.test("Brownlee's stack loss: coefficients, scale, weights", () => {
  const fit = huberFit(stack.rows, stack.y), wanted = expected.stackloss["huber_1.345_scale_mad0"];
  compare(fit.coefficients, wanted.coef, "coefficient");
  compare(fit.weights, wanted.weights, "weight");
  near(fit.scale, wanted.scale, rel, "scale");
  fit.coefficients.forEach((b, j) =>
    near(b, expected.stackloss.published.huber[j] ?? NaN, printed, "published", "absolute")
  );
  compare(
    linearFit(stack.rows, stack.y).coefficients,
    expected.stackloss.ols,
    "least squares",
    1e-10,
  );
});

Deno.test("a fixed threshold", () => {
  // the reference iterates to 1.5e-6 between its two programs; 1e-6 holds for ours
  compare(
    huberFit(stack.rows, stack.y, { threshold: 2 }).coefficients,
    expected.stackloss.huber_fixed_c2,
    "stack",
  );
  compare(
    huberFit(line.rows, line.y, { threshold: 0.5 }).coefficients,
    expected.line_outlier["huber_fixed_c0.5"],
    "line",
  );
});

Deno.test("a line with one wild reading", () => {
  const fit = huberFit(line.rows, line.y), wanted = expected.line_outlier["huber_1.345_scale_mad0"];
  compare(fit.coefficients, wanted.coef, "coefficient");
  compare(fit.weights, wanted.weights, "weight");
  near(fit.scale, wanted.scale, rel, "scale");
});

Deno.test("the middle of readings with one wild among them", () => {
  const { middle, scale } = huberMiddle(inputs.location);
  near(middle, expected.location["huber_k1.5"] ?? NaN, rel, "middle");
  near(scale, expected.location["mad_scale"] ?? NaN, rel, "scale");
});

Deno.test("readings that sit on the steps of a scale do not blow the fit up", () => {
  const rows = [0, 1, 2, 3, 4, 5, 6, 7].map((x) => [1, x]);
  const y = [0, 1, 2, 3, 4, 5, 6, 7.1];
  const floored = huberFit(rows, y, { step: 0.1 });
  assert.ok(floored.scale >= 0.1 / Math.sqrt(12));
  assert.ok((floored.weights[7] ?? 0) > 0.3, "one step off is not thrown away");
  const equal = huberFit(rows, rows.map(([, x = 0]) => 2 * x), { step: 0.1 });
  near(equal.coefficients[1], 2, 1e-12, "slope");
  assert.equal(equal.scale, 0.1 / Math.sqrt(12));
  assert.equal(huberMiddle([5, 5, 5, 5], { step: 0.01 }).middle, 5);
  assert.equal(huberMiddle([5, 5, 5, 6]).middle, 5);
});

Deno.test("law: clean readings within the bend give least squares", () => {
  const rows = [0, 1, 2, 3, 4, 5].map((x) => [1, x]);
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 6, maxLength: 6 }),
      (y) => {
        const plain = linearFit(rows, y), robust = huberFit(rows, y, { threshold: 100 });
        compare(robust.coefficients, plain.coefficients, "b", 1e-12);
        assert.ok(robust.weights.every((w) => w === 1));
      },
    ),
  );
});

Deno.test("stated errors against the scatter of 400 simulated fits, clean and with wild readings", () => {
  const rows = Array.from({ length: 24 }, (_, i) => [1, i - 11.5]);
  for (const wild of [0, 0.1]) {
    const source = random(31), slopes: number[] = [];
    let stated = 0;
    for (let run = 0; run < 400; run++) {
      const y = rows.map(() => source.normal() * (source.uniform() < wild ? 8 : 1));
      const fit = huberFit(rows, y);
      slopes.push(fit.coefficients[1] ?? 0);
      stated += (fit.standardErrors[1] ?? 0) ** 2 / 400;
    }
    const seen = slopes.reduce((sum, b) => sum + b * b, 0) / slopes.length;
    near(Math.sqrt(stated), Math.sqrt(seen), 0.12, `wild ${wild}`); // the scatter of 400 is itself sure to 3.5 %
  }
});

Deno.test("readings on a coarse scale settle, however the scale hops", () => {
  const source = random(77), rows = Array.from({ length: 9 }, (_, i) => [1, i]);
  for (let run = 0; run < 150; run++) {
    const y = rows.map(([, x = 0]) => Math.round(x / 3 + source.studentT(2)));
    const { weights, scale } = huberFit(rows, y);
    assert.ok(scale >= 0 && weights.every((w) => w > 0 && w <= 1));
  }
});

Deno.test("wrong arguments are refused", () => {
  assert.throws(() => huberFit(line.rows, line.y, { tuning: 0 }), /tuning and threshold above 0/);
  assert.throws(() => huberFit(line.rows, line.y, { step: -1 }), /step >= 0/);
  assert.throws(() => huberFit([[1]], [1]), RangeError);
  assert.throws(() => huberMiddle([1]), /two or more/);
});
