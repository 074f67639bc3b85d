/** What the notebooks say of their live figures is what the figures show. */
import assert from "node:assert/strict";
import { notebookPaths } from "../../notebooks/notebookPaths.ts";
import { readNotebook } from "../../../lib/book/notebook.ts";
import type { LiveFigure } from "../../../lib/figures/live/figure.ts";
import { liveFigure, liveFigures } from "../../../lib/figures/live/figures.ts";
import { foretell } from "../../../lib/figures/live/sagittaForecast.ts";
import { focalReading } from "../../../lib/figures/live/sagittaAndFocalLength.ts";
import { aligned } from "../../../lib/figures/live/collimationScrews.ts";
import { filmSeen } from "../../../lib/figures/live/filmThickness.ts";
import { flatPlan } from "../../../lib/figures/live/flatAndTube.ts";
import { planetView } from "../../../lib/figures/live/planetSeen.ts";
import { plumeNow } from "../../../lib/figures/live/warmPlume.ts";
import { drawsNow } from "../../../lib/figures/live/drawsAndMean.ts";
import { onPoints } from "../../../lib/figures/live/threePoints.ts";
import { pitsLeft } from "../../../lib/figures/live/pitsAndMinutes.ts";
import { polished } from "../../../lib/figures/live/centreFirst.ts";
import { pressedNow } from "../../../lib/figures/live/pitchPress.ts";
import { workedSurface } from "../../../lib/figures/live/strokeAndSurface.ts";
import { inOrder } from "../../../lib/figures/live/whoIsFirst.ts";
import { testerQueue } from "../../../lib/knowledge/testerQueue.ts";
import { sphereStar } from "../../../lib/figures/live/sphereStar.ts";

const notebooks = await Promise.all((await notebookPaths()).map(readNotebook));
/** Shown by the stage that lays the reader's own numbers into it. */
const byStage: Readonly<Record<string, string>> = { "section-by-finger": "yourSection" };
const shown = (name: string): RegExp =>
  new RegExp(`show\\((?:live\\("${name}"|${byStage[name] ?? "live"}\\(yours)`);

/** The prose just before and just after the cell that shows a figure. */
function around(name: string): { before: string; after: string } {
  for (const { cells } of notebooks) {
    const at = cells.findIndex(({ source }) => shown(name).test(source));
    if (at > 0) return { before: cells[at - 1]?.source ?? "", after: cells[at + 1]?.source ?? "" };
  }
  throw new Error(`no notebook shows ${name}`);
}

const valueAt = (figure: LiveFigure, changes: Record<string, number>): number =>
  figure.value({ ...figure.start, ...changes });

Deno.test("every live figure stands in a notebook, after a question", () => {
  for (const { name } of liveFigures) {
    assert.match(around(name).before, /Guess|Ask yourself|\?|Watch how/, name);
    assert.ok(around(name).after.length > 20, `${name}: something after it`);
  }
});

Deno.test("the lens: twice as long, and the patch stays as wide", () => {
  const lens = liveFigure("lens-or-mirror");
  assert.match(around(lens.name).after, /the patch stays as wide as it was/);
  const ratio = valueAt(lens, { focal: 2400 }) / valueAt(lens, { focal: 1200 });
  assert.ok(Math.abs(ratio - 1) < 0.001);
});

Deno.test("the sphere of 200 mm f/6: 0.82 wave, and a tenth of the brightness", () => {
  const sphere = liveFigure("sphere-or-paraboloid"), fast = { aperture: 200, focal: 1200 };
  assert.match(
    around(sphere.name).after,
    /0\.82 wave, three times[\s\S]*a tenth of the brightness/,
  );
  assert.equal(valueAt(sphere, fast).toFixed(2), "0.82");
  assert.ok(Math.abs(valueAt(sphere, fast) / valueAt(sphere, {}) - 3) < 0.3);
  assert.equal(sphereStar({ ...sphere.start, ...fast }).strehl.toFixed(1), "0.1");
});

