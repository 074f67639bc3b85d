/** Stages of fine grinding, lap, polishing and figuring, for readers at every state. */
import assert from "node:assert/strict";
import {
  curveByShare,
  decideSmooth,
  whatGradesLeave,
  yourLadder,
} from "../../lib/stages/smooth.ts";
import { decideLap, lapDrawn, sinkingByTemperature, yourLap } from "../../lib/stages/lap.ts";
import {
  decidePolish,
  hoursByLastGrade,
  hoursForPits,
  yourHours,
} from "../../lib/stages/polish.ts";
import {
  caseThatFails,
  decideFigure,
  faultsAndRemedies,
  planOn,
  whatSessionsDid,
  whereStrokesTake,
  yourSession,
} from "../../lib/stages/figure.ts";
import { usualLap } from "../../lib/shaping/lap/lap.ts";
import { fullLapStrokes } from "../../lib/shaping/figuring/figuringStrokes.ts";
import { demo, empty, halfway, hostile, marks, mirrorOf } from "./mirrors.ts";

Deno.test("whose numbers: the reader's own where there are any, else how to get them and the demo's", () => {
  for (const show of [yourLadder, yourHours, yourSession]) {
    assert.equal(marks(show(demo, demo)), "y");
    for (const yours of [halfway, empty]) assert.equal(marks(show(yours, demo)), "nd");
  }
  for (const yours of [demo, halfway, empty]) assert.equal(marks(yourLap(yours)), "y");
});

Deno.test("the demo's ladder: minutes by grade, 55 in a hundred on top", () => {
  const { text } = yourLadder(demo, demo);
  // INVENTED minutes of the demo's log: 29 32 34 39 33 37
  for (const [grade, minutes] of [["F120", 29], ["F220", 32], ["F320", 34], ["F500", 39]]) {
    assert.match(text, new RegExp(`${grade} \\| ${minutes} \\| 5[4-6] %`));
  }
  assert.match(whatGradesLeave(150).text, /F220 → F320 \| 14.5 to 19.3 \| 5 to 63 \| 29 to 58/);
  assert.match(curveByShare(1.128, 150, [1, 0.5]).text, /100 % \| 44.5 \| 2399[\s\S]*50 % \| 0.0/);
});

Deno.test("the lap of 150 mm: 124 cm3, 136 g, 64 %; a pitch ten times thinner for eight degrees", () => {
  // DERIVED pi x 7.5^2 x 0.7 cm = 123.7 cm3, x 1.1 g = 136 g; (20/25)^2 = 64 %; the tenfold is COMMON PRACTICE
  const { text } = yourLap(demo);
  assert.match(text, /124\s?cm³, 136\s?g/);
  assert.match(text, /Touches: 64 %/);
  assert.match(sinkingByTemperature(usualLap(150), 3.25, [20, 28]).text, /20 \| 3.0\n28 \| 30.4/);
  const centred = lapDrawn({ ...usualLap(150), offset: [0, 0] }, "Centred.").text;
  assert.match(centred, /0 to 8 mm, 11 % less/);
});

Deno.test("the hours of the demo's log, and the edge after the centre", () => {
  // INVENTED log; DERIVED 5 um at 1.3 um/h: 3.8 h, at 0.9 um/h: 5.6 h, half and twice of it
  const { text } = yourHours(demo, demo);
  assert.match(text, /2026-05-30 \| 6.0 \| no pit in ten fields at the edge/);
  assert.doesNotMatch(text, /session 1/, "figuring is no polishing out");
  const hours = hoursForPits({ least: 5, most: 5 }, 1.3, 0.9 / 1.3, "The edge.").text;
  assert.match(hours, /centre after 3.8 h, edge after 5.6 h \(2.8 to 11.1\)/);
  // DERIVED 11.8 / 4 and 13.8 / 3 um, F500 being 12.8 ± 1
  assert.match(hoursByLastGrade(1.3, ["F500"]).text, /F500 \| 3.0 to 4.6/);
});

