import assert from "node:assert/strict";
import {
  bearingOn,
  BEARS_DOUBT,
  BEARS_MORE,
  overSphere,
} from "../../../lib/shaping/figuring/figuringBearing.ts";
import { placesOf, withoutFocus } from "../../../lib/shaping/figuring/figuringChoice.ts";
import { takenAt } from "../../../lib/shaping/figuring/figuringHands.ts";
import type { ProfileHeight } from "../../../lib/shaping/figuring/figuringModes.ts";
import { figuringStroke } from "../../../lib/shaping/figuring/figuringStrokes.ts";
import { turning } from "../../../lib/shaping/grinding/routine.ts";
import { JudgedMirror, workshop } from "../figuringJudge.ts";

const half = 125, radius = 2500;
const radii = Array.from({ length: 60 }, (_, i) => i * half / 59);
const glassOf = (height: (r: number) => number): ProfileHeight[] =>
  radii.map((r) => ({ radius: r, surfaceError: height(r) }));
const centred = figuringStroke("down", 1, 1 / 2, 0),
  aside = figuringStroke("down", 1, 1 / 2, 1 / 6);

Deno.test("on a sphere every place bears its share, whatever its radius of curvature", () => {
  const bump = (r: number): number => 200 * Math.exp(-((r / 40) ** 2));
  const { standsOut } = bearingOn(glassOf(bump), 2 * half);
  const deeper = bearingOn(glassOf((r) => bump(r) + 50 + 3000 * (r / half) ** 2), 2 * half);
  const none = bearingOn(glassOf((r) => 7 - 900 * (r / half) ** 2), 2 * half);
  for (const stroke of [centred, aside]) {
    standsOut(stroke, radii).forEach((nm, i) => {
      assert.ok(Math.abs(nm - (deeper.standsOut(stroke, radii)[i] ?? NaN)) < 1.5, `${i}`);
      assert.ok(Math.abs(none.standsOut(stroke, radii)[i] ?? NaN) < 1.5, `${i}`);
    });
  }
  const small = figuringStroke("up", 0.4, 1 / 4, 0.15);
  assert.ok(
    standsOut(small, radii).every((nm) => nm === 0),
    "a small lap fits where it is pressed",
  );
});

Deno.test("a finished paraboloid is worn back towards a sphere: its middle bears less, its seven tenths more", () => {
  const glass = overSphere(glassOf(() => 0), radius);
  const at = bearingOn(glass, 2 * half).standsOut(centred, [0, 0.7 * half]);
  assert.ok((at[0] ?? 0) < -20 && (at[1] ?? 0) > 5, `${at}`);
  assert.deepEqual(overSphere(glassOf(() => 4), undefined), glassOf(() => 4));
});

Deno.test("by how much, the judge says, whose lap gives and flows: within what is thought of it", () => {
  // CROSS-CHECK (tests/shaping/figuringJudge.ts: square cells and a layer that gives): the same strokes on glass that is as far from a sphere as the
  // finished paraboloid, and four fifths as far the other way, differ by what the glass bears more
  const grid = placesOf(half - 1);
  const steep = (share: number) => (r: number): number => share * r ** 4 / 8 / radius ** 3 * 1e6;
  for (const stroke of [centred, aside]) {
    const minutes = 4;
    const judged = (share: number): number[] => {
      const mirror = new JudgedMirror(2 * half, workshop.cells, (r) => steep(share)(r) * 1e-6);
      const rings = 22, before = mirror.radial(rings);
      const { travel, offset } = stroke, d = 2 * half;
      mirror.polish(
        {
          face: "down",
          lap: d,
          travel: travel * d,
          offset: offset * d,
          minutes,
          press: 1,
          turns: turning,
        },
        1,
      );
      const after = mirror.radial(rings);
      return grid.radii.map((r) => {
        const across = Math.max(0, Math.min(rings - 1, r / half * rings - 0.5));
        const i = Math.min(rings - 2, Math.floor(across)), t = across - i;
        const taken = (k: number): number => ((before[k] ?? 0) - (after[k] ?? 0)) * 1e6;
        return taken(i) * (1 - t) + taken(i + 1) * t;
      });
    };
    const planned = (share: number): number[] =>
      takenAt([{ stroke, minutes }], grid.radii, {
        aperture: 2 * half,
        bearing: bearingOn(glassOf(steep(share)), 2 * half),
      });
    const apart = (of: (share: number) => number[]): number[] => {
      const high = of(0.8), low = of(-1);
      return withoutFocus(high.map((v, i) => v - (low[i] ?? 0)), grid);
    };
    const real = apart(judged), thought = apart(planned);
    const dot = (a: readonly number[], b: readonly number[]): number =>
      grid.weights.reduce((sum, w, i) => sum + w * (a[i] ?? 0) * (b[i] ?? 0), 0);
    const like = dot(real, thought) / Math.sqrt(dot(real, real) * dot(thought, thought));
    const times = dot(real, thought) / dot(thought, thought) * BEARS_MORE;
    assert.ok(like > 0.9, `${stroke.name}: alike by ${like}`);
    assert.ok(Math.abs(times - BEARS_MORE) < 2 * BEARS_DOUBT, `${stroke.name}: ${times}`);
  }
});
