import fc from "fast-check";
import assert from "node:assert/strict";
import { chiSquareUpper, normalCdf, tCdf } from "../../lib/numeric/quantiles.ts";
import {
  bell,
  fillBetween,
  fillZiggurat,
  nextWord,
  random,
  startState,
} from "../../lib/numeric/random.ts";
import { near } from "../references/reference.ts";

Deno.test("law: equal seeds give equal numbers, and a generator is its own", () => {
  fc.assert(fc.property(fc.maxSafeNat(), (seed) => {
    const a = random(seed), b = random(seed), other = random(seed);
    other.normal();
    const draw = (r: typeof a): number[] => [r.uniform(), r.normal(), r.studentT(3), r.integer(9)];
    assert.deepEqual(draw(a), draw(b));
  }));
});

Deno.test("the stream is sfc32's", () => {
  // CROSS-CHECK secondRoute.py, uniform numbers: the same recurrence in Python's integers (a, b, c from seed 7)
  const source = random(7);
  const got = [source.uniform(), source.uniform(), source.uniform()];
  assert.deepEqual(got, [0.7176496253022729, 0.39230150160060906, 0.42450103694703967]);
});

/** Probability that a histogram of k equally likely boxes looks no worse than this. */
function evenness(counts: readonly number[]): number {
  const each = counts.reduce((sum, c) => sum + c, 0) / counts.length;
  return chiSquareUpper(
    counts.reduce((sum, c) => sum + (c - each) ** 2 / each, 0),
    counts.length - 1,
  );
}

function histogram(count: number, boxes: number, draw: () => number): number[] {
  const counts = new Array<number>(boxes).fill(0);
  for (let i = 0; i < count; i++) {
    const box = Math.min(boxes - 1, Math.floor(draw() * boxes));
    counts[box] = (counts[box] ?? 0) + 1;
  }
  return counts;
}

const source = random(20260418);
const shapes: Record<string, () => number> = {
  uniform: () => source.uniform(),
  normal: () => normalCdf(source.normal()),
  "Student t with 3": () => tCdf(source.studentT(3), 3),
  "chi-square with 5": () => 1 - chiSquareUpper(source.chiSquare(5), 5),
  "chi-square with 1": () => 1 - chiSquareUpper(source.chiSquare(1), 1),
};
shapes["normal in bulk"] = bulk((out) => source.fillNormal(out), normalCdf);
shapes["normal in bulk, mean 3, sd 2"] = bulk(
  (out) => source.fillNormal(out, 3, 2),
  (z) => normalCdf((z - 3) / 2),
);
shapes["Student t with 3 in bulk, middle 3, scale 2"] = bulk(
  (out) => source.fillStudent(out, 3, 3, 2),
  (t) => tCdf((t - 3) / 2, 3),
);
shapes["Student t with infinite dof in bulk"] = bulk(
  (out) => source.fillStudent(out, Infinity),
  normalCdf,
);
shapes["uniform in bulk"] = bulk((out) => source.fillUniform(out), (u) => u);
shapes["uniform in bulk, 2 to 6"] = bulk(
  (out) => source.fillUniform(out, 2, 6),
  (u) => (u - 2) / 4,
);

/** One number at a time out of arrays filled at once. */
function bulk(fill: (out: Float64Array) => void, toEven: (x: number) => number): () => number {
  const out = new Float64Array(1000);
  let next = 1000;
  return () => {
    if (next === 1000) fill(out), next = 0;
    return toEven(out[next++] ?? NaN);
  };
}

for (const [name, draw] of Object.entries(shapes)) {
  Deno.test(`${name}: 20,000 draws fill 50 equally likely boxes evenly`, () => {
    const p = evenness(histogram(20000, 50, draw));
    assert.ok(p > 0.001 && p < 0.999, `p = ${p}`); // a fair generator fails one seed in 500; this seed is fixed
  });
}

Deno.test("pairs of neighbours fill a square evenly, and neighbouring seeds are unrelated", () => {
  const r = random(3);
  const pairs = histogram(40000, 100, () => Math.floor(r.uniform() * 10) / 10 + r.uniform() / 10);
  assert.ok(evenness(pairs) > 0.001);
  const seeds = histogram(
    20000,
    50,
    (() => {
      let seed = 0;
      return () => random(seed++).uniform();
    })(),
  );
  assert.ok(evenness(seeds) > 0.001);
});

