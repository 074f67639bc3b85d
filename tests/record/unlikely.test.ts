/** Each unlikely thing gets its warning, and what is usual gets none. */
import assert from "node:assert/strict";
import { read, RUNS, warned, ZONES } from "./bench.ts";

Deno.test("a usual record gets no warning", async () => {
  const files = {
    "grinding.csv": "abrasive,position,minutes\nF80,mirror on top,120\n",
    "sagitta.csv": "after_min,go_mm,nogo_mm\n20,0.19,0.20\n120,1.06,1.08\n",
    "zones.csv": ZONES + RUNS,
  };
  assert.deepEqual(await warned(files), []);
});

Deno.test("R given where f is meant: the mirror would be twice as long", async () => {
  assert.deepEqual(await warned({ "mirror.yaml": "aperture: 150 mm\nfocal_length: 2400 mm\n" }), [
    "mirror.yaml, line 2, column focal_length: f/16.0 is long for a Newtonian: is 2400 mm the radius of curvature? " +
    "The focal length is half of it, 1200 mm",
  ]);
});

Deno.test("a bowl too deep, a disc too thin, legs beyond the disc", async () => {
  const found = await warned({
    "mirror.yaml": "aperture: 150 mm\nfocal_length: 450 mm\nthickness: 10 mm\n" +
      "gauges:\n  spherometer: { leg_radius: 100 mm, ball_radius: 3 mm }\n",
  });
  assert.deepEqual(found, [
    "mirror.yaml, line 2, column focal_length: f/3.0 is very deep for a mirror made by hand: " +
    "is 450 mm the focal length, and 150 mm the diameter of the disc?",
    "mirror.yaml, line 3, column thickness: a disc of 150 mm by 10 mm is unusual: look at both numbers and their units",
    "mirror.yaml, line 5, column gauges.spherometer.leg_radius: legs on a circle of radius 100 mm do not stand on a " +
    "disc of 150 mm: is the circle's diameter given where its radius is meant?",
  ]);
});

Deno.test("a spherometer whose legs are not told", async () => {
  assert.deepEqual(await warned({ "spherometer.csv": "surface,dial_mm\nflat,5\nmirror,5.522\n" }), [
    "spherometer.csv: not used: mirror.yaml has no gauges.spherometer with leg_radius and ball_radius",
  ]);
});

Deno.test("a radius where the chord is meant, and a chord over the bevel", async () => {
  const rows = "go_mm,nogo_mm,chord_mm\n1.13,1.15,74\n1.13,1.15,150\n1.13,1.15,148\n";
  const found = await warned({ "sagitta.csv": rows });
  assert.deepEqual(found.slice(0, 2), [
    "sagitta.csv, line 2, column chord: 74 mm is half the disc: is a radius given where the whole chord is meant?",
    "sagitta.csv, line 3, column chord: 150 mm reaches over the bevel: between the bevels there are 148 mm",
  ]);
});

Deno.test("one run only is allowed, with the word that its scatter is assumed", async () => {
  const one = RUNS.split("\n").slice(0, 3).join("\n");
  assert.deepEqual(await warned({ "zones.csv": `${ZONES}${one}\n` }), [
    "zones.csv, line 2: one run only: how far readings scatter is assumed, not known; read at least three runs",
  ]);
});

Deno.test("one run on one of two days is told with its day", async () => {
  const dated = (day: string, text: string): string =>
    text.trim().split("\n").map((row) => `${row},${day}\n`).join("");
  const one = RUNS.split("\n").slice(0, 3).join("\n");
  const found = await warned({
    "zones.csv": "run,inner_mm,outer_mm,reading_mm,date\n" + dated("2026-06-12", RUNS) +
      dated("2026-06-19", one),
  });
  assert.deepEqual(found, [
    "zones.csv, line 11: one run only on 2026-06-19: how far readings scatter is assumed, not known; " +
    "read at least three runs",
  ]);
});

Deno.test("openings that stop short of the edge, and one read twice in a run", async () => {
  const found = await warned({ "zones.csv": `${ZONES}1,0,20,1.0\n2,0,20,1.0\n2,0,20,1.0\n` });
  assert.deepEqual(found, [
    "zones.csv, column outer: the outermost opening ends at 20 mm of 75 mm: nothing is known of the rest",
    'zones.csv, line 4, column run: run "2" has this opening twice: give each run its own name',
  ]);
});

Deno.test("clocks and calendars that run backwards, and minutes that were never ground", async () => {
  const found = await warned({
    "grinding.csv":
      "date,abrasive,position,minutes\n2026-03-28,F80,mirror on top,60\n2025-03-29,F80,mirror on top,60\n",
    "sagitta.csv": "after_min,go_mm,nogo_mm\n100,0.89,0.90\n60,0.54,0.55\n130,1.16,1.18\n",
  });
  assert.deepEqual(found, [
    "grinding.csv, line 3, column date: 2025-03-29 stands below 2026-03-28: is the year or month right?",
    "sagitta.csv, line 3, column after_min: 60 min stands below 100 min: grinding cannot be undone",
    "sagitta.csv, line 4, column after_min: 130 min, but the log in grinding.csv adds up to 120 min: " +
    "is a stretch missing there?",
  ]);
});

Deno.test("an opening over the bevel", async () => {
  const found = await warned({ "zones.csv": ZONES + RUNS.replaceAll(",74,", ",75,") });
  assert.deepEqual(found, [
    "zones.csv, line 4, column outer: 75 mm reaches over the bevel, where the face ends at 74 mm",
  ]);
});

Deno.test("a planned stroke that stands there twice on a day is told and kept; plain hours are not", async () => {
  const head = "date,abrasive,position,minutes,side_mm,length_mm\n";
  const stroke = "2026-06-01,rouge,tool on top,4,20,50\n";
  const files = {
    "grinding.csv": `${head}${stroke}2026-06-01,rouge,tool on top,4,30,50\n${stroke}`,
  };
  assert.deepEqual(await warned(files), [
    "grinding.csv, line 4: the same stroke as in line 2, on the same day: it is counted twice; take one out if it was done once",
  ]);
  assert.equal((await read(files)).grinding.length, 3);
  const plain = "2026-06-01,rouge,tool on top,60,,\n", next = stroke.replace("06-01", "06-02");
  assert.deepEqual(await warned({ "grinding.csv": head + plain + plain + stroke + next }), []);
});
