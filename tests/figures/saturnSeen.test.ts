/** Saturn: sizes grow with the magnification, the blur grows along with them, and only the air changes it. */
import assert from "node:assert/strict";
import { saturnSeen, type SaturnView } from "../../lib/figures/saturnSeen.ts";
import { assertFigure } from "./soundFigure.ts";

const view: SaturnView = {
  aperture: 150,
  ringsArcsec: 44.7,
  globeArcsec: 19.7,
  ringTilt: 0.13,
  magnifications: [48, 120, 200],
  seeingArcsec: [0, 3],
};

const blurs = (html: string): number[] =>
  [...html.matchAll(/filter:blur\(([\d.]+)px\)/g)].map(([, px]) => Number(px));
const globes = (html: string): number[] =>
  [...html.matchAll(/<ellipse[^>]* rx="([\d.]+)"/g)].map(([, px]) => Number(px));

Deno.test("it says what grows and what stays, and names every panel", () => {
  assertFigure(saturnSeen(view), {
    titles: [/48×/, /120×/, /200×/, /still air/, /blurs by 3″/],
    says: /48 and 120 and 200 times.*0\.92″ stays/,
  });
});

Deno.test("globe and blur grow by the magnification, so their ratio stays", () => {
  const { html } = saturnSeen(view), sizes = globes(html), blur = blurs(html);
  assert.equal(sizes.length, 12); // three magnifications, two rows, two widths
  // DERIVED: 19.7" / 2 x M / 3600 degrees, at 600 mm and 96 px an inch
  const px = (19.7 / 2 * 200) / 3600 * Math.PI / 180 * 600 * (96 / 25.4);
  assert.ok(Math.abs((sizes[2] ?? 0) - px) < 0.06, `${sizes[2]} ${px}`);
  for (const i of [0, 1, 2]) {
    assert.ok(
      Math.abs((blur[i] ?? 0) / (sizes[i] ?? 1) / ((blur[2] ?? 0) / (sizes[2] ?? 1)) - 1) < 0.03,
    );
  }
});

Deno.test("bad air blurs more, a wider mirror less", () => {
  const [still = 0, , , bad = 0] = blurs(saturnSeen(view).html);
  assert.ok(bad > 3 * still);
  const [wide = 0] = blurs(saturnSeen({ ...view, aperture: 300 }).html);
  assert.ok(Math.abs(wide / still - 0.5) < 0.05);
});

Deno.test("refuses what cannot be", () => {
  assert.throws(() => saturnSeen({ ...view, aperture: 0 }), RangeError);
  assert.throws(() => saturnSeen({ ...view, magnifications: [] }), RangeError);
  assert.throws(() => saturnSeen({ ...view, seeingArcsec: [-1] }), /blur of 0 or more/);
});
