import assert from "node:assert/strict";
import fc from "fast-check";
import { sunDistance, sunSettingU } from "../../../lib/measuring/methods/sunDistance.ts";
import { sunImage } from "../../../lib/measuring/methods/sunImage.ts";
import { KESTREL } from "../bench.ts";
import { Agreement, readReference } from "../reference.ts";

interface Reference {
  inputs: {
    worked_distance: { readings_mm: number[]; tape_half_width_mm: number };
    worked_diameter: { date: string; image_diameter_mm: number; u_mm: number };
  };
  expected: {
    worked_distance: Record<"R" | "u_R" | "u_typeA", number>;
    worked_diameter: Record<"f" | "u_f" | "f_with_109", number>;
    depth_of_focus_model: { slope_sd_mrad: number; u_single_setting_mm: number }[];
  };
  tolerance: { rel: number };
}

// CROSS-CHECK numpy 1.24.2: tests/references/sun-image.json
const { inputs, expected, tolerance: { rel } } = readReference<Reference>("sun-image");

Deno.test("distance: the worked readings, with a tape that may be off by a millimetre", () => {
  const agree = new Agreement();
  const rows = inputs.worked_distance.readings_mm.map((distance) => ({ distance }));
  const tape = inputs.worked_distance.tape_half_width_mm / Math.sqrt(3);
  const made = sunDistance(rows, KESTREL, tape) ?? assert.fail();
  agree.check(made.radius.value, expected.worked_distance.R, rel, "R");
  agree.check(made.radius.u, expected.worked_distance.u_R, rel, "u(R)");
  const settings = made.components.find(({ dof }) => dof === 5)?.u ?? NaN;
  agree.check(settings / 2, expected.worked_distance.u_typeA, rel, "scatter");
  agree.report("sun-image, distance");
  assert.deepEqual(made.components.map(({ shared }) => shared), [undefined, "ruler"]);
});

Deno.test("diameter: the worked image on its date", () => {
  const agree = new Agreement();
  const { date, image_diameter_mm: image } = inputs.worked_diameter;
  const made = sunImage([{ image, date }], KESTREL) ?? assert.fail();
  agree.check(made.radius.value / 2, expected.worked_diameter.f, rel, "f");
  const byRule = Math.abs(image * 109 - expected.worked_diameter.f_with_109);
  assert.ok(byRule < 1e-9);
  agree.report("sun-image, diameter");
  // The file takes 0.3 mm for everything; here the edge (0.3) and the ruler's step (1 / sqrt 12) are apart.
  const edge = made.components.find(({ source }) => source.startsWith("edge"))?.u ?? NaN;
  assert.ok(
    Math.abs(edge / 2 / expected.worked_diameter.u_f - 1) < 0.02,
    "107.5 against that day's 106.1",
  );
  assert.ok(made.radius.u > 2 * expected.worked_diameter.u_f);
});

Deno.test("how much one setting spreads: the model's table", () => {
  const agree = new Agreement();
  assert.equal(expected.depth_of_focus_model.length, 6);
  for (const row of expected.depth_of_focus_model) {
    const u = sunSettingU(1200, 150, row.slope_sd_mrad / 1000);
    agree.check(u, row.u_single_setting_mm, rel, `${row.slope_sd_mrad} mrad`);
  }
  agree.report("sun-image, one setting");
});

Deno.test("one setting alone is told to be assumed", () => {
  // DERIVED: twice the root of the assumed setting, 5.713, squared and a step of 1 mm, 1 / sqrt 12, squared
  const made = sunDistance([{ distance: 1199 }], KESTREL) ?? assert.fail();
  assert.match(made.assumed[0] ?? "", /one setting only: 5\.7 mm is assumed/);
  assert.ok(Math.abs(made.radius.u - 2 * Math.hypot(5.713, 1 / Math.sqrt(12))) < 0.01);
  assert.ok(made.radius.dof < 3);
});

Deno.test("law: a metre more of every reading is two metres more of radius, and no more doubt", () => {
  const list = fc.array(fc.integer({ min: 1150, max: 1250 }), { minLength: 2, maxLength: 9 });
  fc.assert(fc.property(list, (distances) => {
    const at = (more: number) =>
      sunDistance(distances.map((distance) => ({ distance: distance + more })), KESTREL) ??
        assert.fail();
    const [here, there] = [at(0), at(1000)];
    assert.ok(Math.abs(there.radius.value - here.radius.value - 2000) < 1e-8);
    assert.ok(Math.abs(there.radius.u - here.radius.u) < 1e-8);
  }));
});

Deno.test("an image without a date takes the year's mean and says so", () => {
  const dated = sunImage([{ image: 11.1, date: "2026-04-18" }], KESTREL) ?? assert.fail();
  const undated = sunImage([{ image: 11.1 }], KESTREL) ?? assert.fail();
  assert.deepEqual(dated.assumed, []);
  assert.match(undated.assumed[0] ?? "", /no date/);
  assert.ok(undated.radius.u > dated.radius.u);
  assert.ok(undated.components.some(({ source }) => /unknown date/.test(source)));
});

Deno.test("each table is found by its column; none, no estimate", () => {
  const rows = [{ distance: 1199, image: 11.1, date: "2026-04-18", file: "sun.csv", line: 2 }];
  assert.equal(sunDistance(rows, KESTREL)?.method, "sun distance");
  assert.equal(sunImage(rows, KESTREL)?.method, "sun image");
  assert.equal(sunImage(rows, KESTREL)?.file, "sun.csv");
  assert.equal(sunDistance([{ image: 11.1 }], KESTREL), undefined);
  assert.equal(sunImage([{ distance: 1199 }], KESTREL), undefined);
});

Deno.test("a wild setting is set aside with its line, the value as read", () => {
  // INVENTED: the row as it was written
  const rows = [1199, 1194, 1203, 1197, 1196, 1299].map((distance, at) => ({
    distance,
    line: at + 2,
  }));
  const made = sunDistance(rows, KESTREL) ?? assert.fail();
  assert.deepEqual(made.setAside.map(({ line, value }) => [line, value]), [[7, 1299]]);
  const images = [11.1, 11.2, 11, 11.1, 11.2, 15].map((image) => ({ image, date: "2026-04-18" }));
  assert.equal(sunImage(images, KESTREL)?.setAside[0]?.value, 15);
});

Deno.test("no distance at all, or a telescope without size, is refused", () => {
  assert.throws(
    () => sunDistance([{ distance: 0 }], KESTREL),
    /^CannotTell: the mean of the readings is 0/,
  );
  assert.throws(() => sunSettingU(0, 150), /focal and aperture above 0/);
});
