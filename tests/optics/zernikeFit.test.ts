import assert from "node:assert/strict";
import fc from "fast-check";
import { random } from "../../lib/numeric/random.ts";
import { termsOfDegree, zernike } from "../../lib/optics/zernike.ts";
import { zernikeFitter } from "../../lib/optics/zernikeFit.ts";
import { close } from "./close.ts";

const place = (k: number, size: number): [number, number] => [
  (2 * (k % size) + 1) / size - 1,
  (2 * Math.floor(k / size) + 1) / size - 1,
];

function mapOf(size: number, terms: readonly number[]): Float64Array {
  return Float64Array.from({ length: size * size }, (_, k) => {
    const [x, y] = place(k, size);
    return terms.reduce(
      (sum, a, j) => sum + a * zernike(j + 1, Math.hypot(x, y), Math.atan2(y, x)),
      0,
    );
  });
}

/** Normal equations on the Zernike basis itself, pixel by pixel: slow, plain, independent of Chebyshev's products. */
function plainFit(
  map: Float64Array,
  mask: ArrayLike<number>,
  size: number,
  degree: number,
): number[] {
  const n = termsOfDegree(degree),
    a = Array.from({ length: n }, () => new Array<number>(n + 1).fill(0));
  for (let k = 0; k < map.length; k++) {
    if (!mask[k]) continue;
    const [x, y] = place(k, size);
    const z = Array.from(
      { length: n },
      (_, j) => zernike(j + 1, Math.hypot(x, y), Math.atan2(y, x)),
    );
    a.forEach((row, i) => {
      for (let j = 0; j < n; j++) row[j] = (row[j] ?? 0) + (z[i] ?? 0) * (z[j] ?? 0);
      row[n] = (row[n] ?? 0) + (z[i] ?? 0) * (map[k] ?? 0);
    });
  }
  for (let p = 0; p < n; p++) {
    const best = a.slice(p).reduce(
      (b, row, i) => Math.abs(row[p] ?? 0) > Math.abs(a[b]?.[p] ?? 0) ? p + i : b,
      p,
    );
    [a[p], a[best]] = [a[best] ?? [], a[p] ?? []];
    a.forEach((row, i) => {
      if (i === p) return;
      const f = (row[p] ?? 0) / (a[p]?.[p] ?? 1);
      for (let j = p; j <= n; j++) row[j] = (row[j] ?? 0) - f * (a[p]?.[j] ?? 0);
    });
  }
  return a.map((row, i) => (row[n] ?? 0) / (row[i] ?? 1));
}

Deno.test("a map made of terms gives the terms back, on the disc", () => {
  const dice = random(5), terms = Array.from({ length: 36 }, () => dice.normal());
  for (const size of [64, 41]) { // even, and odd with a pixel on the middle
    zernikeFitter(size).fit(mapOf(size, terms)).forEach((a, j) => close(a, terms[j] ?? 0, 1e-10));
  }
});

Deno.test("and on any mask: an obstruction, a missing sector, pixels at random", () => {
  const size = 48,
    dice = random(8),
    terms = Array.from({ length: 15 }, () => dice.normal()),
    map = mapOf(size, terms);
  const inside = (k: number): boolean => Math.hypot(...place(k, size)) <= 1;
  const masks = [
    (k: number) => Math.hypot(...place(k, size)) > 0.35,
    (k: number) => Math.abs(Math.atan2(...place(k, size))) > 0.6,
    () => dice.uniform() > 0.7,
  ];
  for (const keep of masks) {
    const mask = Uint8Array.from({ length: size * size }, (_, k) => inside(k) && keep(k) ? 1 : 0);
    zernikeFitter(size, 4).fit(map, mask).forEach((a, j) => close(a, terms[j] ?? 0, 1e-10));
  }
});

Deno.test("least squares: agrees with plain normal equations on a map that is no polynomial", () => {
  const size = 41;
  const map = Float64Array.from({ length: size * size }, (_, k) => {
    const [x, y] = place(k, size);
    return 0.3 * x + 0.2 * (x * x + y * y) + 0.1 * Math.sin(9 * x + 3 * y * y);
  });
  const mask = map.map((_, k) => Math.hypot(...place(k, size)) <= 0.97 && k % 7 !== 0 ? 1 : 0);
  const plain = plainFit(map, mask, size, 7);
  zernikeFitter(size).fit(map, mask).forEach((a, j) =>
    close(a, plain[j] ?? 0, 1e-11, `term ${j + 1}`)
  );
});

Deno.test("degree above seven takes the plain loop and still agrees", () => {
  const dice = random(3), terms = Array.from({ length: termsOfDegree(9) }, () => dice.normal());
  zernikeFitter(56, 9).fit(mapOf(56, terms)).forEach((a, j) => close(a, terms[j] ?? 0, 1e-9));
});

Deno.test("the fit is linear", () => {
  const fitter = zernikeFitter(24, 3), dice = random(2);
  const a = Float64Array.from({ length: 576 }, () => dice.normal()), b = a.map(() => dice.normal());
  fc.assert(
    fc.property(fc.double({ min: -5, max: 5, noNaN: true }), (s) => {
      const sum = fitter.fit(a.map((v, i) => v + s * (b[i] ?? 0))),
        fa = fitter.fit(a),
        fb = fitter.fit(b);
      sum.forEach((v, j) => close(v, (fa[j] ?? 0) + s * (fb[j] ?? 0), 1e-12));
    }),
    { numRuns: 20 },
  );
});

Deno.test("what it cannot fit it refuses", () => {
  assert.throws(() => zernikeFitter(4), RangeError);
  assert.throws(() => zernikeFitter(32, 13), RangeError);
  assert.throws(() => zernikeFitter(32).fit(new Float64Array(10)), /requires 1024 values/);
  const few = Uint8Array.from({ length: 1024 }, (_, k) => k < 530 && k > 510 ? 1 : 0);
  assert.throws(() => zernikeFitter(32).fit(new Float64Array(1024), few), /enough pixels/);
});
