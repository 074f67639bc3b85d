/** The stage of the curve, block by block: readings as typed, what they give, and what they call for. */
import assert from "node:assert/strict";
import { decideCurve, radiusByMethods, yourCurve } from "../../lib/stages/curve.ts";
import { MIRROR } from "../record/bench.ts";
import { demo, empty, halfway, marks, mirror } from "./mirrors.ts";

const LEAVES = "go_mm,nogo_mm\n" + "1.12,1.14\n1.13,1.15\n".repeat(3);
const SUN = "distance_mm\n1199\n1194\n1203\n1197\n1196\n1201\n";

Deno.test("leaf rows as typed, with the depth they come to, the file and its lines", () => {
  const { text } = yourCurve(demo, demo);
  assert.match(text, /338 \| 0\.88\+0\.20\+0\.04 \| 0\.88\+0\.20\+0\.06 \| 1\.1\d\d ± 0\.006/);
  assert.match(text, /From sagitta\.csv ?, lines 7, 13 to 18\./);
  assert.match(text, /Radius of curvature 239\d mm ± 1\d mm/);
});

Deno.test("the row that was set aside stays, struck through, with its reason", () => {
  const { html, text } = yourCurve(demo, demo);
  assert.match(html, /<tr class="aside"><th[^>]*>100<\/th>[\s\S]*?<s>.*1\.0\d\d/);
  assert.match(text, /100 \| 0\.98 \| 0\.99 \| .* \| set aside: /);
});

Deno.test("spherometer and Sun as typed", () => {
  const { text } = yourCurve(demo, demo);
  assert.match(text, /flat glass \| 5\.0010, 5\.0000, 5\.0020, 5\.0000, 5\.0010/);
  assert.match(text, /distance of the image \| 1199, 1194, 1203, 1197, 1196, 1201/);
  assert.match(text, /its width \| 11\.1/);
});

Deno.test("a Sun of distances only has no row for widths", async () => {
  const { text } = yourCurve(await mirror({ "sun.csv": SUN }), demo);
  const own = text.slice(text.indexOf("Yours · record · Sun"));
  assert.match(own, /distance of the image/);
  assert.doesNotMatch(own, /its width/);
});

Deno.test("the methods drawn: those used, together, and what was wanted", () => {
  const { html, text } = radiusByMethods(demo, demo);
  assert.match(html, /<svg/);
  for (const word of [/Leaves/, /Spherometer/, /Sun, distance/, /2396\.6/, /2400/]) {
    assert.match(text, word);
  }
  assert.doesNotMatch(text, /Sun, width/, "a width that is not used hides the others");
});

Deno.test("what to do: measure, a second method, again, on, or mend, each from the least that calls for it", async () => {
  const says = async (files: Record<string, string>): Promise<string> =>
    decideCurve(await mirror(files)).text;
  assert.match(decideCurve(empty).text, /^Decide: measure\. Take six leaf readings/);
  assert.match(await says({ "sagitta.csv": LEAVES }), /^Decide: a second method\./);
  assert.match(decideCurve(demo).text, /^Decide: go on\. /);
  assert.match(decideCurve(demo).text, /Your focal length now: 1198\.3/);
  assert.match(
    await says({
      "sagitta.csv": "go_mm,nogo_mm\n1.12,1.17\n1.11,1.18\n",
      "sun.csv": "image_mm\n11\n11\n",
    }),
    /^Decide: (read again|a second method)\./,
  );
  const slip = await says({ "sagitta.csv": LEAVES, "sun.csv": "distance_mm\n47.2\n47.2\n47.1\n" });
  assert.match(slip, /^Decide: mend\./);
});

Deno.test("of the choices, exactly one is marked", async () => {
  for (const each of [demo, halfway, empty, await mirror({ "sagitta.csv": LEAVES })]) {
    assert.equal(decideCurve(each).html.match(/<li class="chosen">/g)?.length, 1);
  }
});

Deno.test("a record whose every table holds a slip shows its readings and asks to mend them", async () => {
  const slips = await mirror({
    "mirror.yaml": MIRROR,
    "sun.csv": "distance_mm\n47.2\n47.2\n47.1\n47.2\n",
  });
  assert.equal(slips.summary.curve?.radius, undefined);
  const curve = yourCurve(slips, demo);
  assert.match(curve.text, /47\.2/);
  assert.match(curve.text, /It is not used/);
  assert.match(decideCurve(slips).text, /^Decide: mend\./);
  assert.doesNotMatch(radiusByMethods(slips, demo).text, /NaN|undefined/);
  assert.equal(marks(radiusByMethods(slips, demo)), "nd", "nothing of it may be relied on");
});
