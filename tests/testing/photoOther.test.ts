/** The second maker of photographs: its light is that of the published points, and a share of its trial. */
import assert from "node:assert/strict";
import { readPhoto } from "../../lib/record/readPhoto.ts";
import { findOutline } from "../../lib/testing/photo/photoOutline.ts";
import { otherDice, otherLight, type OtherMirror, otherTruth, transform } from "./photoOther.ts";
import { toned } from "./photoOtherCamera.ts";
import { otherCase, otherFileOf, otherJudged } from "./photoOtherCases.ts";
import { otherLine } from "./photoOtherBounds.ts";
import { close } from "../optics/close.ts";

const sphere: OtherMirror = {
  ...{ width: 150, radius: 2400, conic: 0, extra: () => 0, offset: -5, lines: 4 },
  ...{ turn: 0, shift: 0, duty: 0.5, colours: [[550, 1]] },
};

Deno.test("a transform forth and back is the same, and a single wave is one line", () => {
  const re = Float64Array.from({ length: 64 }, (_, k) => Math.cos((2 * Math.PI * 5 * k) / 64));
  const im = new Float64Array(64), before = re.slice();
  transform(re, im, -1);
  close(re[5] ?? NaN, 32, 1e-12);
  transform(re, im, 1);
  before.forEach((v, k) => close((re[k] ?? NaN) / 64, v, 1e-12));
});

Deno.test("its light behind the same grating is that of 400 places in the lamp", () => {
  // CROSS-CHECK secondRoute.py, sphere behind its own grating: mean over 400 places in the lamp of the exact sum of sheared images
  const wanted = [[0, 0, 0.8570543], [15, 0, 0.4934927], [30, 0, 0.1221475], [45, 0, 0.4942664], [
    60,
    0,
    0.8517493,
  ], [-30, 40, 0.1225239]] as const;
  const light = otherLight(sphere, 301);
  for (const [x, y, value] of wanted) close(light(x, y), value, 2.5e-3);
});

Deno.test("what a mirror is worth: a sphere beside the exact path", () => {
  // CROSS-CHECK secondRoute.py, a sphere's worth: exact path of a star's light off a sphere of 150 mm f/8: P-V 0.260166, RMS 0.0775637
  const { pv, rms } = otherTruth(sphere);
  close(pv, 0.260166, 3e-4);
  close(rms, 0.0775637, 1e-4);
});

Deno.test("its dice are even, its curves rise", () => {
  const d = otherDice(4), all = Array.from({ length: 20_000 }, () => d.next());
  close(all.reduce((a, b) => a + b, 0) / all.length, 0.5, 0.01);
  const bells = Array.from({ length: 20_000 }, () => d.bell());
  close(bells.reduce((a, b) => a + b * b, 0) / bells.length, 1, 0.04);
  for (
    const tone of [{ kind: "power", strength: 2.2 }, { kind: "screen", strength: 1 }, {
      kind: "s-curve",
      strength: 0.9,
    }, { kind: "filmic", strength: 0.3 }] as const
  ) {
    for (let k = 1; k <= 50; k++) {
      assert.ok(toned(tone, k / 50) > toned(tone, (k - 1) / 50), `${tone.kind} at ${k / 50}`);
    }
  }
});

Deno.test("a desk full of bright things does not hide the disc", async () => {
  for (const seed of [9, 16]) {
    const one = otherCase(seed), { x, y, r, slant } = one.camera;
    const found = findOutline(await readPhoto(await otherFileOf(one)));
    const radius = (r * (1 + Math.cos(slant))) / 2; // DERIVED: half widths r and r cos(slant)
    close(found?.x ?? NaN, x, 0.015 * r);
    close(found?.y ?? NaN, y, 0.015 * r);
    close(found?.radius ?? NaN, radius, 0.01 * r);
  }
});

// three of the trial's own kinds, small pictures; the hundred are `deno task trial photosOther`
for (
  const [seed, why] of [[11, "small, aslant"], [19, "a wall, shaken"], [20, "an edge"]] as const
) {
  Deno.test(`photograph ${seed} of a hand-held phone, ${why}: read, within three times its doubt, never a yes`, async () => {
    const found = await otherJudged(otherCase(seed)), { figure, truth } = found;
    assert.ok(figure !== undefined, otherLine(found));
    assert.notEqual(figure.verdict, "yes");
    assert.ok(Math.abs(figure.conic.value - truth.conic) < 3 * figure.conic.u, otherLine(found));
    const [low, high] = figure.interval95.wavefrontPv;
    assert.ok(low <= figure.wavefrontPv.value && figure.wavefrontPv.value <= high);
    assert.ok(truth.pv < high && high < 0.5, otherLine(found));
  });
}
