import assert from "node:assert/strict";
import fc from "fast-check";
import {
  damageDepth,
  gradeOf,
  pitDepth,
  removalAfter,
} from "../../../lib/shaping/grinding/grade.ts";
import { polishTime } from "../../../lib/shaping/lap/polish.ts";
import { grades, named } from "../abrasiveTable.ts";

Deno.test("every row of the table is found by its name, and stands in a scale of its own", () => {
  assert.equal(grades.length, 56);
  for (const grade of grades) {
    assert.equal(gradeOf(grade.name, grades), grade);
    assert.equal(gradeOf(` ${grade.name.toLowerCase()} `, grades), grade);
  }
});

Deno.test("F400 is not #400, and P400 is neither", () => {
  // READ the table's sources: ISO 8486-2 17.3 um, JIS R 6001:1987 30.0 um, coated papers about 35 um (from memory)
  assert.deepEqual(named("F400", "#400", "P400").map(({ ds50Um }) => ds50Um), [17.3, 30, 35]);
});

Deno.test("a number without its letter is refused, with what it could mean", () => {
  assert.throws(
    () => gradeOf("400", grades),
    /got "400"; F400 \(17.3 um\), #400 \(30 um\), P400 \(35 um\)/,
  );
  assert.throws(() => gradeOf("80", grades), /letter, got "80"; F80 \(185 um\)/);
  assert.throws(() => gradeOf("7", grades), /letter, got "7"; F, # or P is meant/);
  assert.throws(() => gradeOf("F81", grades), /known grade, got "F81"/);
  assert.throws(() => gradeOf("", grades), /known grade/);
});

Deno.test("pits, damage and removal grow with the grain, and damage reaches below the pits at its most", () => {
  fc.assert(fc.property(fc.double({ min: 1, max: 300, noNaN: true }), (ds50Um) => {
    const pit = pitDepth({ ds50Um }),
      damage = damageDepth({ ds50Um }),
      removal = removalAfter({ ds50Um });
    assert.ok(pit.least < pit.most && damage.least < damage.most && removal.least < removal.most);
    assert.ok(removal.least > pit.most, "half the grain takes off the pits");
    assert.ok(pitDepth({ ds50Um: 2 * ds50Um }).least > pit.least);
  }));
  // DERIVED 0.3 x 29.2^0.68 and 2 x 29.2^0.85
  const { least, most } = damageDepth({ ds50Um: 29.2 });
  assert.deepEqual([least.toFixed(2), most.toFixed(1)], ["2.98", "35.2"]);
  assert.throws(() => pitDepth({ ds50Um: 0 }), /above 0 and below 1000 um, got 0/);
  assert.throws(() => pitDepth({ ds50Um: 3, withinUm: 3.1 }), /tolerance of 0 to the grain of 3/);
  assert.throws(() => removalAfter({ ds50Um: NaN }), /got NaN/);
});

Deno.test("pits of a fine grade carry the doubt about its grain, and so do the hours of polishing after it", () => {
  // DERIVED F1200 of 3 ± 0.5 um: a quarter of 2.5, a third of 3.5; the grain's sixth is more than a third of a quarter to a third
  assert.deepEqual(pitDepth({ ds50Um: 3, withinUm: 0.5 }), { least: 0.625, most: 3.5 / 3 });
  const plain = polishTime({ pits: pitDepth({ ds50Um: 3 }), rate: 1.3 }).edge;
  const wide = polishTime({ pits: pitDepth({ ds50Um: 3, withinUm: 0.5 }), rate: 1.3 }).edge;
  // DERIVED both ends by a sixth of themselves
  assert.equal((wide.least / plain.least).toFixed(6), (5 / 6).toFixed(6));
  assert.equal((wide.most / plain.most).toFixed(6), (7 / 6).toFixed(6));
});

Deno.test("every micro grade of the table has a range, and its pits hold those of both ends", () => {
  const micro = grades.filter(({ scale, ds50Um }) => scale === "F" && ds50Um < 55);
  assert.ok(micro.length > 10);
  for (const grade of micro) {
    const { ds50Um, withinUm = 0 } = grade, pits = pitDepth(grade);
    assert.ok(withinUm > 0, grade.name);
    for (const end of [ds50Um - withinUm, ds50Um + withinUm]) {
      const { least, most } = pitDepth({ ds50Um: end });
      assert.ok(pits.least <= least && most <= pits.most, grade.name);
    }
  }
});
