/** Figuring: when to stop, what is left to be read, and that what lies in the flat's shadow is not polished. */
import assert from "node:assert/strict";
import {
  decideFigure,
  foreseenAndFound,
  whatSessionsDid,
  yourSession,
} from "../../lib/stages/figure.ts";
import { reducedDays } from "../../lib/stages/zones.ts";
import { chosen, demo, empty, mirrorOf, shadowed } from "./mirrors.ts";

const late = demo.record.zones.filter(({ date }) => date === "2026-06-27");

Deno.test("the goal is shown: stop; along one diameter alone: stop, and read the others", () => {
  assert.equal(chosen(decideFigure(demo).html), "Stop");
  assert.match(decideFigure(demo).text, /^Decide: stop\. The goal is shown/);
  const zones = late.filter(({ angleDeg, knifeDeg }) => angleDeg === 0 && knifeDeg === 0);
  const { settings } = demo.record, goal = { ...settings.goal, scope: "whole surface" } as const;
  const one = mirrorOf({ ...demo.record, zones, settings: { ...settings, goal } });
  assert.equal(chosen(decideFigure(one).html), "Stop");
  assert.match(decideFigure(one).text, /along one diameter: leave the surface alone, and read the/);
  assert.match(yourSession(one, demo).text, /the one diameter that was read; read the others/);
  assert.equal(chosen(decideFigure(empty).html), "Measure");
});

Deno.test("a fault in the flat's shadow is said to be harmless, and not polished", () => {
  const decided = decideFigure(shadowed);
  assert.equal(chosen(decided.html), "Stop");
  assert.match(decided.text, /lies in the flat’s shadow/);
  const { text } = yourSession(shadowed, demo);
  assert.match(text, /Plan: none: the fault lies in the flat’s shadow.* harmless/);
  assert.doesNotMatch(text, /Strokes and minutes/);
});

Deno.test("a mirror that is not round goes back to even polishing", () => {
  // DERIVED: mm of knife for each nm of astigmatism at the judged rim, 2 R² / rho², moving lamp; INVENTED: 100 nm at 20 degrees
  const perNm = 2 * 2396.6 ** 2 * 1e-6 / 74 ** 2;
  const zones = late.map((row) => {
    const along = ((row.knifeDeg ?? 0) - (row.angleDeg ?? 0) - 20) * Math.PI / 90;
    return { ...row, reading: row.reading + 100 * perNm * Math.cos(along) };
  });
  const crooked = mirrorOf({ ...demo.record, zones });
  const told = reducedDays(crooked).at(-1)?.found.astigmatism;
  assert.ok(told !== undefined && Math.abs(told.amplitude.value - 100) < 3 * told.amplitude.u + 6);
  assert.equal(chosen(decideFigure(crooked).html), "Back to polishing");
  assert.match(decideFigure(crooked).text, /The mirror is not round/);
});

Deno.test("from session to session: surfaces by their days, with the minutes worked before", () => {
  const rows = whatSessionsDid(demo).text.split("\n").slice(2);
  assert.deepEqual(rows.map((row) => row.split(" | ").slice(0, 2)), [
    ["2026-06-12", ""],
    ["2026-06-19", "4 min"],
    ["2026-06-26 and 27", "6 min"],
  ]);
});

Deno.test("foreseen and found: where side and length are not in the log the bars say so; written, they are the log's", () => {
  const { text } = foreseenAndFound(demo, demo);
  assert.match(text, /session 1: from \d+ nm, foreseen \d+ to \d+, found \d+; session 2/);
  assert.match(text, /Side and length of the strokes are not in the log/);
  const { settings: { aperture } } = demo.record;
  const grinding = demo.record.grinding.map((row) => ({
    ...row,
    side: aperture / 4,
    length: aperture / 2,
  }));
  const written = foreseenAndFound(mirrorOf({ ...demo.record, grinding }), demo).text;
  assert.doesNotMatch(written, /not in the log/);
  assert.notEqual(written, text);
  assert.match(foreseenAndFound(empty, demo).text, /side_mm and length_mm/);
});