Deno.test("a plan stops where the goal is shown, and plans a short session where it is not", () => {
  assert.match(yourSession(demo, demo).text, /none: the goal is shown/);
  const first = planOn(demo, 0).text;
  assert.match(first, /Chance of the goal then: (0\.\d\d|1\.00)/);
  const minutes = [...first.matchAll(/long \| ([\d.]+) \| [\d.]+/g)];
  const sum = minutes.reduce((total, [, text]) => total + Number(text), 0);
  assert.ok(sum > 0 && sum <= 5, `${sum}`);
  assert.throws(() => planOn(empty, 0), /planOn requires a day of readings/);
  assert.match(whatSessionsDid(demo).text, /2026-06-19 \| 4 min/);
  assert.match(first, /Faults by name[^\n]*: none above twice/);
  const outer = Math.max(...demo.record.zones.map((row) => row.outer));
  const turned = demo.record.zones.map((row) =>
    row.outer === outer ? { ...row, reading: row.reading + 0.8 } : row
  );
  const edge = planOn(mirrorOf({ ...demo.record, zones: turned }), -1).text;
  assert.match(edge, /Faults by name[^\n]*: turned-down edge at \d+ mm/);
});

Deno.test("tables of strokes and faults; a hurried plan is worse than half of it", () => {
  const rows = whereStrokesTake(fullLapStrokes).text.split("\n");
  assert.equal(rows.length, fullLapStrokes.length + 2);
  assert.match(faultsAndRemedies().text, /astigmatism \| Turns forgotten/);
  const left = [...caseThatFails(150, 1.6).text.matchAll(/\| (\d+)$/gm)].map(([, v]) => Number(v));
  const [nothing = 0, whole = 0, hurried = 0, half = 0] = left;
  assert.ok(whole < nothing && hurried > whole && half < hurried, left.join(" "));
});

Deno.test("decisions follow the record", () => {
  assert.match(decideSmooth(halfway).text, /Decide: the right depth first/);
  assert.match(decideSmooth(demo).text, /Decide: pour the lap/);
  const onLadder = mirrorOf({
    ...demo.record,
    zones: [],
    grinding: demo.record.grinding.filter(({ abrasive }) => ["F80", "F120"].includes(abrasive)),
  });
  assert.match(decideSmooth(onLadder).text, /then F220/);
  assert.match(decideLap(onLadder).text, /finish the ladder first/);
  assert.match(decideLap(demo).text, /Press 10 minutes/);
  assert.match(decidePolish(empty).text, /the ladder and the lap first/);
  const polishing = mirrorOf({ ...demo.record, zones: [], ronchi: [] });
  assert.match(decidePolish(polishing).text, /look at the edge/);
  assert.match(decidePolish(demo).text, /Decide: test/);
  // zones alone, photographs alone, and as many of one as of the other: each is a test
  const { zones, ronchi } = demo.record, [zone] = zones, [photo] = ronchi;
  assert.ok(zone !== undefined && photo !== undefined);
  for (
    const tests of [{ zones, ronchi: [] }, { zones: [], ronchi }, {
      zones: [zone],
      ronchi: [photo],
    }]
  ) {
    assert.match(
      decidePolish({ ...demo, record: { ...demo.record, ...tests } }).text,
      /Decide: test/,
    );
  }
  assert.match(decideFigure(demo).text, /Decide: stop/);
  assert.match(decideFigure(empty).text, /Decide: measure first/);
  const june = demo.record.zones.filter(({ date }) => date === "2026-06-12");
  assert.match(decideFigure(mirrorOf({ ...demo.record, zones: june })).text, /Decide: one session/);
});

Deno.test("words of a record are escaped", () => {
  for (const shown of [yourLadder(hostile, demo), yourHours(hostile, demo), yourLap(hostile)]) {
    assert.ok(!shown.html.includes("<img src=x") && !shown.html.includes("<script>alert"));
  }
});
