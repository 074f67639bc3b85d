/** The zone test's few numbers where two ways through the same readings part. */
import assert from "node:assert/strict";
import { random } from "../../../lib/numeric/random.ts";
import { reduceZones } from "../../../lib/testing/zones/zones.ts";
import { conicCurve, type Curve, mirrorOf, readings, truth } from "../judge.ts";

/** Straight pieces between heights, nm, by shares of the radius: what long strokes leave has a crease like this. */
function pieces(half: number, points: readonly (readonly [at: number, height: number])[]): Curve {
  const piece = (r: number): readonly [number, number, number] => {
    const i = Math.max(1, points.findIndex(([at]) => at * half >= r));
    const [[from, a], [to, b]] = [points[i - 1] ?? [0, 0], points[i] ?? [1, 0]];
    return [a, (b - a) / (to - from) / half, r - from * half];
  };
  return {
    height: (r) => piece(r)[0] * 1e-6 + piece(r)[1] * 1e-6 * piece(r)[2],
    slope: (r) => piece(r)[1] * 1e-6,
  };
}

Deno.test("a crease that every opening averages away: no yes, and the interval holds the true P-V", () => {
  // INVENTED: 250 mm f/5, a point in the middle above a hollow at a fifth of the radius, and ten openings that fold it
  const half = 124, radius = 2500;
  const edges = [0, 0.14, 0.28, 0.41, 0.52, 0.62, 0.71, 0.79, 0.86, 0.93, 1].map((e) => e * half);
  const crease = pieces(half, [
    ...[[0, 34], [0.1, 11], [0.2, -42], [0.28, -18], [0.35, 1], [0.45, 1], [0.57, 22]] as const,
    ...[[0.7, 4], [0.85, -16], [0.9, -12], [1, 19]] as const,
  ]);
  const mirror = mirrorOf(half, radius, edges, conicCurve(radius, -1), crease);
  const real = truth(mirror).pv, exact = readings(mirror);
  assert.ok(real > 0.26, "the goal of a quarter wave is missed");
  for (const seed of [1, 2]) {
    const dice = random(seed);
    const rows = [1, 2, 3, 4, 5, 6].flatMap((run) =>
      exact.map((position, i) => ({
        zone: i + 1,
        inner: edges[i] ?? 0,
        outer: edges[i + 1] ?? half,
        reading: position + 0.04 * dice.normal(),
        run: `${run}`,
      }))
    );
    const figure = reduceZones({
      readings: rows,
      ...{ aperture: 250, bevel: 1, radius, source: "moves", openings: "bands", draws: 2000 },
    });
    const [low, high] = figure.interval95.wavefrontPv;
    assert.notEqual(figure.verdict, "yes", figure.why);
    assert.ok(low <= real && real <= high, `${real} in ${low} to ${high}`);
    assert.match(figure.why, /a plainer way through the same openings gives 0\.2\d\d waves$/);
    assert.equal(figure.moreRuns, false, "the same openings again fold it again");
  }
});
