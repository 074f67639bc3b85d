/** Zone readings off pictures, against rays of the true glass. */
import assert from "node:assert/strict";
import { knifeZones } from "../../../lib/testing/knife/knifeZones.ts";
import { hasNumpy } from "../../machine.ts";
import { knifeBenches, reducedKnife } from "./knifeBenches.ts";

/** INVENTED a disc of 60 pixels half width, its right and left half as bright as said. */
const stamp = (at: number, right: number, left: number) => ({
  image: {
    width: 130,
    height: 130,
    values: Float32Array.from(
      { length: 130 * 130 },
      (_, k) => (k % 130 < 65 ? left : right) ** (1 / 2.2),
    ),
  },
  ...{ x: 65, y: 65, radius: 60, u: 1, toward: 0, mark: 0, at },
});

Deno.test("a window is read where its halves are equal, between the places too", () => {
  // DERIVED balances 0.5, 0.25, -0.25, -0.5 at 1, 2, 4, 5 mm: a straight line through 0 at 3 mm
  const series = [[1, 0.6, 0.2], [2, 0.5, 0.3], [4, 0.3, 0.5], [5, 0.2, 0.6]]
    .map(([at = 0, right = 0, left = 0]) => stamp(at, right, left));
  const [found, ...others] = knifeZones(series, () => 1, [{ inner: 0.2, outer: 0.8 }]);
  assert.equal(others.length, 0);
  assert.ok(Math.abs((found?.at.value ?? NaN) - 3) < 1e-3);
  // uneven light is taken out: a right side lit by half as much again would have moved it
  const lit = (x: number): number => x > 0 ? 1.5 : 1;
  const shaded = series.map(({ at }, n) =>
    stamp(at, [0.9, 0.75, 0.45, 0.3][n] ?? 0, [0.2, 0.3, 0.5, 0.6][n] ?? 0)
  );
  const [same] = knifeZones(shaded, lit, [{ inner: 0.2, outer: 0.8 }]);
  assert.ok(Math.abs((same?.at.value ?? NaN) - 3) < 1e-3);
  // of one sign all over: nowhere equal
  assert.deepEqual(knifeZones(series.slice(0, 2), () => 1, [{ inner: 0.2, outer: 0.8 }]), []);
});

Deno.test(
  { name: "readings of a bench are where rays of its glass balance", ignore: !hasNumpy },
  () => {
    const [bench] = knifeBenches(4, 1);
    assert.ok(bench !== undefined);
    const { zones } = reducedKnife(bench), { grid, heights, radius, aperture } = bench;
    const half = aperture / 2, middle = (grid - 1) / 2, step = half / middle;
    const at = (i: number, j: number): number =>
      (heights[(middle + j) * grid + middle + i] ?? NaN) * 1e-6;
    for (const toward of [0, Math.PI / 2]) {
      const read = zones.filter((one) => Math.abs(one.toward - toward) < 1e-6 && one.inner > 0.2);
      assert.ok(
        read.length >= 3,
        `${toward}: ${zones.map(({ inner, at }) => `${inner} ${at.value}`)}`,
      );
      const wanted = read.map(({ inner, outer }) => {
        // DERIVED rays X = (x / R)(x^2 / R - 2 d) - 2 R slope; the halves balance where the mean of X right less X left is nothing
        let above = 0, below = 0;
        for (let i = 1; i < middle; i++) {
          const x = i * step;
          if (x < inner * half || x > outer * half) continue;
          for (const side of [1, -1]) {
            const slope = toward === 0
              ? (at(side * i + 1, 0) - at(side * i - 1, 0)) / (2 * step)
              : (at(0, side * i + 1) - at(0, side * i - 1)) / (2 * step);
            above += x ** 3 / radius ** 2 - 2 * radius * side * slope;
            below += (2 * x) / radius;
          }
        }
        return above / below;
      });
      const mean = (values: readonly number[]): number =>
        values.reduce((a, b) => a + b) / values.length;
      const offs = read.map((one, k) => one.at.value - (wanted[k] ?? NaN)), zero = mean(offs);
      offs.forEach((off, k) => {
        const u = Math.hypot(read[k]?.at.u ?? NaN, 0.03);
        assert.ok(Math.abs(off - zero) < 3 * u, `${toward}: ${offs} mm, u ${u}`);
        assert.ok(u < 0.2);
      });
    }
  },
);
