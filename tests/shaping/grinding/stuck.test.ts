import assert from "node:assert/strict";
import { whyStuck } from "../../../lib/shaping/grinding/stuck.ts";

Deno.test("the air holds a disc by its area", () => {
  // DERIVED: 101325 Pa x pi 0.075^2 m2 = 1790.5 N
  assert.ok(Math.abs(whyStuck({ aperture: 150 }).airForce - 1790.5) < 0.5);
  const [small, large] = [100, 200].map((aperture) => whyStuck({ aperture }).airForce);
  assert.ok(Math.abs((large ?? 0) / (small ?? 1) - 4) < 1e-12);
});

Deno.test("each way to stick is named, and none is mended by a blow", () => {
  const causes = (discs: Parameters<typeof whyStuck>[0]): string =>
    whyStuck(discs).causes.join("; ");
  assert.match(causes({ aperture: 150, grainUm: 12.8, dry: true }), /ran dry.*no air/);
  assert.match(causes({ aperture: 150, grainUm: 29.2, stillMinutes: 20 }), /stood still/);
  assert.match(causes({ aperture: 150 }), /pitch has flowed/);
  assert.doesNotMatch(causes({ aperture: 150, grainUm: 185, dry: true }), /no air/);
  for (const grainUm of [185, 58, 12.8, 3, undefined]) {
    const advice = whyStuck({ aperture: 150, ...(grainUm === undefined ? {} : { grainUm }) });
    assert.ok(advice.causes.length > 0, `${grainUm}`);
    assert.match(advice.never.join(" "), /no blow/);
    assert.ok(advice.steps.length >= 3);
    assert.doesNotMatch(advice.steps.join(" "), /\b(tap|hammer|knock|hot|pull)\b/);
  }
});

Deno.test("a lap is told otherwise than two discs", () => {
  assert.match(whyStuck({ aperture: 150 }).nextTime, /never leave the mirror on the lap/i);
  assert.match(whyStuck({ aperture: 150, grainUm: 6.5 }).nextTime, /water/);
});

Deno.test("sizes that are none are refused", () => {
  assert.throws(() => whyStuck({ aperture: 0 }), /aperture and grain above 0/);
  assert.throws(() => whyStuck({ aperture: 150, stillMinutes: -1 }), /minutes of 0 or more/);
});