Deno.test("leaves: a step is 10 mm of focal length, a bevel of 2 mm forgotten 65", () => {
  const { start, name } = liveFigure("sagitta-and-focal-length");
  assert.match(around(name).after, /10 mm of focal length.*are 65 mm: six steps and a half/);
  const { focal, forgotten, u } = focalReading({ ...start, bevel: 2 });
  assert.equal(Math.round(forgotten - focal), 65);
  assert.equal(Math.round(u), 10);
});

Deno.test("forecast: with the first minutes in, all nine logs early, and seven bars miss the truth", () => {
  const { start, name } = liveFigure("sagitta-forecast");
  assert.match(around(name).after, /early, in all nine logs, and in seven of them/);
  const told = Array.from({ length: 9 }, (_, i) => foretell({ ...start, early: 1, log: i + 1 }));
  assert.equal(told.filter(({ stop, truth }) => stop < truth).length, 9);
  const missed = told.filter(({ interval, truth }) =>
    interval === undefined || truth < interval[0] || truth > interval[1]
  );
  assert.equal(missed.length, 7);
});

Deno.test("knife: nine runs of a paraboloid between −0.94 and −1.09, a turned edge alone −1.61", () => {
  const knife = liveFigure("knife-shadow");
  assert.match(around(knife.name).after, /between −0\.94 and −1\.09[\s\S]*K says −1\.61/);
  const runs = Array.from({ length: 9 }, (_, i) => valueAt(knife, { run: i + 1 }));
  assert.deepEqual([Math.min(...runs).toFixed(2), Math.max(...runs).toFixed(2)], [
    "-1.09",
    "-0.94",
  ]);
  assert.equal(valueAt(knife, { noise: 0, edge: 80 }).toFixed(2), "-1.61");
});

Deno.test("the bent glass: the ring costs nearly a quarter, centre and edge one part in fifteen or so", () => {
  const bent = liveFigure("bend-the-glass"), flat = { centre: 0, inner: 0, outer: 0, edge: 0 };
  assert.match(around(bent.name).after, /ring at 0\.75 costs nearly a quarter/);
  const cost = (key: string): number => 1 - valueAt(bent, { ...flat, [key]: -60 });
  assert.ok(cost("outer") > 0.21 && cost("outer") < 0.25);
  for (const key of ["centre", "edge"]) assert.ok(cost(key) > 1 / 20 && cost(key) < 1 / 13, key);
  assert.ok(cost("inner") < cost("outer"));
});

Deno.test("bands: straight ones cost a star 0.26 wave, an edge of 100 nm 0.32", () => {
  const bands = liveFigure("ronchi-bands");
  assert.match(around(bands.name).after, /cost a star 0\.26 wave[\s\S]*by 100 nm[\s\S]*0\.32 wave/);
  assert.equal(valueAt(bands, {}).toFixed(2), "0.26");
  assert.equal(valueAt(bands, { conic: -1 }).toFixed(3), "0.000");
  assert.equal(valueAt(bands, { conic: -1, edge: 100 }).toFixed(2), "0.32");
});

Deno.test("warm air: after two hours 0.57 mm at the knife, six hundredths at the bands, three hours to go", () => {
  const { name, start } = liveFigure("warm-plume");
  assert.match(
    around(name).after,
    /two hours[\s\S]*six hundredths[\s\S]*0\.57 mm, nine times[\s\S]*three hours/,
  );
  const { reading, bands, wait } = plumeNow({ ...start, minutes: 120 });
  assert.deepEqual([reading.toFixed(2), bands.toFixed(2), Math.floor(wait / 60)], [
    "0.57",
    "0.06",
    3,
  ]);
  assert.equal(Math.round(reading / 0.06), 9);
});

Deno.test("the lamp: half as bright 8 nm too much, half as bright again 5 too little", () => {
  const { name, start } = liveFigure("film-thickness");
  assert.match(around(name).after, /8 nm too much, or 5 too little/);
  for (const thickness of [50, 100]) {
    const off = [-50, 50].map((misread) =>
      filmSeen({ ...start, thickness, misread }).told - thickness
    );
    assert.deepEqual(off.map(Math.round), [8, -5]);
  }
});

