import assert from "node:assert/strict";
import { conicPvWaves } from "../../lib/optics/sphereEnough.ts";
import { perfectBut, perfectTest } from "../../lib/stages/perfectSurface.ts";
import { demo as asha, halfway as bram } from "./mirrors.ts";

Deno.test("a perfect sphere meets a quarter wave and is not shown to, with any number of runs", () => {
  for (const runs of [3, 10, 160]) {
    const { found } = perfectTest(asha, "sphere", runs);
    // DERIVED W040 / 4 of a sphere on its clear 148 mm, f = 1198.3: 0.2476
    const exact = conicPvWaves({ aperture: 148, focalLength: 1198.3 });
    assert.ok(exact < 0.25);
    assert.ok(Math.abs(found.wavefrontPv.value - exact) < 0.003, String(found.wavefrontPv.value));
    // DERIVED: what zones and runs leave has (zones - 1)(runs - 1) degrees of freedom, and no drift is in it
    assert.ok(Math.abs(found.pooledS - 0.06) < 1e-9, String(found.pooledS));
    assert.equal(found.pooledDof, 8 * (runs - 1), "through the latest mask alone");
    assert.equal(found.verdict, "not shown");
  }
  assert.throws(() => perfectTest(asha, "sphere", 1), /2 runs or more/);
  assert.throws(() => perfectTest(bram, "sphere", 3), /zone readings/);
});

Deno.test("a perfect paraboloid is a yes, and its interval never reaches nought", () => {
  const ends = [3, 10, 40].map((runs) => {
    const { found } = perfectTest(asha, "paraboloid", runs);
    assert.ok(found.wavefrontPv.value < 1e-4);
    assert.equal(found.verdict, "yes");
    return found.interval95.wavefrontPv[1];
  });
  assert.ok(ends.every((end, i) => end > 0.002 && (i === 0 || end < (ends[i - 1] ?? 0))));
  assert.match(perfectBut(asha, "paraboloid", [3]).text, /3 \| 0\.000 \|[^|]*\| 1\.00 \| yes/);
});
