import assert from "node:assert/strict";
import { bandFaults, decideBands, inAndOut, yourBands } from "../../lib/stages/bands.ts";
import type { Mirror } from "../../lib/knowledge/open.ts";
import type { FigureSummary } from "../../lib/knowledge/summaryTypes.ts";
import { demo, empty, halfway, marks } from "./mirrors.ts";

const withPhotos = (...photos: FigureSummary[]): Mirror => ({
  ...demo,
  summary: { ...demo.summary, figure: { photos } },
});

Deno.test("own photograph beside its fit, with profile and numbers; without one the demo's, marked", async () => {
  const own = await yourBands(demo, demo);
  assert.equal(marks(own), "y");
  assert.match(own.text, /the photograph, the fit, and five times what is left over/);
  assert.match(own.text, /Conic constant: −0\.6\d/);
  assert.match(
    own.text,
    /Grating from the best conic's centre of curvature, by the bands: 8\.[23]/, // the latest of the two
  );
  for (const mirror of [halfway, empty]) {
    const shown = await yourBands(mirror, demo);
    assert.equal(marks(shown), "nd");
    assert.match(shown.text, /Write the file, the grating's lines for each mm/);
  }
});

Deno.test("a refused photograph says why, escaped", async () => {
  const why = "<b>no mirror</b>";
  const shown = await yourBands(withPhotos({ photo: "photos/x.jpg", refused: why }), demo);
  assert.ok(shown.html.includes("&lt;b&gt;no mirror") && !shown.html.includes(why));
});

Deno.test("what the bands call for", () => {
  const [photo = {}] = demo.summary.figure?.photos ?? [];
  const hooked: FigureSummary = {
    ...photo,
    terms: [{ name: "turned edge, outer 8 %", amounts: [{ value: -120, unit: "nm", u: 5 }] }],
  };
  const slight = {
    ...hooked,
    terms: [{ name: "turned edge, outer 8 %", amounts: [{ value: -5, unit: "nm" }] }],
  };
  assert.match(decideBands(demo).text, /^Decide: go on/);
  assert.match(decideBands(empty).text, /^Decide: look/);
  assert.match(decideBands(withPhotos(hooked)).text, /^Decide: back to the lap/);
  assert.match(decideBands(withPhotos(slight)).text, /^Decide: go on/);
  assert.match(
    decideBands(withPhotos({ photo: "x.jpg", refused: "no mirror" })).text,
    /^Decide: again/,
  );
});

Deno.test("lesson pictures: both sides of the centre, three faults", () => {
  assert.match(inAndOut(-1).text, /K = −1, from both sides/);
  assert.equal(bandFaults().html.match(/<img/g)?.length, 3);
});
