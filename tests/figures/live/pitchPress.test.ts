import assert from "node:assert/strict";
import { pitchPress, pressedNow, usualPress } from "../../../lib/figures/live/pitchPress.ts";
import { factRow } from "../../../lib/record/tables.ts";

const { start } = pitchPress;
const minutes = (changes: Record<string, number>): number =>
  pressedNow({ ...start, ...changes }).pressing.minutes;

Deno.test("twice the load, half the time; twice the misfit, twice; a class harder, ten times", () => {
  assert.ok(Math.abs(minutes({ load: 3 }) / minutes({ load: 6 }) - 2) < 1e-9);
  assert.ok(Math.abs(minutes({ misfit: 20 }) / minutes({ misfit: 10 }) - 2) < 1e-9);
  assert.ok(Math.abs(minutes({ pitch: 2 }) / minutes({ pitch: 1 }) - 10) < 1e-9);
});

Deno.test("3 kg at 20 degrees: 2.8 um a minute by Stefan's film", () => {
  // DERIVED: facets pi 75² / 25² = 28.27; 3 x 9.80665 / 28.27 = 1.0405 N each; b = 20 mm / sqrt(pi) = 11.28 mm;
  // 2 x 1.0405 x 0.007³ / (3 pi x 1e8 x 0.01128⁴) = 7.138e-7 / 15.28 = 4.672e-8 m/s = 2.80 um/min
  const { sinks, pressing } = pressedNow(start);
  assert.equal(sinks.toFixed(2), "2.80");
  assert.equal(pressing.minutes.toFixed(1), (15 / 2.803).toFixed(1));
});

Deno.test("the usual pressing is that of the shared facts, and the words turn at its ends", () => {
  const { low, high } = factRow("press_cold");
  assert.deepEqual([low, high], [usualPress.least, usualPress.most]);
  assert.match(pitchPress.reading({ ...start, temperature: 12 }).markup, /too stiff/);
  assert.match(pitchPress.reading({ ...start, temperature: 17 }).markup, /right for this room/);
  assert.match(pitchPress.reading({ ...start, temperature: 26 }).markup, /out of shape/);
});
