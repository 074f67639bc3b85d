/** What the notebooks say of their live figures is what the figures show. */
import assert from "node:assert/strict";
import { notebookPaths } from "../../../lib/book/notebookPaths.ts";
import { readNotebook } from "../../../lib/book/notebook.ts";
import type { LiveFigure } from "../../../lib/figures/live/figure.ts";
import { liveFigure, liveFigures } from "../../../lib/figures/live/figures.ts";
import { foretell } from "../../../lib/figures/live/sagittaForecast.ts";
import { focalReading } from "../../../lib/figures/live/sagittaAndFocalLength.ts";
import { sphereStar } from "../../../lib/figures/live/sphereStar.ts";

const notebooks = await Promise.all((await notebookPaths()).map(readNotebook));
const shown = (name: string): RegExp => new RegExp(`show\\(live\\("${name}"`);

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
