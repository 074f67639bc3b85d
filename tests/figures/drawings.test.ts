/** The scale drawings: what stands where, to one scale, at every width. */
import assert from "node:assert/strict";
import { curveToCircle } from "../../lib/figures/drawings/curveToCircle.ts";
import { lensAgainstMirror } from "../../lib/figures/drawings/lensAgainstMirror.ts";
import { mirrorSection } from "../../lib/figures/drawings/mirrorSection.ts";
import { zoneCrossings } from "../../lib/figures/drawings/zoneCrossings.ts";
import { zoneMask } from "../../lib/figures/drawings/zoneMask.ts";
import { assertFigure, assertNoHoles, assertWellFormed, parsed, type Part } from "./soundFigure.ts";

const disc = { aperture: 150, radius: 2400, thickness: 25, bevel: 1 };
const openings = [[0, 30], [30, 45], [45, 57], [57, 67], [67, 74]].map((
  [inner = 0, outer = 0],
) => ({ inner, outer }));

/** Numbers of the first path of a class. */
function pathOf(svg: Part | undefined, kind: string): number[] {
  const data = svg?.querySelector(`path.${kind}`)?.getAttribute("d") ?? "";
  return [...data.matchAll(/-?\d+(\.\d+)?/g)].map(([n]) => Number(n));
}

Deno.test("the section names its parts and says what is exaggerated", () => {
  assertFigure(mirrorSection(disc), {
    span: "wide",
    titles: [
      /straight-edge, on its edge/,
      /148/,
      /1\.141, drawn × 10/,
      /diameter.* 150/,
      /bevel,? 1 wide \(× [23]\)/,
      /25 thick/,
      /true to scale/,
      /all lengths in mm/,
    ],
    says: /148 mm apart.*drawn 10 times too deep/,
  });
});

Deno.test("in the section depth and width have one scale but for the exaggeration", () => {
  for (const svg of assertFigure(mirrorSection(disc), { span: "wide" })) {
    const [x0 = 0, y0 = 0, , control = 0, x1 = 0] = pathOf(svg, "ground");
    const wider = svg.getAttribute("width") === "340" ? 3 : 2, k = (x1 - x0) / (150 - 2 * wider);
    // DERIVED: the parabola through three points reaches half as deep as its control point; depth 1.1413 mm, drawn x 10.
    assert.ok(
      Math.abs((control - y0) / 2 - 11.413 * k) < 0.2,
      `${(control - y0) / 2} px at ${k} px/mm`,
    );
    const truly = svg.querySelectorAll("path.rim"),
      last = [...truly].at(-1)?.getAttribute("d") ?? "";
    const [, ya = 0, , yc = 0] = [...last.matchAll(/-?\d+(\.\d+)?/g)].map(([n]) => Number(n));
    assert.ok(Math.abs((yc - ya) / 2 - 1.141 * k) < 0.2, "beneath it the true depth");
  }
});

Deno.test("a face is drawn as it is: ground, polished, silvered", () => {
  for (const face of ["ground", "polished", "silvered"] as const) {
    const [svg] = assertFigure(mirrorSection({ ...disc, face }), {
      span: "wide",
      titles: [new RegExp(`${face} face`)],
    });
    assert.ok(svg?.querySelector(`path.${face}`) !== null);
  }
});

Deno.test("small and large, deep and shallow discs keep their figure", () => {
  const discs = [
    { aperture: 60, radius: 300, thickness: 8, bevel: 0 },
    { aperture: 114, radius: 1800, thickness: 19, bevel: 0.5 },
    { aperture: 300, radius: 3000, thickness: 40, bevel: 3 },
    { aperture: 150, radius: 40000, thickness: 25, bevel: 1 },
  ];
  discs.forEach((one) => assertFigure(mirrorSection(one), { span: "wide" }));
  assert.match(mirrorSection(discs[3] ?? disc).text, /drawn 50 times too deep/);
});

Deno.test("impossible discs are refused with their numbers", () => {
  assert.throws(
    () => mirrorSection({ ...disc, bevel: 80 }),
    /got thickness=25, bevel=80, aperture=150/,
  );
  assert.throws(() => mirrorSection({ ...disc, thickness: 0 }), RangeError);
  assert.throws(() => mirrorSection({ ...disc, radius: 50 }), RangeError);
  assert.throws(() => mirrorSection({ ...disc, aperture: NaN }), RangeError);
});

Deno.test("focus and centre lie on one axis, R twice as far as f", () => {
  const shown = curveToCircle({ aperture: 150, radius: 2400 });
  for (
    const svg of assertFigure(shown, {
      titles: [/^f = 1200$/, /^R = 2400$/, /^F, focus$/, /^C, centre/, /one scale, in mm/],
    })
  ) {
    const [focus, centre] = [...svg.querySelectorAll("circle")];
    const vertex = svg.getAttribute("width") === "340" ? 16 : 24;
    const [f, c] = [focus, centre].map((mark) => Number(mark?.getAttribute("cx")) - vertex);
    assert.ok(Math.abs((c ?? 0) / (f ?? 1) - 2) < 0.002);
    assert.equal(focus?.getAttribute("cy"), centre?.getAttribute("cy"));
  }
});

