import fc from "fast-check";
import assert from "node:assert/strict";
import { random } from "../../../lib/numeric/random.ts";
import { pitDepth } from "../../../lib/shaping/grinding/grade.ts";
import {
  polishedOut,
  polishPressure,
  polishRate,
  polishTime,
  usualEdgeShare,
} from "../../../lib/shaping/lap/polish.ts";

const work = { wearPerPa: 1e-12, loadKg: 3.25, aperture: 150, metrePerSecond: 0.2 };

Deno.test("pressure, rate and hours of a 150 mm mirror", () => {
  // DERIVED: 3.25 kg x 9.80665 / (pi 75^2 mm2); k p v x 3600 s. Tolerance 1e-3
  const near = (found: number, wanted: number): void =>
    assert.ok(Math.abs(found / wanted - 1) < 1e-3, `${found} beside ${wanted}`);
  near(polishPressure(3.25, 150), 1803.6);
  near(polishRate(work), 1.2986);
  near(polishTime({ pits: { least: 5, most: 5 }, rate: polishRate(work) }).centre.hours, 3.85);
});

Deno.test("half the load takes twice as long, and so does half the speed", () => {
  assert.ok(Math.abs(polishRate({ ...work, loadKg: 1.625 }) * 2 / polishRate(work) - 1) < 1e-12);
  assert.ok(
    Math.abs(polishRate({ ...work, metrePerSecond: 0.1 }) * 2 / polishRate(work) - 1) < 1e-12,
  );
});

Deno.test("the edge decides, and its range is as wide as a guessed rate makes it", () => {
  // DERIVED 3 um at twice the rate and 5 um at half of it lie outside 3.9 to 5.6 h; INVENTED rate
  const { centre, edge } = polishTime({ pits: { least: 3, most: 5 }, rate: 1.3 });
  assert.ok(edge.hours > centre.hours);
  assert.ok(Math.abs(centre.hours / edge.hours - usualEdgeShare) < 1e-12);
  assert.ok(edge.least < 3.9 && edge.most > 5.6);
  const known = polishTime({ pits: { least: 5, most: 5 }, rate: 1.3, rateFactor: 1.2 });
  assert.ok(known.edge.most - known.edge.least < 3);
});

Deno.test("laws: hours go with the pits and against the rate; the range holds the value", () => {
  const some = fc.double({ min: 0.1, max: 10, noNaN: true });
  fc.assert(fc.property(some, some, some, (a, b, rate) => {
    const pits = { least: Math.min(a, b), most: Math.max(a, b) };
    const { edge } = polishTime({ pits, rate });
    assert.ok(edge.least <= edge.hours && edge.hours <= edge.most);
    const twice = polishTime({ pits: { least: 2 * pits.least, most: 2 * pits.most }, rate });
    assert.ok(Math.abs(twice.edge.hours / edge.hours - 2) < 1e-9);
    const mean = (pits.least + pits.most) / 2;
    assert.ok(Math.abs(mean - rate * usualEdgeShare * edge.hours) < 1e-9);
  }));
});

Deno.test("a jump over F800 and F1200 costs hours", () => {
  const after = (ds50Um: number): number =>
    polishTime({ pits: pitDepth({ ds50Um }), rate: 1.3 }).edge.hours;
  assert.ok(after(12.8) > 4 * after(3));
});

Deno.test("what polishing cannot be reckoned from is refused", () => {
  assert.throws(() => polishRate({ ...work, loadKg: 0 }), /loadKg above 0, got loadKg=0/);
  assert.throws(() => polishPressure(1, Infinity), RangeError);
  assert.throws(() => polishTime({ pits: { least: 5, most: 3 }, rate: 1 }), /least <= most/);
  assert.throws(() => polishTime({ pits: { least: 1, most: 3 }, rate: 0 }), /rate above 0/);
  assert.throws(() => polishTime({ pits: { least: 1, most: 3 }, rate: 1, edgeShare: 0 }), /edge/);
});

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
