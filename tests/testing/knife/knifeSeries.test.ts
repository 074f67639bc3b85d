/** Series of knife-edge photographs by another route, told and refused. */
import assert from "node:assert/strict";
import { CannotTell } from "../../../lib/numeric/cannotTell.ts";
import { knifeTerms, reduceKnifeSeries } from "../../../lib/testing/knife/knifeSeries.ts";
import { KNIFE_SHAPES } from "../../../lib/testing/knife/knifeShapes.ts";
import type { GreyImage } from "../../../lib/testing/photo/photoImage.ts";
import { hasNumpy } from "../../machine.ts";
import { judgedKnife, knifeBenches, type KnifeFault, reducedKnife } from "./knifeBenches.ts";

const ignore = !hasNumpy;

Deno.test("lengths and the number of photographs are looked at", () => {
  const image: GreyImage = { width: 2, height: 2, values: new Float32Array(4) };
  const series = { photos: [{ image, at: 0 }], aperture: 150, radius: 2400, slit: 0.03 };
  assert.throws(() => reduceKnifeSeries({ ...series, source: "moves" }), CannotTell);
  assert.throws(() => reduceKnifeSeries({ ...series, source: "moves", slit: 0 }), RangeError);
});

Deno.test(
  { name: "two benches: the map within 8 nm RMS, numbers in their intervals", ignore },
  () => {
    // INVENTED benches 4 and 5 of tests/testing/knife/knifeBench.py; the trial has a hundred and twenty
    for (const bench of knifeBenches(4, 2)) {
      const { refused, miss, held, figure } = judgedKnife(bench);
      assert.equal(refused, undefined);
      assert.ok((miss ?? NaN) < 8, `${bench.seed}: the map is off by ${miss} nm`);
      assert.deepEqual(held, { pv: true, rms: true, astigmatism: true });
      const { surfacePv, surfaceRms, interval95, directions, doubt, sections } = figure ??
        assert.fail();
      assert.equal(directions, 2);
      for (
        const [{ value }, [low, high]] of [
          [surfacePv, interval95.surfacePv],
          [surfaceRms, interval95.surfaceRms],
          [figure?.conic ?? assert.fail(), interval95.conic],
        ] as const
      ) assert.ok(low <= value && value <= high);
      // the rim is known less well than what lies inside
      assert.ok((doubt.at(-1)?.u ?? NaN) > (doubt[10]?.u ?? NaN));
      assert.deepEqual(sections.map(({ angle }) => Math.round(angle * 180 / Math.PI)).sort(), [
        0,
        90,
      ]);
    }
  },
);

Deno.test(
  { name: "one direction of the knife leaves what lies across it in the doubt", ignore },
  () => {
    const [bench] = knifeBenches(4, 1);
    assert.ok(bench !== undefined);
    const whole = reducedKnife(bench);
    const half = reducedKnife({
      ...bench,
      photos: bench.photos.filter(({ knife }) => knife === 0),
    });
    assert.equal(half.directions, 1);
    assert.ok(half.astigmatism.amount.u > 2 * whole.astigmatism.amount.u);
  },
);

Deno.test(
  { name: "what is told or photographed wrongly is refused with its reason", ignore },
  () => {
    const wanted: Readonly<Record<KnifeFault, RegExp>> = {
      mixed: /do not agree with one another|not explained by one mirror/,
      reversed: /scale along the axis seems reversed/,
      side: /come from the other side/,
      cut: /cut by the picture's edge|no mirror is found/,
      burnt: /burnt out white/,
    };
    for (const [fault, why] of Object.entries(wanted)) {
      const [bench] = knifeBenches(4, 1, fault as KnifeFault);
      assert.ok(bench !== undefined);
      assert.match(judgedKnife(bench).refused ?? "told", why, fault);
    }
  },
);

Deno.test("a series that is sure of every shape is still unsure by its model, and by a stand that the mirror was not turned in", () => {
  const size = KNIFE_SHAPES.length;
  const sure = { amounts: new Float64Array(size), covariance: new Float64Array(size * size) };
  const doubts = (stand: number): Record<string, number> => {
    const { terms, covariance } = knifeTerms(sure, stand);
    return Object.fromEntries(terms.map((term, i) => [term, Math.sqrt(covariance[i]?.[i] ?? NaN)]));
  };
  const near = (found: number | undefined, wanted: number, within = 1e-12): void =>
    assert.ok(Math.abs((found ?? NaN) - wanted) < within, `${found}, wanted ${wanted}`);
  const alone = doubts(0), stood = doubts(12);
  // DERIVED the share of a term, sqrt(n + 1) R(rho), in an edge of 10 nm that falls to 1/e within 0.02: 2 times the integral
  // over rho d rho, by the midpoint rule
  const edge = (n: number, term: (square: number) => number): number => {
    const steps = 20_000,
      share = Array.from({ length: steps }, (_, i) => {
        const rho = (i + 0.5) / steps;
        return Math.exp((rho - 1) / 0.02) * term(rho * rho) * rho / steps;
      });
    return 20 * Math.sqrt(n + 1) * share.reduce((sum, part) => sum + part, 0);
  };
  const round4 = Math.hypot(0.5, edge(4, (q) => 6 * q ** 2 - 6 * q + 1));
  const round6 = edge(6, (q) => 20 * q ** 3 - 30 * q ** 2 + 12 * q - 1);
  // DERIVED 0.5 nm RMS for each shape up to the fourth degree; a stand of 12 nm adds 12 to astigmatism and 6 to threefold, by squares
  for (
    const term of [
      "astigmatism cos",
      "astigmatism sin",
      "threefold cos",
      "threefold sin",
    ]
  ) {
    near(alone[term], 0.5);
  }
  near(alone["round 4"], round4, 1e-3);
  near(alone["round 6"], round6, 1e-3);
  for (const way of ["cos", "sin"]) {
    near(stood[`astigmatism ${way}`], Math.hypot(0.5, 12));
    near(stood[`threefold ${way}`], Math.hypot(0.5, 6));
  }
  near(stood["round 4"], round4, 1e-3);
});
