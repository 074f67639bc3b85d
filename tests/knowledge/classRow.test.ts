import assert from "node:assert/strict";
import { openClass } from "../../lib/knowledge/classOfRecords.ts";
import { bevelSlip } from "../../lib/knowledge/classRow.ts";
import { kestrelLane } from "../record/classBench.ts";

const { rows } = await openClass(kestrelLane);
const bench = (number: number): NonNullable<typeof rows[number]> => {
  const row = rows[number - 1];
  if (row === undefined) throw new Error(`no bench ${number}`);
  return row;
};

Deno.test("who is done, who is too deep, who should measure what", () => {
  const numbers = (wanted: (row: typeof rows[number]) => boolean): number[] =>
    rows.flatMap((row, i) => wanted(row) ? [i + 1] : []);
  assert.deepEqual(numbers(({ done }) => done), [1]);
  assert.deepEqual(numbers(({ tooDeepUm }) => tooDeepUm !== undefined), [4, 9]);
  assert.deepEqual(numbers(({ measure }) => measure === "curve"), [4, 6, 11]);
  assert.deepEqual(numbers(({ measure }) => measure === "zones"), [12]);
  assert.deepEqual(numbers(({ meetsGoal }) => meetsGoal === "yes"), [1]);
  assert.deepEqual(numbers(({ probability = 1 }) => probability < 0.25), [5]);
  assert.equal(bench(5).stage, "figuring", "most likely out, and there is something to work on");
});

Deno.test("the depth against the wanted one, from the log while it is ground", () => {
  const { sagitta, targetSagitta, tooDeepUm = 0, minutesToTarget = 0 } = bench(4);
  // DERIVED: 75^2 / (4 x 1183) - 75^2 / (4 x 1200) = 0.0168 mm
  assert.ok(Math.abs(tooDeepUm - 16.8) < 1.5, `${tooDeepUm}`);
  assert.ok(Math.abs(1000 * ((sagitta?.value ?? 0) - targetSagitta) - tooDeepUm) < 0.2);
  assert.ok(minutesToTarget > 1 && minutesToTarget < 3);
});

Deno.test("the bevel is named by its ratio, between a method on the rim and one that is free of it", () => {
  const disc = { aperture: 150, bevel: 1 },
    at = (value: number): { value: number; u: number } => ({
      value,
      u: 3,
    });
  for (const free of ["sun distance", "spherometer"] as const) {
    assert.match(bevelSlip({ leaves: at(1229), [free]: at(1197) }, disc) ?? "", /bevel/);
  }
  assert.equal(bevelSlip({ leaves: at(1200), "sun distance": at(1197) }, disc), undefined);
  assert.equal(bevelSlip({ leaves: at(1197), "sun distance": at(1229) }, disc), undefined);
  assert.equal(bevelSlip({ leaves: at(1229) }, disc), undefined);
  assert.equal(bevelSlip({ "sun distance": at(1229), spherometer: at(1197) }, disc), undefined);
});