Deno.test("the flat: 59 % at the edge, none fully lit at 22 mm, 8.6 mm with a low focuser", () => {
  const { name, start } = liveFigure("flat-and-tube");
  assert.match(
    around(name).after,
    /edge 59 %[\s\S]*At 22 mm the middle is cut[\s\S]*to 30 mm: 8\.6 mm/,
  );
  const plan = flatPlan(start);
  assert.ok(plan.fullyLit > 0);
  assert.equal(plan.illuminationAtStop.toFixed(2), "0.59");
  assert.ok(flatPlan({ ...start, flat: 22 }).fullyLit < 0);
  assert.equal(flatPlan({ ...start, height: 30 }).fullyLit.toFixed(1), "8.6");
});

Deno.test("the screws: the three turns bring the star in, f/4 has four times the coma", () => {
  const { name, start } = liveFigure("collimation-screws");
  assert.match(
    around(name).after,
    /−0\.05, −0\.04 and \+0\.09[\s\S]*four times[\s\S]*0\.094 wave, no longer/,
  );
  const { star } = aligned({ ...start, a: -0.05, b: -0.04, c: 0.09 });
  assert.ok(Math.hypot(star.x, star.y) < 0.01);
  const fast = aligned({ ...start, focal: 600 }), slow = aligned(start);
  assert.ok(Math.abs(fast.coma.wavefrontRms / slow.coma.wavefrontRms - 4) < 0.01);
  assert.equal((fast.coma.wavefrontRms / 550).toFixed(3), "0.094");
  assert.ok(fast.axis > fast.allowed);
});

Deno.test("the planet: detail from 2.8 to 1.6, then from 1.4 to 1.3; no gap in bad air", () => {
  const { name, start } = liveFigure("planet-seen");
  assert.match(around(name).after, /from 2\.8″ to 1\.6″[\s\S]*from 1\.4″ to 1\.3″/);
  const views = [25, 10, 6, 4].map((eyepiece) => planetView({ ...start, eyepiece }));
  assert.deepEqual(views.map(({ finest }) => finest.toFixed(1)), ["2.8", "1.6", "1.4", "1.3"]);
  for (const eyepiece of [25, 10, 6, 4]) {
    assert.ok(planetView({ ...start, eyepiece, seeing: 3 }).gap < 0.02);
  }
});

Deno.test("the draws: 24 readings halve the u of 6; off by 3 mm, 6 hold the truth and 24 do not", () => {
  const { name, start } = liveFigure("draws-and-mean");
  assert.match(around(name).before, /a \$u\$ of 1\.7 mm/);
  assert.match(around(name).after, /About twenty-four[\s\S]*by the same 3 mm[\s\S]*twenty-four/);
  const u = (count: number): number => drawsNow({ ...start, count }).u;
  assert.equal(u(6).toFixed(1), "1.7");
  assert.ok(u(24) / u(6) > 0.45 && u(24) / u(6) < 0.55);
  assert.ok(
    drawsNow({ ...start, off: 3 }).holds && !drawsNow({ ...start, off: 3, count: 24 }).holds,
  );
});

Deno.test("the pits: 21 minutes to the floor, 32 to half the grain; without F120 54, both grades 29 and 32", () => {
  const { name, start } = liveFigure("pits-and-minutes");
  assert.match(around(name).after, /21 minutes[\s\S]*32,[\s\S]*54 minutes[\s\S]*29 and 32/);
  const now = pitsLeft(start), alone = pitsLeft({ ...start, skipped: 1 });
  const first = pitsLeft({ ...start, grade: 1 });
  assert.deepEqual(
    [now.toFloor, now.minutes.least, alone.minutes.least, first.minutes.least].map(Math.round),
    [21, 32, 54, 29],
  );
  // half as large a grain: F220 against F120
  assert.ok(Math.abs(first.perMinute / now.perMinute - 2) < 0.15);
});

