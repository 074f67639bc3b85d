import assert from "node:assert/strict";
import { safe } from "../../../lib/figures/html.ts";
import {
  areaOf,
  drawingToPrint,
  mostSheets,
  papers,
  tilingOf,
} from "../../../lib/figures/prints/printable.ts";

const [a4, letter] = papers;
const drawing = (width: number, height: number): Parameters<typeof drawingToPrint>[0] => ({
  name: "square",
  title: "Square",
  use: "Cut it out.",
  width,
  height,
  finding: "A square.",
  contents: safe``,
});

Deno.test("the papers are the standards' own", () => {
  // READ: ISO 216 A4; ANSI Letter is 8 1/2 by 11 in
  assert.deepEqual([a4?.width, a4?.height], [210, 297]);
  assert.deepEqual([letter?.width.toFixed(6), letter?.height.toFixed(6)], [
    (8.5 * 25.4).toFixed(6),
    (11 * 25.4).toFixed(6),
  ]);
});

Deno.test("what fits takes one sheet; tiles cover all of a larger one, with an overlap", () => {
  for (const paper of papers) {
    const { width } = areaOf(paper);
    assert.equal(drawingToPrint(drawing(width, 150)).sheets(paper).length, 1);
    for (const size of [205, 260, 410, 520]) {
      const { columns, rows, stepX, stepY } = tilingOf(drawing(size, size), paper);
      assert.ok((columns - 1) * stepX + width >= size, `${size} across`);
      assert.ok((columns - 2) * stepX + width < size, `${size}: no sheet too many`);
      assert.ok(rows * stepY + 12 >= size, `${size} down`);
    }
  }
});

Deno.test("each sheet of several says which it is, and the crosses lie at one place of the drawing", () => {
  assert.ok(a4 !== undefined);
  const sheets = drawingToPrint(drawing(300, 150)).sheets(a4).map(({ markup }) => markup);
  assert.equal(sheets.length, 2);
  sheets.forEach((sheet, i) => assert.match(sheet, new RegExp(`sheet ${i + 1} of 2`)));
  const crosses = sheets.map((sheet) =>
    /<svg x=[\s\S]*?<\/svg>/.exec(sheet.slice(10))?.[0].match(/<path [^>]*>/g)
  );
  assert.deepEqual(crosses[0], crosses[1]);
  assert.equal(crosses[0]?.length, 6, "three crosses of two strokes");
});

Deno.test("too large for paper: said with the number of sheets, and nothing drawn", () => {
  assert.ok(a4 !== undefined);
  const large = drawingToPrint(drawing(1000, 1000));
  assert.deepEqual(large.sheets(a4), []);
  const count = Number(/would take (\d+) sheets/.exec(large.said?.(a4) ?? "")?.[1]);
  assert.ok(count > mostSheets);
  assert.equal(drawingToPrint(drawing(150, 150)).said?.(a4), undefined);
});

Deno.test("a size that is none is refused", () => {
  for (const bad of [0, -1, NaN, Infinity]) {
    assert.throws(() => drawingToPrint(drawing(bad, 10)), /drawingToPrint requires a size above 0/);
  }
});
