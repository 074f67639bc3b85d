import assert from "node:assert/strict";
import { decideDesign, whatSizesCost, yourPlan } from "../../lib/stages/plan.ts";
import { demo, empty, halfway, marks, mirror } from "./mirrors.ts";

const planOf = (aperture: number, focal: number): ReturnType<typeof mirror> =>
  mirror({ "mirror.yaml": `aperture: ${aperture} mm\nfocal_length: ${focal} mm\n` });

Deno.test("the plan, number by number, as the reader's own", () => {
  const { text } = yourPlan(halfway);
  assert.match(text, /^Yours · Bram's mirror/);
  for (const line of ["Aperture: 200", "Focal ratio: f/6", "Sagitta: 2.084", "905"]) {
    assert.ok(text.includes(line), line);
  }
  assert.equal(marks(yourPlan(empty)), "y");
});

Deno.test("what a size costs, by formulas of the test's own", () => {
  const sizes = [{ aperture: 114, focalLength: 900 }, { aperture: 200, focalLength: 1200 }];
  const rows = whatSizesCost(sizes).text.split("\n").slice(-2);
  sizes.forEach(({ aperture: d, focalLength: f }, index) => {
    // DERIVED: depth R - sqrt(R^2 - D^2/4); cap pi h^2 (3R - h) / 3; wavefront at best focus D^4 / (2048 f^3)
    const h = 2 * f - Math.sqrt(4 * f * f - d * d / 4);
    const volume = Math.PI * h * h * (6 * f - h) / 3 / 1000;
    const waves = d ** 4 / (2048 * f ** 3) / 550e-6;
    const cells = rows[index]?.split(" | ") ?? [];
    assert.equal(cells[1], h.toFixed(3));
    assert.equal(cells[2], volume.toFixed(1));
    assert.equal(cells[3], `${f}`);
    assert.ok(Math.abs(Number(cells[4]) - waves) < 0.006, `${cells[4]} for ${waves}`);
  });
});

Deno.test("go on, go on and figure, or choose again: by the course's numbers, their limits counting as inside", async () => {
  // COMMON PRACTICE: a first mirror 114 to 150 mm, f/7 to f/9; again when faster than f/6 or over 200 mm
  const cases: readonly (readonly [aperture: number, focal: number, told: RegExp])[] = [
    [130, 1170, /^Decide: go on\. 130 mm f\/9: a sphere is enough/],
    [150, 1200, /^Decide: go on\. 150 mm f\/8: go on, knowing/],
    [200, 1200, /^Decide: go on\. 200 mm f\/6: go on, knowing/],
    [200, 1190, /^Decide: choose again\./],
    [201, 1600, /^Decide: choose again\./],
    [100, 1500, /^Decide: go on\. 100 mm f\/15: a sphere is enough/],
  ];
  for (const [aperture, focal, told] of cases) {
    const { text, html } = decideDesign(await planOf(aperture, focal));
    assert.match(text, told, `${aperture} mm of ${focal}`);
    assert.equal(html.match(/<li class="chosen">/g)?.length, 1);
  }
});

Deno.test("a mirror outside what is easiest is told what is", async () => {
  assert.match(decideDesign(await planOf(180, 1440)).text, /easiest between 114 and 150 mm/);
  assert.doesNotMatch(decideDesign(demo).text, /easiest/);
});