Deno.test("the pitch: 5 minutes at 20 degrees, 17 at 16, 8 there with twice the load", () => {
  const { name, start } = liveFigure("pitch-press");
  assert.match(around(name).after, /17 minutes, three times[\s\S]*6 kg, halves it to 8/);
  const minutes = (changes: Record<string, number>): number =>
    Math.round(pressedNow({ ...start, ...changes }).pressing.minutes);
  assert.deepEqual(
    [minutes({}), minutes({ temperature: 16 }), minutes({ temperature: 16, load: 6 })],
    [5, 17, 8],
  );
});

Deno.test("the rim: 1.7 times the middle's hours, 1.4 half and half, 1.2 with the lap on top; aside one and seventeen", () => {
  const { name, start } = liveFigure("centre-first");
  assert.match(around(name).after, /1\.7 times[\s\S]*sooner still[\s\S]*an hour[\s\S]*seventeen/);
  const ratios = [0, 50, 100].map((lapUp) => {
    const { middle, rim } = polished({ ...start, lapUp });
    return (rim / middle).toFixed(1);
  });
  assert.deepEqual(ratios, ["1.7", "1.4", "1.2"]);
  const aside = polished({ ...start, travel: 50, side: 25 });
  assert.deepEqual([Math.round(aside.middle), Math.round(aside.rim)], [1, 17]);
});

Deno.test("the stroke: best after two minutes, worse after five; far aside 0.10; over the centre worse at once", () => {
  const { name, start } = liveFigure("stroke-and-surface");
  assert.match(
    around(name).after,
    /two minutes it is at its best, 0\.15[\s\S]*after five[\s\S]*0\.10/,
  );
  const pv = (stroke: number, minutes: number): number =>
    workedSurface({ ...start, stroke, minutes }).pv;
  const tenths = Array.from({ length: 81 }, (_, i) => i / 10);
  const best = (stroke: number): number =>
    tenths.reduce((a, b) => pv(stroke, b) < pv(stroke, a) ? b : a);
  assert.ok(Math.abs(best(1) - 2) < 0.15);
  assert.deepEqual([pv(1, best(1)).toFixed(2), pv(2, best(2)).toFixed(2)], ["0.15", "0.10"]);
  assert.ok(pv(1, 5) > pv(1, 0) && pv(2, best(2) + 1) > pv(2, 0), "a minute too many");
  assert.equal(best(0), 0);
});

Deno.test("the points: at 0.5 half as much again as at 0.65; 250 mm costs 0.039 wave on three", () => {
  const { name, start } = liveFigure("three-points");
  assert.match(around(name).after, /Half as much again[\s\S]*0\.039 wave, twice what is allowed/);
  const at = (place: number): number => onPoints({ ...start, place }).rms;
  assert.equal((at(50) / at(65)).toFixed(1), "1.5");
  const wide = (points: number): number =>
    onPoints({ ...start, place: 65, aperture: 250, points }).waves;
  assert.equal(wide(0).toFixed(3), "0.039");
  assert.ok(wide(1) < 0.02);
});

Deno.test("the class: two of six wait 70 minutes, 0.4 with a second tester; bench 1 goes before the pitch", () => {
  const { name, start } = liveFigure("who-is-first");
  assert.match(around(name).after, /two of six, each for 70 minutes[\s\S]*0\.4[\s\S]*10 minutes/);
  const room = { mirrors: 6, testers: 1, testMin: 30, awayMin: 90 };
  const one = testerQueue(room), two = testerQueue({ ...room, testers: 2 });
  assert.deepEqual([Math.round(one.waiting), Math.round(one.waitMin)], [2, 70]);
  assert.deepEqual([two.waiting.toFixed(1), Math.round(two.waitMin)], ["0.4", 10]);
  assert.ok(testerQueue({ ...room, testMin: 15 }).waiting < 0.45 * one.waiting);
  assert.deepEqual([inOrder(start)[0]?.bench, inOrder({ ...start, minutes: 9 })[0]?.bench], [3, 1]);
});
