import assert from "node:assert/strict";
import { photoBesideFit, ronchiPicture } from "../../../lib/figures/drawings/ronchiPicture.ts";
import type { RonchiSetting } from "../../../lib/testing/bands/ronchi.ts";

const setting: RonchiSetting = {
  surface: { radius: 2396, conic: -1 },
  half: 74,
  setUp: "same grating",
  linesPerMm: 4,
  offset: -8,
};

Deno.test("faces side by side: one image each, its words beside it, the caption below", () => {
  const shown = ronchiPicture(
    [{ name: "inside", setting }, { name: "outside", setting: { ...setting, offset: 8 } }],
    "Bands bulge inside and pinch outside.",
  );
  assert.equal(shown.html.match(/<img alt="[^"]+" style="[^"]+" src="data:image\/png/g)?.length, 2);
  assert.match(shown.html, /<figcaption>Bands bulge/);
  assert.match(shown.text, /inside: 4 lines in each mm, 8 mm inside; outside: .* 8 mm outside/);
});

Deno.test("different mirrors give different pictures, the same mirror the same", () => {
  const of = (conic: number): string =>
    ronchiPicture(
      [{ name: "face", setting: { ...setting, surface: { radius: 2396, conic } } }],
      "x",
    ).html;
  assert.equal(of(-1), of(-1));
  assert.notEqual(of(-1), of(0));
});

Deno.test("names and captions are text, never markup", () => {
  const harm = "<script>alert(1)</script>";
  assert.ok(!ronchiPicture([{ name: harm, setting }], harm).html.includes("<script"));
  const face = { across: 2, photo: new Float64Array(4), fit: new Float64Array(4) };
  assert.ok(!photoBesideFit(face, harm).html.includes("<script"));
});

Deno.test("a photograph, its fit, and what is left over", () => {
  const photo = Float64Array.of(0.2, 0.8, NaN, 0.5), fit = Float64Array.of(0.2, 0.7, NaN, 0.5);
  const shown = photoBesideFit({ across: 2, photo, fit }, "photos/a.jpg");
  assert.equal(shown.html.match(/<img/g)?.length, 3);
  assert.match(shown.text, /^photos\/a\.jpg: the photograph, the fit, and five times/);
});
