import assert from "node:assert/strict";
import fc from "fast-check";
import { bendTheGlass, bentGlass } from "../../../lib/figures/live/bendTheGlass.ts";

const flat = { ...bendTheGlass.start, centre: 0, inner: 0, outer: 0, edge: 0 };
const height = fc.integer({ min: -120, max: 120 });

Deno.test("the glass goes through the four heights and is level in the middle", () => {
  fc.assert(
    fc.property(height, height, height, height, (centre, inner, outer, edge) => {
      const { glass } = bentGlass({ ...flat, centre, inner, outer, edge });
      [[0, centre], [0.4, inner], [0.75, outer], [1, edge]].forEach(([share = 0, wanted = 0]) =>
        assert.ok(Math.abs(glass(75 * share) - wanted) < 1e-9)
      );
      assert.ok(Math.abs(glass(0.01) - centre) < 0.01);
    }),
    { numRuns: 30 },
  );
});

Deno.test("a level change costs nothing, a bowl next to nothing: it only moves the focus", () => {
  assert.ok(
    Math.abs(bentGlass({ ...flat, centre: 50, inner: 50, outer: 50, edge: 50 }).light.strehl - 1) <
      1e-6,
  );
  // a parabola of 80 nm: at shares s of the half aperture 80 s²; the natural ends of the spline leave a little
  const bowl = bentGlass({ ...flat, inner: 12.8, outer: 45, edge: 80 }).light;
  assert.ok(bowl.strehl > 0.985, String(bowl.strehl));
});

Deno.test("small errors: Strehl by the RMS, and the wavefront is twice the glass", () => {
  const { light } = bentGlass({ ...flat, edge: -30 });
  // COMMON PRACTICE Marechal's estimate, exp(-(2π rms)²)
  assert.ok(Math.abs(light.strehl - Math.exp(-((2 * Math.PI * light.rmsWaves) ** 2))) < 0.002);
  const twice = bentGlass({ ...flat, edge: -60 }).light;
  assert.ok(Math.abs(twice.rmsWaves / light.rmsWaves - 2) < 1e-6);
});

Deno.test("the same bend costs as much up as down, and its picture says so", () => {
  const up = bendTheGlass.value({ ...flat, outer: 40 }),
    down = bendTheGlass.value({ ...flat, outer: -40 });
  assert.ok(Math.abs(up - down) < 1e-9);
  assert.match(bendTheGlass.reading({ ...flat, outer: 120 }).markup, /not met/);
  assert.match(bendTheGlass.reading(flat).markup, /: <output>met/);
});
