/** The seesaw: boxes in their places, as large as they are heavy, none over another; the pivot where it balances. */
import assert from "node:assert/strict";
import { seesaw } from "../../../lib/figures/drawings/seesaw.ts";
import { assertFigure, type Part } from "../soundFigure.ts";
import { PARTS, SWAP } from "../telescopeSamples.ts";

const of = (part: Part, name: string): number => Number(part.getAttribute(name));
const boxesOf = (svg: Part): Part[] =>
  [...svg.querySelectorAll("rect.zone-b")].filter((box) => of(box, "width") === of(box, "height"));

Deno.test("it names parts, pivot, both sides, and what the swap does", () => {
  // DERIVED: 6.65 kg, 524.2 mm; front side 3.2 x 75.75 + .95 x 570.75 + .4 x 475.75 = 974.9 kg mm x g = 9.56 N m
  assertFigure(seesaw(PARTS, SWAP), {
    titles: [/1 mirror and cell: 2\.10 kg at 60/, /pivot, 524 mm/, /rear 9\.6 N m/, /\+0\.30 kg/],
    says: /balances 524 mm.*9\.6 N m.*pulls 1\.58 N m, friction holds 1\.07 N m: the tube lets go/,
  });
  assert.match(seesaw(PARTS, { ...SWAP, friction: 1.79 }).text, /the tube stays/);
  assert.doesNotMatch(seesaw(PARTS).text, /friction/);
});

Deno.test("area by mass, place by place, no box over another, pivot where the boxes balance", () => {
  for (const svg of assertFigure(seesaw(PARTS), {})) {
    const boxes = boxesOf(svg),
      sized = boxes.map((box) => ({
        left: of(box, "x"),
        top: of(box, "y"),
        size: of(box, "width"),
      }));
    assert.equal(sized.length, PARTS.length);
    const [heavy, second] = sized; // drawn from the heaviest on
    // DERIVED: 3.2 and 2.1 kg
    assert.ok(Math.abs(((heavy?.size ?? 0) / (second?.size ?? 1)) ** 2 - 3.2 / 2.1) < 0.02);
    sized.forEach((a, i) =>
      sized.slice(i + 1).forEach((b) => {
        const apart = a.left + a.size <= b.left + 0.2 || b.left + b.size <= a.left + 0.2 ||
          a.top + a.size <= b.top + 0.2 || b.top + b.size <= a.top + 0.2;
        assert.ok(apart, `${JSON.stringify(a)} over ${JSON.stringify(b)}`);
      })
    );
    const middle = (box?: { left: number; size: number }): number =>
      (box?.left ?? 0) + (box?.size ?? 0) / 2;
    const k = (middle(heavy) - middle(second)) / (600 - 60);
    const pivot = middle(second) + (524.248 - 60) * k;
    const said = [...svg.querySelectorAll("text")].find((text) => /pivot/.test(text.textContent));
    assert.ok(Math.abs(Number(said?.getAttribute("x")) - pivot) < 0.3);
  }
});

Deno.test("one part balances on itself; what has no mass or a moment below zero is refused", () => {
  assert.match(seesaw([{ name: "all", mass: 1000, at: 400 }]).text, /balances 400 mm.*0\.0 N m/);
  assert.throws(() => seesaw([]), /balance requires parts/);
  assert.throws(() => seesaw(PARTS, { ...SWAP, pull: -1 }), /moments and mass of 0 or more/);
});
