/** A reading far from its fellows is told, one a gauge's step away is not. */
import assert from "node:assert/strict";
import { MIRROR, RUNS, warned, ZONES } from "./bench.ts";

Deno.test("a reading far from its fellows: a dial one turn off, a tape misread, a knife", async () => {
  const legs = `${MIRROR}gauges: { spherometer: { leg_radius: 50 mm, ball_radius: 3 mm } }\n`;
  const found = await warned({
    "mirror.yaml": legs,
    "spherometer.csv":
      "surface,dial_mm\nflat,5.001\nflat,5.000\nflat,5.002\nflat,5.501\nmirror,5.522\n",
    "sun.csv": "distance_mm\n1199\n1194\n1203\n1297\n1196\n",
    "zones.csv": ZONES + RUNS + "4,0,30,1.02\n4,30,55,2.22\n4,55,74,1.53\n",
  });
  assert.deepEqual(found, [
    "spherometer.csv, line 5, column dial: 5.501 mm is far from the others, which lie about 5.0015 mm: read it again",
    "sun.csv, line 5, column distance: 1297 mm is far from the others, which lie about 1199 mm: read it again",
    "zones.csv, line 12, column reading: 2.22 mm is far from the others, which lie about 1.225 mm: read it again",
  ]);
});

Deno.test("readings of a gauge's step apart are never far, however many agree", async () => {
  const legs = `${MIRROR}gauges: { spherometer: { leg_radius: 50 mm, ball_radius: 3 mm } }\n`;
  const found = await warned({
    "mirror.yaml": legs,
    "spherometer.csv": `surface,dial_mm\n${"flat,5.000\n".repeat(8)}flat,5.002\nmirror,5.522\n`,
  });
  assert.deepEqual(found, []);
});

Deno.test("three readings are too few to call one of them far", async () => {
  assert.deepEqual(await warned({ "sun.csv": "distance_mm\n1199\n1198\n1297\n" }), []);
});

Deno.test("readings of other days and other minutes are not fellows", async () => {
  const rows =
    "after_min,go_mm,nogo_mm\n20,0.19,0.20\n40,0.37,0.38\n60,0.54,0.55\n80,0.71,0.73\n100,0.89,0.90\n";
  assert.deepEqual(await warned({ "sagitta.csv": rows }), []);
});

Deno.test("the image's diameter is laid beside its fellows too", async () => {
  const found = await warned({
    "sun.csv": "distance_mm,image_mm\n1199,11.1\n1199,11.0\n1198,11.2\n1200,14\n",
  });
  assert.deepEqual(found, [
    "sun.csv, line 5, column image: 14 mm is far from the others, which lie about 11.15 mm: read it again",
  ]);
});
