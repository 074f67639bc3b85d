import assert from "node:assert/strict";
import { describe } from "../../lib/record/errors.ts";
import { MIRROR, read, refusals } from "./bench.ts";

const page = (text: string): { "mirror.yaml": string } => ({
  "mirror.yaml": `${MIRROR}telescope:\n${text}`,
});

Deno.test("a part of the telescope may be told without the others", async () => {
  // INVENTED
  const { settings } = await read(page("  flats: [25 mm, 1 1/4 in]\n"));
  assert.deepEqual(settings.telescope, { flats: [25, 31.75] });
});

Deno.test("angles become radians, masses grams, lengths mm", async () => {
  // DERIVED: 6 x 25.4
  const { settings } = await read(page(
    "  bearing: { radius: 6 in, friction: 0.15, pad_half_angle: 35 deg, altitude: 20 deg }\n" +
      "  parts: [{ name: 'a: b', mass: 2.1 kg, at: -6 cm }]\n  swap: 300 g\n",
  ));
  const { bearing, parts, swap } = settings.telescope ?? {};
  assert.ok(Math.abs((bearing?.radius ?? 0) - 152.4) < 1e-9);
  assert.ok(Math.abs((bearing?.padHalfAngle ?? 0) - 35 * Math.PI / 180) < 1e-12);
  assert.equal(bearing?.friction, 0.15);
  assert.deepEqual(parts, [{ name: "a: b", mass: 2100, at: -60 }]);
  assert.equal(swap, 300);
});

Deno.test("the screws' image has two places, and three screws", async () => {
  const screws =
    "  screws: { pitch: 1 mm, radius: 60 mm, angles: [90 deg, 210 deg, 330 deg], image_at: [3 mm, -2 mm] }\n";
  const { settings } = await read(page(screws));
  assert.deepEqual(settings.telescope?.screws?.imageAt, [3, -2]);
  const found = await refusals(page(screws.replace(", -2 mm", "").replace("90 deg, ", "")));
  assert.deepEqual(found.map(({ column }) => column), [
    "telescope.screws.angles",
    "telescope.screws.image_at",
  ]);
});

Deno.test("what a group needs is asked for by its path", async () => {
  const found = await refusals(
    page("  tube: { wall: 3 mm }\n  focuser: { height: 70 mm, margin: 15 }\n  eyepiece: []\n"),
  );
  assert.deepEqual(found.map(describe), [
    "mirror.yaml, line 5, column telescope.tube.inner_diameter: found no such key, wanted inner_diameter: write it in",
    "mirror.yaml, line 6, column telescope.focuser.margin: found the bare number 15, wanted a unit of length: " +
    "write 15 mm or 15 in (which is 381 mm)",
    'mirror.yaml, line 7, column telescope.eyepiece: found the key "eyepiece", wanted a key known here: ' +
    "did you mean eyepieces?",
  ]);
});
