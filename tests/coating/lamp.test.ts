import assert from "node:assert/strict";
import fc from "fast-check";
import { thicknessFromLamp, twoMirrors } from "../../lib/coating/lamp.ts";
import { mirrorFilm } from "../../lib/optics/film.ts";

Deno.test("thickness of silver by a lamp's light", () => {
  // CROSS-CHECK tests/optics/secondRoute.py, silver by a lamp: 1 %, 0.1 %, 1e-5 into the glass at 550 nm
  for (const [t, d] of [[0.01, 60.57], [1e-3, 88.56], [1e-5, 144.59]]) {
    assert.ok(Math.abs(thicknessFromLamp("silver", t ?? 0) - (d ?? 0)) < 0.01, `${t}`);
  }
});

Deno.test("two mirrors, and their second one's shadow", () => {
  // CROSS-CHECK tests/optics/secondRoute.py, two mirrors: products of thick films at 550 nm
  const rows = [
    ["silver", 0, 0.96553],
    ["aluminium", 0, 0.8379],
    ["silver", 0.2333, 0.91298],
    ["aluminium", 0.2333, 0.7923],
  ] as const;
  // silver's row is that of 100 nm films; a solid one sends back 0.0009 more for two
  for (const [metal, e, wanted] of rows) {
    const film = mirrorFilm(metal, 100).reflected ** 2 * (1 - e ** 2);
    assert.ok(Math.abs(film - wanted) < 5e-5, `${metal} ${e}: ${film}`);
    assert.ok(Math.abs(twoMirrors(metal, e) - wanted) < 1e-3, `${metal} ${e}`);
  }
  // DERIVED: 0.0989 and 0.2528 magnitudes
  assert.ok(Math.abs(-2.5 * Math.log10(0.91297) - 0.0989) < 1e-4);
});

Deno.test("law: a film's light gives its thickness back", () => {
  fc.assert(fc.property(fc.double({ min: 5, max: 250, noNaN: true }), (d) => {
    for (const metal of ["silver", "aluminium"] as const) {
      const seen = mirrorFilm(metal, d).transmitted;
      assert.ok(Math.abs(thicknessFromLamp(metal, seen) - d) < 1e-5, `${metal} ${d}`);
    }
  }));
});

Deno.test("refuses more light than bare glass passes, and none", () => {
  assert.throws(() => thicknessFromLamp("silver", 0.97), /0 < transmitted < 0.958/);
  assert.throws(() => thicknessFromLamp("silver", 0), RangeError);
  assert.throws(() => twoMirrors("silver", 1), RangeError);
});
