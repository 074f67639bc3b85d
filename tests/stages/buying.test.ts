/** The list to buy by: every page's things, grams that follow the width, names that a dealer knows. */
import assert from "node:assert/strict";
import { whatToBuy } from "../../lib/stages/buying.ts";
import { demo, mirror } from "./mirrors.ts";

Deno.test("all grades by letter and number, pitch by its use, and every page from 02 to 16 that asks for things", () => {
  const { text } = whatToBuy(demo);
  for (const name of ["F80", "F120", "F220", "F320", "F500", "F800", "F1200"]) {
    const page = name === "F80" ? "03" : "07";
    assert.match(text, new RegExp(`abrasive ${name}, loose[^|]*\\| \\d+ g \\| ${page}`));
  }
  assert.match(text, /not toughened/);
  assert.match(text, /pitch sold for polishing optics/);
  const pages = text.split("\n").flatMap((line) => / \| (\d\d)$/.exec(line)?.[1] ?? []);
  assert.deepEqual(pages, pages.toSorted());
  assert.deepEqual([...new Set(pages)], ["02", "03", "04", "07", "08", "10", "14", "15", "16"]);
});

Deno.test("a wider mirror wants more powder, and a longer tape", async () => {
  const wide = await mirror({ "mirror.yaml": "aperture: 200 mm\nfocal_length: 1500 mm\n" });
  const grams = (text: string): number => Number(/F80[^|]*\| (\d+) g/.exec(text)?.[1]);
  // DERIVED: by the area, 16 to 9, and deeper besides: D^2 ÷ 8f is 3.3 mm against 2.3
  assert.ok(grams(whatToBuy(wide).text) > 16 / 9 * grams(whatToBuy(demo).text));
  assert.match(whatToBuy(wide).text, /longer than 3000/);
});
