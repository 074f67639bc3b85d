/** Grains to one scale: sizes in proportion, every name told, whatever the widths. */
import assert from "node:assert/strict";
import { grainLadder, type Grains } from "../../../lib/figures/drawings/grainLadder.ts";
import { assertFigure, assertNoHoles, type Part } from "../soundFigure.ts";

const ladder = [["F80", 185], ["F120", 109], ["F220", 58], ["F320", 29.2], ["F1200", 3]]
  .map(([name, sizeUm]) => ({ name: String(name), sizeUm: Number(sizeUm) }));
const alike = [{ name: "F400", sizeUm: 17.3 }, { name: "#400", sizeUm: 30 }];

/** Widths of the grains as drawn, px. */
function widths(svg: Part): number[] {
  return [...svg.querySelectorAll("path.steel")].map((grain) => {
    const numbers = [...(grain.getAttribute("d") ?? "").matchAll(/-?\d+(\.\d+)?/g)].map(([n]) =>
      Number(n)
    );
    const xs = numbers.filter((_, i) => i % 2 === 0);
    return Math.max(...xs) - Math.min(...xs);
  });
}

Deno.test("each grain has its name and size, and widths go with the sizes", () => {
  const shown = grainLadder({ ladder, alike });
  assertNoHoles(shown.html);
  for (
    const svg of assertFigure(shown, {
      titles: [/^F80$/, /^F1200$/, /^#400$/, /^17\.3 µm$/, /one scale for all/, /times as large/],
      says: /F80 185 µm, F120 109 µm, F220 58 µm.*F400 17\.3 µm, #400 30 µm/,
    })
  ) {
    const drawn = widths(svg), first = drawn[0] ?? NaN;
    assert.equal(drawn.length, ladder.length + alike.length);
    ladder.forEach(({ name, sizeUm }, i) => {
      // places are rounded to a tenth of a px at either side
      assert.ok(Math.abs((drawn[i] ?? NaN) - first * sizeUm / 185) < 0.25, `${name}: ${drawn[i]}`);
    });
    const [f400 = NaN, jis400 = NaN] = drawn.slice(-2);
    assert.ok(Math.abs(jis400 / f400 - 30 / 17.3) < 0.02, "beneath, one scale too");
    assert.ok(f400 > 2 * first * 17.3 / 185, "and a larger one");
  }
});

Deno.test("nothing leaves the sheet, and rows wrap where it is narrow", () => {
  const long = Array.from({ length: 20 }, (_, i) => ({ name: `G${i}`, sizeUm: 300 / (i + 1) }));
  for (const grains of [{ ladder, alike }, { ladder: long }, { ladder: long.slice(0, 1) }]) {
    for (const svg of assertFigure(grainLadder(grains))) {
      const [wide, high] = ["width", "height"].map((side) => Number(svg.getAttribute(side)));
      for (const word of svg.querySelectorAll("text")) {
        const [x, y] = ["x", "y"].map((side) => Number(word.getAttribute(side)));
        assert.ok((x ?? -1) >= 0 && (x ?? 0) <= (wide ?? 0), `${word.textContent} at ${x}`);
        assert.ok((y ?? -1) >= 0 && (y ?? 0) <= (high ?? 0), `${word.textContent} at ${y}`);
      }
    }
  }
});

Deno.test("without likes there is no second row; names are text, not markup", () => {
  assert.doesNotMatch(grainLadder({ ladder }).text, /like numbers/);
  const { html } = grainLadder({ ladder: [{ name: "<b>&", sizeUm: 10 }] });
  assert.ok(html.includes("&lt;b&gt;&amp;") && !html.includes("<b>&<"));
});

Deno.test("a ladder that is empty, rises, or has no size is refused with its grades", () => {
  const bad: Grains[] = [
    { ladder: [] },
    { ladder: ladder.toReversed() },
    { ladder: [{ name: "F80", sizeUm: NaN }] },
    { ladder: [{ name: "F80", sizeUm: 0 }] },
    { ladder, alike: [{ name: "P400", sizeUm: -1 }] },
  ];
  for (const grains of bad) assert.throws(() => grainLadder(grains), /from coarse to fine, got/);
});
