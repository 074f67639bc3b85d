/** The looks through the cap: four of them, the last with everything on one middle. */
import assert from "node:assert/strict";
import { collimationView, LOOKS } from "../../../lib/figures/drawings/collimationView.ts";
import { assertFigure, type Part } from "../soundFigure.ts";

const centre = (circle: Part | undefined): [number, number] => [
  Number(circle?.getAttribute("cx")),
  Number(circle?.getAttribute("cy")),
];

Deno.test("each look is named, in the order of the work", () => {
  assertFigure(collimationView(), {
    titles: [/1 flat: shift it/, /2 flat: tilt it/, /3 mirror: tilt it/, /done/],
    says: /1 flat: shift it; 2 flat: tilt it; 3 mirror: tilt it; done/,
  });
});

Deno.test("what is right stays right: one circle more stands on the middle at each step", () => {
  const off = (look: (typeof LOOKS)[number]): boolean[] =>
    [look.flat, look.mirror, look.back].map(([x, y]) => x !== 0 || y !== 0);
  assert.deepEqual(LOOKS.map(off), [
    [true, true, true],
    [false, true, true],
    [false, false, true],
    [false, false, false],
  ]);
});

Deno.test("done means one middle for all six circles", () => {
  const done = LOOKS.slice(-1);
  for (const svg of assertFigure(collimationView(done), {})) {
    const circles = [...svg.querySelectorAll("circle")];
    assert.equal(circles.length, 6);
    for (const circle of circles) assert.deepEqual(centre(circle), centre(circles[0]));
  }
});

Deno.test("right and up on the sheet are right and up in the look", () => {
  const look = { name: "a", flat: [0.1, 0.2], mirror: [0, 0], back: [0, 0] } as const;
  const [svg] = assertFigure(collimationView([look]), {});
  const [tube, flat] = [...(svg?.querySelectorAll("circle") ?? [])];
  const [x0, y0] = centre(tube), [x1, y1] = centre(flat);
  assert.ok(x1 > x0 && y1 < y0);
});

Deno.test("refuses no look, and a flat outside the tube", () => {
  assert.throws(() => collimationView([]), RangeError);
  assert.throws(
    () => collimationView([{ name: "a", flat: [2, 0], mirror: [0, 0], back: [0, 0] }]),
    /shifts within 1/,
  );
});
