import assert from "node:assert/strict";
import fc from "fast-check";
import { random } from "../../lib/numeric/random.ts";
import {
  type Distribution,
  normalAbout,
  rectangularBetween,
} from "../../lib/quantity/distributions.ts";
import { drawer } from "../../lib/quantity/drawer.ts";
import { near } from "../references/reference.ts";

const unit = normalAbout(0, 1);

/** An input that counts 0, 1, 2, ...: shows which draw went where. */
function counting(): Distribution {
  let next = 0;
  return { draw: () => next++, mean: 0, u: 1, dof: Infinity };
}

Deno.test("every row is shown once and in order, across batches", () => {
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
