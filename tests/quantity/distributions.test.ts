import fc from "fast-check";
import assert from "node:assert/strict";
import { random } from "../../lib/numeric/random.ts";
import {
  type Distribution,
  drawer,
  exactly,
  fillColumn,
  normalAbout,
  rectangularBetween,
  studentAbout,
  sumOf,
} from "../../lib/quantity/distributions.ts";
import { near } from "../references/reference.ts";
import { arcsineBetween, looseRectangle } from "./shapes.ts";

const shapes: readonly (readonly [string, Distribution, number, readonly [number, number]])[] = [
  // DERIVED: standard deviations of the draws from their second moments
  ["normal", normalAbout(5, 2), 2, [-Infinity, Infinity]],
  ["rectangle", rectangularBetween(1, 7), Math.sqrt(3), [1, 7]],
  ["arcsine", arcsineBetween(-2, 4), Math.sqrt(4.5), [-2, 4]],
  ["loose rectangle", looseRectangle(-3, 3, 1.5), Math.sqrt(3 + 1.5 ** 2 / 9), [-4.5, 4.5]],
  ["Student t", studentAbout(1, 0.5, 10), 0.5 * Math.sqrt(10 / 8), [-Infinity, Infinity]],
];

for (const [name, distribution, sd, [low, high]] of shapes) {
  Deno.test(`${name}: 100,000 draws have its mean and spread, within its ends`, () => {
    const source = random(21), n = 100000;
    let sum = 0, square = 0;
    for (let i = 0; i < n; i++) {
      const x = distribution.draw(source);
      assert.ok(x >= low && x <= high);
      sum += x - distribution.mean;
      square += (x - distribution.mean) ** 2;
    }
    near(sum / n, 0, 4 * sd / Math.sqrt(n), "mean", "absolute");
    near(Math.sqrt(square / n), sd, 0.015, "spread"); // four standard errors: 4/√(2n) = 0.9 %, more for t's tails
    if (name !== "Student t") near(distribution.u, sd, 1e-14, "stated");
  });
}

Deno.test("few degrees of freedom throw as far as Student's t has it", () => {
  const few = studentAbout(3, 0.5, 2);
  assert.deepEqual([few.mean, few.u, few.dof], [3, 0.5, 2]);
  const source = random(2);
  let far = 0;
  for (let i = 0; i < 20000; i++) if (Math.abs(few.draw(source) - 3) > 4.302653 * 0.5) far++;
  near(far / 20000, 0.05, 4 * Math.sqrt(0.05 * 0.95 / 20000), "beyond t95", "absolute"); // READ GUM Table G.2: 4.30
});

Deno.test("wrong arguments are refused", () => {
  assert.throws(() => normalAbout(NaN, 1), /normalAbout requires a finite mean/);
  assert.throws(() => normalAbout(0, -1), RangeError);
  assert.throws(() => studentAbout(0, 1, 0), /dof=0/);
  assert.throws(() => rectangularBetween(2, 1), /finite low <= high, got 2, 1/);
});

Deno.test("a sum of independent inputs has their means and variances added, drawn singly or in bulk", () => {
  const sum = sumOf([
    rectangularBetween(1, 3),
    normalAbout(5, 2),
    rectangularBetween(-1, 1),
    exactly(4),
  ]);
  near(sum.mean, 11, 1e-12, "mean");
  near(sum.u, Math.sqrt(1 / 3 + 4 + 1 / 3), 1e-12, "u"); // DERIVED: 2²/12 + 2² + 2²/12
  assert.equal(sum.dof, Infinity);
  const out = new Float64Array(40_000), source = random(2);
  const check = (how: string): void => {
    const mean = out.reduce((a, b) => a + b, 0) / out.length;
    const variance = out.reduce((a, b) => a + (b - mean) ** 2, 0) / (out.length - 1);
    near(mean, 11, 4 * sum.u / 200, `mean ${how}`, "absolute");
    near(Math.sqrt(variance), sum.u, 0.02, `u ${how}`);
  };
  sum.fill?.(out, source);
  check("in bulk");
  out.forEach((_, i) => out[i] = sum.draw(source));
  check("singly");
});

Deno.test("sums keep the degrees of freedom of what is uncertain; one is itself, none is refused", () => {
  const t = studentAbout(0, 3, 4);
  assert.equal(sumOf([t]), t);
  near(sumOf([t, normalAbout(0, 4)]).dof, 4 * 5 ** 4 / 3 ** 4, 1e-12, "dof"); // DERIVED: Welch-Satterthwaite
  assert.throws(() => sumOf([]), /one distribution or more, got none/);
});

