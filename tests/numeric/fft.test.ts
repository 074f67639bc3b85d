import assert from "node:assert/strict";
import fc from "fast-check";
import { fftPlan } from "../../lib/numeric/fft.ts";
import { random } from "../../lib/numeric/random.ts";

const noise = (length: number, seed: number): Float64Array => {
  const out = new Float64Array(length);
  random(seed).fillNormal(out);
  return out;
};

/** The sum itself, term by term. */
function bySum(re: Float64Array, im: Float64Array): { re: number[]; im: number[] } {
  const n = re.length, out = { re: [] as number[], im: [] as number[] };
  for (let k = 0; k < n; k++) {
    let a = 0, b = 0;
    for (let j = 0; j < n; j++) {
      const t = (-2 * Math.PI * ((j * k) % n)) / n, c = Math.cos(t), s = Math.sin(t);
      a += (re[j] ?? 0) * c - (im[j] ?? 0) * s;
      b += (re[j] ?? 0) * s + (im[j] ?? 0) * c;
    }
    out.re.push(a);
    out.im.push(b);
  }
  return out;
}

Deno.test("every length up to 1024 gives the sum that defines it", () => {
  for (let n = 2; n <= 1024; n *= 2) {
    const re = noise(n, 1), im = noise(n, 2), wanted = bySum(re, im);
    fftPlan(n).forward(re, im);
    // DERIVED rounding of n random terms of size 1: epsilon x sqrt(n) x a few
    const room = 1e-14 * n;
    for (let k = 0; k < n; k++) {
      assert.ok(Math.abs((re[k] ?? NaN) - (wanted.re[k] ?? NaN)) < room, `${n} ${k}`);
      assert.ok(Math.abs((im[k] ?? NaN) - (wanted.im[k] ?? NaN)) < room, `${n} ${k}`);
    }
  }
});

Deno.test("there and back is where it began; energy is kept", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 12 }), fc.integer({ min: 0, max: 9999 }), (log, seed) => {
      const n = 2 ** log, re = noise(n, seed), im = noise(n, seed + 1);
      const first = re.slice(), second = im.slice(), plan = fftPlan(n);
      const energy = (): number => re.reduce((s, v, k) => s + v * v + (im[k] ?? 0) ** 2, 0);
      const before = energy();
      plan.forward(re, im);
      assert.ok(Math.abs(energy() / n / before - 1) < 1e-12); // Parseval
      plan.inverse(re, im);
      for (let k = 0; k < n; k++) {
        assert.ok(Math.abs((re[k] ?? NaN) - (first[k] ?? NaN)) < 1e-12);
        assert.ok(Math.abs((im[k] ?? NaN) - (second[k] ?? NaN)) < 1e-12);
      }
    }),
    { numRuns: 60 },
  );
});

Deno.test("a shift of the row is a turn of each harmonic", () => {
  const n = 64, re = noise(n, 5), im = noise(n, 6), plan = fftPlan(n);
  const shiftedRe = re.map((_, k) => re[(k + 3) % n] ?? 0),
    shiftedIm = im.map((_, k) => im[(k + 3) % n] ?? 0);
  plan.forward(re, im);
  plan.forward(shiftedRe, shiftedIm);
  for (let k = 0; k < n; k++) {
    const t = (2 * Math.PI * 3 * k) / n, a = re[k] ?? 0, b = im[k] ?? 0;
    assert.ok(Math.abs((shiftedRe[k] ?? 0) - (a * Math.cos(t) - b * Math.sin(t))) < 1e-12);
    assert.ok(Math.abs((shiftedIm[k] ?? 0) - (a * Math.sin(t) + b * Math.cos(t))) < 1e-12);
  }
});

Deno.test("lengths that are not powers of two are refused, and arrays of another length", () => {
  for (const n of [0, 1, 3, 12, -4, NaN, Infinity, 2 ** 25]) {
    assert.throws(() => fftPlan(n), /fftPlan requires a power of two/);
  }
  assert.throws(
    () => fftPlan(8).forward(new Float64Array(8), new Float64Array(4)),
    /two arrays of 8 numbers, got 8 and 4/,
  );
});
