/** Pieces of text on sheets: each whole, in order, a heading never parted from what it heads. */
import assert from "node:assert/strict";
import { flowToPrint, type Piece } from "../../../lib/figures/prints/flow.ts";
import { safe } from "../../../lib/figures/html.ts";
import { areaOf, type Paper, papers } from "../../../lib/figures/prints/printable.ts";

const a4 = papers[0] as Paper;
const area = areaOf(a4);

/** Where each piece came to stand: its sheet, and its top. */
function laid(...pieces: readonly Omit<Piece, "draw">[]): { sheet: number; top: number }[] {
  const tops: number[] = [];
  const drawn = pieces.map((piece, i): Piece => ({
    ...piece,
    draw: (left, y) => {
      assert.equal(left, area.left);
      tops[i] = y;
      return safe`[piece ${i}]`;
    },
  }));
  const sheets = flowToPrint({
    ...{ name: "pieces", title: "Pieces", use: "", finding: "Pieces." },
    pieces: () => drawn,
  }).sheets(a4);
  return tops.map((top, i) => ({
    sheet: sheets.findIndex(({ markup }) => markup.includes(`[piece ${i}]`)),
    top,
  }));
}

/** What is left of the first sheet under the line of use. */
const [first] = laid({ height: 1 });
const room = area.top + area.height - (first?.top ?? NaN);

Deno.test("pieces stand one under the other, and one that does not fit goes on the next sheet whole", () => {
  const [a, b, c] = laid({ height: 30 }, { height: room - 30 }, { height: 1 });
  assert.deepEqual([a?.sheet, b?.sheet, c?.sheet], [0, 0, 1]);
  assert.equal((b?.top ?? 0) - (a?.top ?? 0), 30);
  assert.equal(c?.top, area.top, "a new sheet begins at its top");
  assert.equal(laid({ height: 30 }, { height: room - 29 })[1]?.sheet, 1, "a millimetre too much");
});

Deno.test("a heading goes with what it heads, and stays where both fit", () => {
  const heading = { height: 10, withNext: true };
  const parted = laid({ height: room - 30 }, heading, { height: 25 });
  assert.deepEqual(parted.map(({ sheet }) => sheet), [0, 1, 1]);
  const kept = laid({ height: room - 30 }, heading, { height: 20 });
  assert.deepEqual(kept.map(({ sheet }) => sheet), [0, 0, 0]);
  const plain = laid({ height: room - 30 }, { height: 10 }, { height: 25 });
  assert.deepEqual(plain.map(({ sheet }) => sheet), [0, 0, 1]);
  const last = laid({ height: room - 10 }, heading);
  assert.equal(last[1]?.sheet, 0, "nothing follows");
});

Deno.test("a piece longer than a sheet stands on one alone, and the sheets count themselves", () => {
  const [long, after] = laid({ height: 2 * area.height }, { height: 5 });
  assert.deepEqual([long?.sheet, after?.sheet], [1, 2]);
  const sheets = flowToPrint({
    ...{ name: "p", title: "P", use: "", finding: "P." },
    pieces: () => [{ height: room, draw: () => safe`` }, { height: 9, draw: () => safe`` }],
  }).sheets(a4);
  assert.match(sheets[1]?.markup ?? "", /2 of 2/);
});
