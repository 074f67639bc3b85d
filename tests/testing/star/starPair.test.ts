/** Star pairs against pictures of another route, and what a lamp's distance makes. */
import assert from "node:assert/strict";
import { CannotTell } from "../../../lib/numeric/cannotTell.ts";
import type { GreyImage } from "../../../lib/testing/photo/photoImage.ts";
import { reduceStarPair, sphericalAtDistance } from "../../../lib/testing/star/starPair.ts";
import { hasNumpy } from "../../machine.ts";
import { close } from "../../optics/close.ts";
import { judgedBench, reducedBench, starBenches } from "./starBenches.ts";

Deno.test("what a lamp's distance makes is what exact paths make", () => {
  // DERIVED path lamp - paraboloid z = r^2 / 2R - image, less that along the axis and the best focus; glass and wave: an advance is +
  const half = 75, radius = 2400, wave = 550e-6;
  for (const distance of [6000, 12_000, 50_000]) {
    const image = 1 / (2 / radius - 1 / distance);
    const advance = (r: number): number => {
      const z = (r * r) / (2 * radius);
      const path = Math.hypot(r, distance - z) + Math.hypot(r, image - z);
      return (distance + image - path) / wave;
    };
    // its share of q^2, with q = r^2 / half^2, is six root five times its RMS: by the second difference in q
    const at = (q: number): number => advance(half * Math.sqrt(q));
    const quartic = 2 * (at(1) - 2 * at(0.5) + at(0));
    close(sphericalAtDistance(half, radius, distance, 550), quartic / (6 * Math.sqrt(5)), 3e-4);
  }
  assert.throws(() => sphericalAtDistance(75, 2400, 2000, 550), RangeError);
});

Deno.test("both sides must be there", () => {
  const image: GreyImage = { width: 2, height: 2, values: new Float32Array(4) };
  const photos = [{ image, side: "inside" as const }, { image, side: "inside" as const }];
  assert.throws(() => reduceStarPair({ photos, aperture: 150, radius: 2400 }), RangeError);
});

const ignore = !hasNumpy;

Deno.test({
  name: "three pairs at 2 arcsec: spherical and astigmatism within 0.05 wave, every one within 3 u",
  ignore,
}, () => {
  // INVENTED benches 1, 3 and 4 of tests/testing/star/starBench.py; the trial has a hundred and twenty
  for (const bench of [1, 3, 4].flatMap((seed) => starBenches(seed, 1, 2))) {
    const { misses, figure, refused } = judgedBench(bench);
    assert.equal(refused, undefined);
    for (const { name, miss, u } of misses) {
      assert.ok(Math.abs(miss) < 0.05, `${bench.seed}: ${name} is off by ${miss}`);
      assert.ok(Math.abs(miss) < 3 * u, `${bench.seed}: ${name} is off by ${miss}, u ${u}`);
      assert.ok(u < 0.04, `${bench.seed}: ${name} has u ${u}`);
    }
    figure?.seeing.forEach(({ value }) => close(value, 2, 0.7));
    const { amount, interval95: [low, high] } = figure?.astigmatism ?? {
      amount: { value: NaN },
      interval95: [NaN, NaN],
    };
    assert.ok(low <= amount.value && amount.value <= high && low >= 0);
  }
});

Deno.test({ name: "a pair that cannot tell is refused in words", ignore }, () => {
  const [bench] = starBenches(3, 1, 2), [wrong] = starBenches(3, 1, 2, "wrong");
  assert.ok(bench !== undefined && wrong !== undefined);
  const refusal = (act: () => unknown): string => {
    try {
      act();
      return "told";
    } catch (error) {
      assert.ok(error instanceof CannotTell, String(error));
      return error.message;
    }
  };
  const changed = (make: (image: GreyImage) => Float32Array): typeof bench.photos =>
    bench.photos.map((photo) => ({
      ...photo,
      image: { ...photo.image, values: make(photo.image) },
    }));
  assert.match(
    refusal(() => reducedBench(wrong)),
    /^both photographs look as if taken on the same side of focus/,
  );
  // the star ran by three quarters of its disc while the first picture was taken
  const [moved] = starBenches(3, 1, 2, "moved");
  assert.ok(moved !== undefined);
  assert.match(refusal(() => reducedBench(moved)), /star moved|one that moved/);
  // a travel that is told as two fifths of what it was, where the air leaves enough of the rings
  const short = bench.photos.map((photo) => ({ ...photo, defocus: 0.4 * photo.defocus }));
  assert.match(
    refusal(() => reducedBench(bench, short)),
    /^in the photograph inside focus defocus_mm says 0\.5 mm from focus, and its rings say about 0\.\d mm/,
  );
  // told double, where the air leaves none of them: every fault would come out double, with a small doubt
  const long = bench.photos.map((photo) => ({ ...photo, defocus: 2 * photo.defocus }));
  assert.match(refusal(() => reducedBench(bench, long)), /^with the travel .* defocus_mm tells/);
  const burnt = changed(({ values }) => values.map((v) => Math.min(1, 1.6 * v)));
  assert.match(refusal(() => reducedBench(bench, burnt)), /burnt out white/);
  // a branch before the tube: a part of the disc in half shade
  const branch = changed(({ values, width }) =>
    values.map((v, k) => k % width < 0.5 * width ? v : 0.72 * v)
  );
  assert.match(refusal(() => reducedBench(bench, branch)), /are not explained by a mirror/);
});
