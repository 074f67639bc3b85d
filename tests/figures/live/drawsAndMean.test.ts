import assert from "node:assert/strict";
import { drawsAndMean, drawsNow, truth } from "../../../lib/figures/live/drawsAndMean.ts";

const { start } = drawsAndMean;

Deno.test("the first readings stay the same when more are taken, and the mean is theirs", () => {
  const few = drawsNow({ ...start, count: 7 }), many = drawsNow({ ...start, count: 50 });
  assert.deepEqual(many.readings.slice(0, 7), few.readings);
  // DERIVED: the mean and s by their definitions
  const mean = few.readings.reduce((a, b) => a + b, 0) / 7;
  const s = Math.sqrt(few.readings.reduce((a, b) => a + (b - mean) ** 2, 0) / 6);
  assert.ok(Math.abs(few.mean - mean) < 1e-9 && Math.abs(few.s - s) < 1e-9);
  assert.ok(Math.abs(few.u - s / Math.sqrt(7)) < 1e-9);
});

Deno.test("each distribution has the spread that the slider says, about the truth", () => {
  for (const shape of [0, 1, 2]) {
    const all = Array.from(
      { length: 200 },
      (_, draw) => drawsNow({ ...start, shape, count: 100, width: 4, draw }).readings,
    ).flat();
    const mean = all.reduce((a, b) => a + b, 0) / all.length;
    const s = Math.sqrt(all.reduce((a, b) => a + (b - mean) ** 2, 0) / all.length);
    // DERIVED: the mean of 20 000 draws of spread 4 has a standard error of 0.028; four of them
    assert.ok(Math.abs(mean - truth) < 0.12, `${shape}: ${mean}`);
    assert.ok(Math.abs(s - 4) < 0.15, `${shape}: ${s}`);
  }
});

Deno.test("95 % of intervals hold the truth with a bell and any number, none where all are far off alike", () => {
  for (const count of [3, 10]) {
    const held = Array.from({ length: 1000 }, (_, draw) => drawsNow({ ...start, count, draw }));
    const share = held.filter(({ holds }) => holds).length / 1000;
    // DERIVED: Student's t gives 0.95 exactly; the share of 1000 scatters by 0.0069; four of them
    assert.ok(Math.abs(share - 0.95) < 0.028, `${count}: ${share}`);
  }
  const off = Array.from(
    { length: 100 },
    (_, draw) => drawsNow({ ...start, count: 100, off: 5, draw }),
  );
  assert.equal(off.filter(({ holds }) => holds).length, 0);
  assert.match(drawsAndMean.reading({ ...start, count: 100, off: 5 }).markup, /same each time/);
});
