import assert from "node:assert/strict";
import fc from "fast-check";
import { usualLap } from "../../../lib/shaping/lap/lap.ts";
import {
  byThumbnail,
  coldPressing,
  lapSinking,
  pitchViscosity,
} from "../../../lib/shaping/lap/lapFlow.ts";

const lap = usualLap(150);

Deno.test("a lap of 28 facets under 3.25 kg sinks 3 um a minute at 1e8 Pa s", () => {
  const { facets, newtonPerFacet, umPerMinute } = lapSinking(lap, {
    loadKg: 3.25,
    viscosityPaS: 1e8,
  });
  // DERIVED: pi 75^2 / 25^2 facets; Stefan's film with b = 20 / sqrt(pi) mm, h = 7 mm. Tolerance 1 %
  assert.ok(Math.abs(facets - 28.27) < 0.01);
  assert.ok(Math.abs(newtonPerFacet / 1.1276 - 1) < 0.01, `${newtonPerFacet}`);
  assert.ok(Math.abs(umPerMinute / 3.038 - 1) < 0.01, `${umPerMinute}`);
});

Deno.test("laws of sinking: with the load, against the viscosity, with the cube of the thickness", () => {
  const at = (loadKg: number, viscosityPaS: number, thickness = 7): number =>
    lapSinking({ ...lap, thickness }, { loadKg, viscosityPaS }).umPerMinute;
  const some = fc.double({ min: 0.5, max: 20, noNaN: true });
  fc.assert(fc.property(some, some, (load, factor) => {
    assert.ok(Math.abs(at(load * factor, 1e8) / at(load, 1e8) / factor - 1) < 1e-9);
    assert.ok(Math.abs(at(load, 1e8 * factor) * factor / at(load, 1e8) - 1) < 1e-9);
  }));
  assert.ok(Math.abs(at(3, 1e8, 14) / at(3, 1e8) - 8) < 1e-9);
});

Deno.test("ten times thinner for 8 degrees more", () => {
  assert.ok(Math.abs(pitchViscosity(1e8, 20) / 1e8 - 1) < 1e-12);
  assert.ok(Math.abs(pitchViscosity(1e8, 12) / 1e9 - 1) < 1e-12);
  assert.ok(pitchViscosity(1e8, 24) < pitchViscosity(1e8, 23));
  assert.throws(() => pitchViscosity(1e8, 100), /-20 to 60 degC/);
});

Deno.test("cold pressing: minutes with a wide range, narrower where the rate was measured", () => {
  const guessed = coldPressing(30, 3), measuredOnce = coldPressing(30, 3, true);
  assert.equal(guessed.minutes, 10);
  assert.ok(guessed.least < 4 && guessed.most === 30);
  assert.ok(measuredOnce.least > guessed.least && measuredOnce.most < guessed.most);
  assert.equal(coldPressing(0, 3).minutes, 0);
  assert.throws(() => coldPressing(-1, 3), /misfit of 0 or more/);
});

Deno.test("hardness by thumbnail", () => {
  assert.deepEqual([0.5, 5, 30, 31, Infinity].map((s) => byThumbnail(s).is), [
    "too soft",
    "usable",
    "usable",
    "too hard",
    "too hard",
  ]);
  assert.throws(() => byThumbnail(NaN), /seconds of 0 or more/);
  assert.throws(() => lapSinking(lap, { loadKg: 0, viscosityPaS: 1e8 }), /load and viscosity/);
});
