import assert from "node:assert/strict";
import { faultsOfStar, strongest, troublesOf } from "../../../lib/figures/live/faultsOfStar.ts";
import { asImage } from "../../../lib/figures/live/still.ts";
import { starMoment } from "../../../lib/figures/live/starMoment.ts";

const none = Object.fromEntries(faultsOfStar.controls.map(({ key }) => [key, 0]));
const telescope = { aperture: 150, focalLength: 1200, obstruction: 0.21 };

Deno.test("without a fault nothing is found, and the middle is whole", () => {
  assert.ok(Math.abs(faultsOfStar.value(none) - 1) < 1e-6);
  assert.match(faultsOfStar.reading(none).markup, /Nothing here that an eye would find/);
});

Deno.test("each fault by itself is named as its own cause, with what its two sides show", () => {
  const words: Readonly<Record<string, RegExp>> = {
    edge: /rim is turned.*hairy/,
    astigmatism: /astigmatic.*lies across/,
    threefold: /cell presses.*three corners/,
    tilt: /not aligned.*to one side/,
    rough: /glass is rough.*keeps still/,
    warmth: /warmer than the air.*ripples wander/,
    tubeAir: /along the tube.*drawn out/,
    seeing: /air above.*it boils/,
  };
  for (const { key, max } of faultsOfStar.controls) {
    const values = { ...none, [key]: max / 2 };
    assert.match(faultsOfStar.reading(values).markup, words[key] ?? /^$/, key);
    const moment = starMoment(troublesOf(values), telescope);
    assert.deepEqual(strongest(moment), [key]);
    assert.ok(faultsOfStar.value(values) < 0.9, `${key} ${faultsOfStar.value(values)}`);
  }
});

Deno.test("two faults of like strength are both named, a weak one beside a strong one is not", () => {
  const both = starMoment(troublesOf({ ...none, astigmatism: 0.1, tilt: 20 }), telescope);
  assert.deepEqual(strongest(both), ["astigmatism", "tilt"]);
  const one = starMoment(troublesOf({ ...none, astigmatism: 0.2, tilt: 5 }), telescope);
  assert.deepEqual(strongest(one), ["astigmatism"]);
});

Deno.test("three pictures, each with its words", () => {
  const markup = faultsOfStar.picture(faultsOfStar.start, asImage).markup;
  assert.equal(markup.match(/<img /g)?.length, 3);
  assert.match(markup, /inside focus: an oval that lies across/);
  assert.match(markup, /outside focus: an oval that lies across/);
});
