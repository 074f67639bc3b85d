import assert from "node:assert/strict";
import { random } from "../../../lib/numeric/random.ts";
import { polishedOut } from "../../../lib/shaping/lap/polishOut.ts";

const rules = { fields: 5, deepestUm: 5 };
const clean = [0, 0, 0, 0, 0];

Deno.test("five empty fields at the edge end polishing, four do not", () => {
  assert.equal(polishedOut({ edge: clean }, rules).do, "test");
  const four = polishedOut({ edge: [0, 0, 0, 0] }, rules);
  assert.equal(four.do, "look more");
  assert.match(four.why, /4 of 5 fields/);
});

Deno.test("no pit seen is not no pit: at 95 % fewer than 0.6 to a field", () => {
  const most = polishedOut({ edge: clean }, rules).pitsPerFieldAtMost ?? NaN;
  // DERIVED: exp(-5 m) = 0.05
  assert.ok(Math.abs(most - Math.log(20) / 5) < 1e-12);
  const draw = random(3);
  let none = 0;
  for (let i = 0; i < 20000; i++) {
    let seen = 0;
    for (let field = 0; field < 5; field++) if (draw.uniform() > Math.exp(-most)) seen++;
    if (seen === 0) none++;
  }
  assert.ok(Math.abs(none / 20000 - 0.05) < 0.007, "so many pits hide in one look of twenty");
});

Deno.test("a count that falls goes on, one that stays sends to the press", () => {
  assert.equal(polishedOut({ edge: [4, 3, 5, 2, 4], before: [9, 8, 7, 9, 8] }, rules).do, "polish");
  assert.equal(polishedOut({ edge: [4, 3, 5, 2, 4], before: [4, 4, 4, 3, 4] }, rules).do, "press");
  assert.equal(polishedOut({ edge: [4, 3, 5, 2, 4] }, rules).do, "polish");
});

Deno.test("a pit too deep goes back to the last grade, whatever the counts do", () => {
  const look = { edge: [1, 0, 0, 0, 0], before: [9, 9, 9, 9, 9], deepestUm: 7 };
  assert.equal(polishedOut(look, rules).do, "back to the last grade");
  assert.equal(polishedOut({ ...look, deepestUm: 4 }, rules).do, "polish");
});

Deno.test("counts that are none are refused", () => {
  assert.throws(() => polishedOut({ edge: [0.5] }, rules), /whole counts/);
  assert.throws(() => polishedOut({ edge: clean, before: [-1] }, rules), /whole counts/);
});

Deno.test("one pit is one pit", () => {
  const rules = { fields: 5, deepestUm: 5 };
  assert.equal(polishedOut({ edge: [0, 0, 1, 0, 0] }, rules).why, "1 pit in 5 fields at the edge");
  assert.match(polishedOut({ edge: [1] }, rules).why, /1 pit so far$/);
});
