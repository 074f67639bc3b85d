import assert from "node:assert/strict";
import fc from "fast-check";
import { contrastAt } from "../../lib/optics/contrast.ts";
import { contrastBehind } from "../../lib/telescope/contrastBehind.ts";
import { near } from "./near.ts";

Deno.test("contrast with an obstruction, at a quarter, half, three quarters of the cut-off", () => {
  // CROSS-CHECK numpy 1.24.2: lens overlap and O'Neill's formula, printed to 5 digits; FFT autocorrelation within 2e-4
  const rows = [
    [0, 0.68504, 0.391, 0.14429],
    [0.2, 0.63025, 0.3674, 0.15031],
    [0.25, 0.59737, 0.35394, 0.15391],
    [0.3, 0.56286, 0.33708, 0.15856],
    [0.35, 0.52593, 0.31639, 0.16444],
  ] as const;
  for (const [e, ...wanted] of rows) {
    [0.25, 0.5, 0.75].forEach((nu, i) => near(contrastBehind(nu, e), wanted[i] ?? 0, 4e-5));
  }
});

Deno.test("detail of 2 arcseconds through 150 mm, and a clear mirror narrower by the flat", () => {
  // CROSS-CHECK numpy 1.24.2: clear, 31 mm, a third; 119 mm clear: the rule D - d is too gloomy
  const ofCutoff = 0.37815;
  for (const [e, wanted] of [[0, 0.53026], [0.2067, 0.46466], [1 / 3, 0.37006]]) {
    near(contrastBehind(ofCutoff, e ?? 0), wanted ?? 0, 4e-5);
  }
  near(contrastBehind((ofCutoff * 150) / 119, 0), 0.41691, 1e-4);
});

Deno.test("law: from 1 to 0, lower in the middle and higher near the end behind an obstruction", () => {
  const share = fc.double({ min: 0, max: 0.6, noNaN: true });
  fc.assert(fc.property(share, (e) => {
    assert.ok(Math.abs(contrastBehind(0, e) - 1) < 1e-12);
    assert.equal(contrastBehind(1, e), 0);
    assert.ok(contrastBehind(0.3, e) <= contrastBehind(0.3, 0) + 1e-12);
    assert.ok(contrastBehind(0.9, e) >= contrastBehind(0.9, 0) - 1e-12);
  }));
});

Deno.test("the same by summing line by line over the opening", () => {
  for (const e of [0, 0.2, 0.35]) {
    for (const nu of [0.1, 0.4, 0.8]) {
      // measured: the sum's own lines leave up to 3e-4 at the shadow's corners
      assert.ok(Math.abs(contrastBehind(nu, e) - contrastAt(nu, e)) < 5e-4, `${e} ${nu}`);
    }
  }
});

Deno.test("refuses what is no share", () => {
  assert.throws(() => contrastBehind(1.1, 0), RangeError);
  assert.throws(() => contrastBehind(0.5, 1), /0 <= obstruction < 1/);
});
