import assert from "node:assert/strict";
import fc from "fast-check";
import { edge, printsAtFullSize } from "../../../lib/book/pages/edge.ts";

const faceOf = (svg: string): number[] =>
  (/class="face" d="M0,([\d.]+)Q([\d.]+),([\d.]+) ([\d.]+),([\d.]+)"/.exec(svg) ?? []).slice(1).map(
    Number,
  );

Deno.test("the curve is as deep in the middle as it is said to be, and ends where the straight-edge lies", () => {
  fc.assert(fc.property(
    fc.double({ min: 60, max: 400, noNaN: true }),
    fc.double({ min: 0, max: 6, noNaN: true }),
    (aperture, depth) => {
      const [base = 0, , control = 0, across = 0, end] = faceOf(edge({ aperture, depth }).markup);
      // a quadratic curve passes half way between its chord and its control point
      assert.ok(Math.abs((control - base) / 2 - depth) < 0.002);
      assert.ok(Math.abs(across - aperture) < 0.001);
      assert.equal(end, base);
    },
  ));
});

Deno.test("the curve departs from the circle's arc by less than a thousandth of its depth at f/4", () => {
  // DERIVED: arc of a sphere, R = 1200 mm under a chord of 150 mm, depth below the chord at x
  const [radius, half] = [1200, 75];
  const depth = radius - Math.sqrt(radius ** 2 - half ** 2);
  for (let x = 0; x <= half; x += 5) {
    const circle = depth - (radius - Math.sqrt(radius ** 2 - x ** 2));
    const parabola = depth * (1 - (x / half) ** 2);
    assert.ok(Math.abs(circle - parabola) < depth / 1000, `at ${x} mm`);
  }
});

Deno.test("one tick a stage: the present one tall, those the record knows dark, the others light", () => {
  const { markup } = edge({
    aperture: 150,
    depth: 1,
    stages: 20,
    here: 5,
    done: new Set([1, 2, 5]),
  });
  const strokes = (kind: string): number =>
    new RegExp(`class="${kind}" d="(M[^H"]*)"`).exec(markup)?.[1]?.match(/M/g)?.length ?? 0;
  assert.deepEqual([strokes("here"), strokes("done"), strokes("steel")], [1, 2, 17]);
});

Deno.test("on paper the sign is as wide as the mirror, while the sheet has room", () => {
  assert.match(edge({ aperture: 114, depth: 1 }).markup, /--full-size: 114mm/);
  assert.match(edge({ aperture: 200, depth: 2 }).markup, /--full-size: 150mm/);
  assert.deepEqual([150, 174, 200].map(printsAtFullSize), [true, true, false]);
});

Deno.test("a curve that is none is refused", () => {
  for (
    const parts of [{ aperture: 0, depth: 1 }, { aperture: 150, depth: -1 }, {
      aperture: 150,
      depth: NaN,
    }]
  ) {
    assert.throws(() => edge(parts), /edge requires aperture above 0 and depth of 0 or more in mm/);
  }
});