Deno.test("what is not in doubt is always itself", () => {
  const out = new Float64Array(3);
  fillColumn(exactly(50), out, random(1));
  assert.deepEqual([...out, exactly(50).draw(random(1))], [50, 50, 50, 50]);
  assert.throws(() => exactly(NaN), /finite mean/);
});

const unit = normalAbout(0, 1);

/** An input that counts 0, 1, 2, ...: shows which draw went where. */
function counting(): Distribution {
  let next = 0;
  return { draw: () => next++, mean: 0, u: 1, dof: Infinity };
}

Deno.test("every row is shown once and in order, across batches", () => {
  // DERIVED: row i holds i and 10000 i
  const draw = drawer(({ a, b }) => 10000 * a + b, { a: counting(), b: counting() }, random(1), []);
  const out = draw(2500);
  out.forEach((y, i) => assert.equal(y, 10001 * i));
});

Deno.test("law: one long run has the draws of a run of whole batches", () => {
  fc.assert(
    fc.property(fc.nat(), fc.integer({ min: 1, max: 3 }), (seed, batches) => {
      const inputs = { a: unit, b: rectangularBetween(0, 1) };
      const long = drawer((x) => x.a * x.b, inputs, random(seed), [])(3 * 1024);
      const short = drawer((x) => x.a * x.b, inputs, random(seed), [])(batches * 1024);
      assert.deepEqual(short, long.subarray(0, batches * 1024));
    }),
    { numRuns: 20 },
  );
});

Deno.test("a model that itself simulates does not disturb the outer run", () => {
  const inputs = { a: unit };
  const plain = drawer((x) => x.a, inputs, random(5), [])(40);
  const nested = drawer(
    (x) => {
      const before = x.a;
      drawer((y) => y.a, inputs, random(6), [])(3);
      assert.equal(x.a, before);
      return before;
    },
    inputs,
    random(5),
    [],
  )(40);
  assert.deepEqual(nested, plain);
});

Deno.test("three correlated inputs have the correlations asked for", () => {
  const wanted = [["a", "b", 0.5], ["a", "c", -0.3], ["b", "c", 0.2]] as const;
  const inputs = { a: unit, b: normalAbout(3, 2), c: unit }, n = 40000;
  for (const [p, q, r] of wanted) {
    const product = (x: Readonly<Record<"a" | "b" | "c", number>>): number =>
      (x[p] - inputs[p].mean) * (x[q] - inputs[q].mean) / (inputs[p].u * inputs[q].u);
    const out = drawer(product, inputs, random(8), wanted)(n);
    near(
      out.reduce((sum, y) => sum + y, 0) / n,
      r,
      4 * Math.sqrt((1 + r * r) / n),
      `${p}${q}`,
      "absolute",
    );
  }
});

Deno.test("the first result that is not finite is told with its inputs, and the next run is clean", () => {
  const draw = drawer(({ a }) => (a === 1500 ? NaN : a), { a: counting() }, random(1), []);
  assert.throws(() => draw(2000), /f finite, got NaN at \{"a":1500\}/);
  assert.equal(drawer(({ a }) => a, { a: counting() }, random(1), [])(2)[1], 1);
});

Deno.test("law: a model in columns gives the numbers of the same model row by row, whatever the count", () => {
  fc.assert(
    fc.property(fc.nat(), fc.integer({ min: 1, max: 2500 }), (seed, count) => {
      const inputs = { a: unit, b: rectangularBetween(1, 2) };
      const rows = drawer((x) => x.a / x.b, inputs, random(seed), [])(count);
      const columns = drawer(
        {
          rows: ({ a, b }, out) => {
            assert.equal(a.length, out.length);
            for (let i = 0; i < out.length; i++) out[i] = (a[i] ?? NaN) / (b[i] ?? NaN);
          },
        },
        inputs,
        random(seed),
        [],
      )(count);
      assert.deepEqual(columns, rows);
    }),
    { numRuns: 20 },
  );
});

Deno.test("a result in columns that is not finite is told with its inputs", () => {
  const rows = ({ a }: Readonly<Record<"a", Float64Array>>, out: Float64Array): void =>
    out.forEach((_, i) => out[i] = a[i] === 1100 ? Infinity : 0);
  assert.throws(
    () => drawer({ rows }, { a: counting() }, random(1), [])(1200),
    /f finite, got Infinity at \{"a":1100\}/,
  );
});