Deno.test("mean, spread and lean of a normal sample are within four of their standard errors", () => {
  const r = random(11), n = 200000;
  let s1 = 0, s2 = 0, s3 = 0, s4 = 0;
  for (let i = 0; i < n; i++) {
    const z = r.normal();
    [s1, s2, s3, s4] = [s1 + z, s2 + z * z, s3 + z ** 3, s4 + z ** 4];
  }
  // DERIVED: variances of z, z², z³, z⁴ are 1, 2, 15, 96
  near(s1 / n, 0, 4 * Math.sqrt(1 / n), "mean", "absolute");
  near(s2 / n, 1, 4 * Math.sqrt(2 / n), "variance", "absolute");
  near(s3 / n, 0, 4 * Math.sqrt(15 / n), "third", "absolute");
  near(s4 / n, 3, 4 * Math.sqrt(96 / n), "fourth", "absolute");
});

Deno.test("filling at once gives uniform's own numbers, in its place in the stream", () => {
  const a = random(9), b = random(9), out = new Float64Array(50);
  a.fillUniform(out);
  out.forEach((u) => assert.equal(u, b.uniform()));
  assert.equal(a.uniform(), b.uniform());
});

Deno.test("integer covers 0 to count - 1; t with infinite dof is normal", () => {
  const r = random(1), seen = new Set<number>();
  for (let i = 0; i < 200; i++) seen.add(r.integer(6));
  assert.deepEqual([...seen].sort(), [0, 1, 2, 3, 4, 5]);
  assert.equal(random(5).studentT(Infinity), random(5).normal());
});

Deno.test("wrong arguments are refused", () => {
  for (const seed of [-1, 0.5, NaN, 2 ** 53]) {
    assert.throws(() => random(seed), /random requires a whole seed/);
  }
  assert.throws(() => random(1).integer(0), /count=0/);
  assert.throws(() => random(1).studentT(0), /dof=0/);
  assert.throws(() => random(1).chiSquare(Infinity), /dof=Infinity/);
});

Deno.test("four words from a seed beyond 32 bits", () => {
  // CROSS-CHECK secondRoute.py, words of a long seed: the same recurrence in Python's integers
  const state = startState(123456789012345);
  const words = [0, 1, 2, 3].map(() => nextWord(state) >>> 0);
  assert.deepEqual(words, [2889973958, 2035037108, 887532240, 44453346]);
});

Deno.test("filling moves the state on by two words for each number", () => {
  const filled = startState(5), stepped = startState(5), out = new Float64Array(10);
  fillBetween(out, filled, -1, 3);
  for (let i = 0; i < 20; i++) nextWord(stepped);
  assert.deepEqual(filled, stepped);
  assert.ok(out.every((x) => x >= -1 && x < 3));
});

Deno.test("the counter runs over without a break", () => {
  const state = Int32Array.of(1, 2, 3, 0x7fffffff);
  nextWord(state);
  assert.equal(state[3], -0x80000000);
  assert.equal(Number.isInteger(nextWord(state)), true);
});

Deno.test("seeds that differ only above 32 bits differ", () => {
  assert.notDeepEqual(startState(7), startState(7 + 2 ** 32));
});

const n = 2_000_000, draws = new Float64Array(n);
fillZiggurat(draws, Int32Array.of(101, 202, 303, 1), bell());

Deno.test("two million draws: four moments within four of their standard errors", () => {
  let s1 = 0, s2 = 0, s3 = 0, s4 = 0;
  for (const z of draws) {
    const square = z * z;
    s1 += z;
    s2 += square;
    s3 += square * z;
    s4 += square * square;
  }
  // DERIVED: variances of z, z², z³, z⁴ are 1, 2, 15, 96
  near(s1 / n, 0, 4 * Math.sqrt(1 / n), "mean", "absolute");
  near(s2 / n, 1, 4 * Math.sqrt(2 / n), "variance", "absolute");
  near(s3 / n, 0, 4 * Math.sqrt(15 / n), "third", "absolute");
  near(s4 / n, 3, 4 * Math.sqrt(96 / n), "fourth", "absolute");
});

Deno.test("the share beyond each limit, out to the tail below the last layer", () => {
  for (const limit of [0.1, 0.5, 1, 2, 3, 3.3, 3.6, 3.65415289, 3.7, 4, 4.5]) {
    const p = normalCdf(-limit), sure = 4 * Math.sqrt(p * (1 - p) / n);
    near(draws.filter((z) => z > limit).length / n, p, sure, `above ${limit}`, "absolute");
    near(draws.filter((z) => z < -limit).length / n, p, sure, `below ${-limit}`, "absolute");
  }
});

Deno.test("neighbours are unrelated", () => {
  for (const lag of [1, 2, 7]) {
    let sum = 0;
    for (let i = lag; i < n; i++) sum += (draws[i] ?? 0) * (draws[i - lag] ?? 0);
    near(sum / n, 0, 4 / Math.sqrt(n), `lag ${lag}`, "absolute");
  }
});

Deno.test("no value comes back too often", () => {
  const sorted = draws.slice(0, 200000).sort();
  assert.equal(sorted.filter((z, i) => i > 0 && z === sorted[i - 1]).length, 0);
});