Deno.test("lens: two foci their split apart to scale; mirror: one", () => {
  const shown = lensAgainstMirror({ aperture: 150, focalLength: 1200, split: 18.6 });
  for (
    const svg of assertFigure(shown, {
      span: "wide",
      titles: [/^lens$/, /^mirror$/, /foci 18\.6 apart/, /× 10/],
    })
  ) {
    const [blue, red, one] = [...svg.querySelectorAll("circle")].map((mark) =>
      Number(mark.getAttribute("cx"))
    );
    const width = Number(svg.getAttribute("width")), small = width < 500;
    const k = (width - (small ? 34 : 56) - (small ? 56 : 90)) / 1200;
    assert.ok(Math.abs((red ?? 0) - (blue ?? 0) - 18.6 * k) < 0.11, "the split, to scale");
    assert.ok(
      Math.abs(((red ?? 0) + (blue ?? 0)) / 2 - (one ?? 0)) < 0.11,
      "around the mirror’s focus",
    );
  }
  assert.match(shown.text, /about 1\.16 mm/);
  assert.throws(() => lensAgainstMirror({ aperture: 150, focalLength: 100, split: 1 }), RangeError);
});

Deno.test("crossings keep their order and say how far apart they are drawn", () => {
  // INVENTED readings, the demo's third day; DERIVED: the same ratio as their own
  const readings = [12.126, 12.21, 12.394, 12.536, 12.758];
  for (
    const svg of assertFigure(zoneCrossings({ openings, readings, radius: 2396 }), {
      says: /5 zones.*0\.63 mm apart/,
    })
  ) {
    const places = [...svg.querySelectorAll("circle")].map((mark) =>
      Number(mark.getAttribute("cx"))
    );
    assert.deepEqual([...places].sort((a, b) => a - b), places);
    const widthOver = (places[4] ?? 0) - (places[0] ?? 0);
    const second = (places[1] ?? 0) - (places[0] ?? 0);
    assert.ok(Math.abs(second / widthOver - (12.21 - 12.126) / (12.758 - 12.126)) < 0.02);
  }
});

Deno.test("a sphere’s zones cross in one place, a lone zone has no spread", () => {
  assertFigure(zoneCrossings({ openings, readings: [1, 1, 1, 1, 1], radius: 2396 }), {
    says: /0\.00 mm apart/,
  });
  assertFigure(zoneCrossings({ openings: openings.slice(0, 1), readings: [5], radius: 2396 }));
  assert.throws(() => zoneCrossings({ openings, readings: [1], radius: 2396 }), /got 1 for 5/);
  assert.throws(
    () => zoneCrossings({ openings, readings: [1, 2, NaN, 4, 5], radius: 2396 }),
    RangeError,
  );
});

Deno.test("the mask prints at full size with its line to check", () => {
  for (const shape of ["bands", "sectors"] as const) {
    const { html, text } = zoneMask({ aperture: 150, openings, shape });
    assertWellFormed(html);
    assertNoHoles(html);
    const svg = parsed(html).querySelector("svg");
    assert.equal(svg?.getAttribute("width"), "154mm");
    assert.equal(svg?.getAttribute("viewBox"), "-77 -77 154 172", "1 unit = 1 mm");
    const line = svg?.querySelector("path.dim")?.getAttribute("d");
    assert.equal(line, "M-50,83L50,83", "100 mm");
    assert.equal(
      [...(svg?.querySelectorAll("path.steel") ?? [])].length,
      9,
      "one middle, four pairs",
    );
    assert.match(text, /edges at 0 30 45 57 67 74 mm/);
  }
  const half = zoneMask({
    aperture: 150,
    openings: [{ inner: 0, outer: 47 }, { inner: 47, outer: 57.5 }],
  });
  assert.match(half.text, /edges at 0 47 57\.5 mm/, "half a millimetre is not rounded away");
});

Deno.test("a band’s corners lie on the edges of its zone", () => {
  const svg = parsed(zoneMask({ aperture: 150, openings }).html).querySelector("svg");
  const data = [...(svg?.querySelectorAll("path.steel") ?? [])][1]?.getAttribute("d") ?? "";
  const [a = 0, b = 0, c = 0, d = 0] = [...data.matchAll(/-?\d+(\.\d+)?/g)].map(([n]) => Number(n));
  assert.ok(Math.abs(Math.hypot(a, b) - 30) < 0.1 && Math.abs(Math.hypot(c, d) - 45) < 0.1);
});

Deno.test("a mask with edges out of order or past the rim is refused", () => {
  assert.throws(
    () => zoneMask({ aperture: 100, openings }),
    /rising edges inside the aperture in mm, got aperture=100/,
  );
  assert.throws(() => zoneMask({ aperture: 150, openings: [...openings].reverse() }), RangeError);
  assert.throws(() => zoneMask({ aperture: 150, openings: [] }), RangeError);
});

Deno.test("the same input gives the same drawing", () => {
  assert.equal(mirrorSection(disc).html, mirrorSection({ ...disc }).html);
  assert.equal(
    zoneMask({ aperture: 150, openings }).html,
    zoneMask({ aperture: 150, openings }).html,
  );
});
