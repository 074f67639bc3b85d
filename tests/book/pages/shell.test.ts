import fc from "fast-check";
import assert from "node:assert/strict";
import { chaptersOf } from "../../../lib/book/pages/chapters.ts";
import { bookBar, edge, plainBar, printsAtFullSize, shell } from "../../../lib/book/pages/shell.ts";
import { safe, trusted } from "../../../lib/figures/html.ts";
import { stemOf } from "../../stems.ts";

const page = (main = safe`<p>1</p>`): string =>
  shell({ title: "A <b> & B", description: 'say "so"', header: safe``, main, footer: safe`` });

Deno.test("title and description are text, the language is told, the text can be skipped to", () => {
  const html = page();
  assert.match(html, /^<!doctype html>\n<html lang="en">/);
  assert.match(html, /<title>A &lt;b&gt; &amp; B<\/title>/);
  assert.match(html, /content="say &quot;so&quot;"/);
  assert.match(html, /<a class="skip" href="#text">[\s\S]*<main id="text">/);
});

Deno.test("style and script are inside, and the page's own policy lets nothing in from outside", () => {
  const html = page();
  assert.equal(html.match(/<style>/g)?.length, 1);
  assert.match(html, /default-src 'none'/);
  assert.doesNotMatch(html, /<link|<script src/);
});

Deno.test("a page has the scripts of what stands in it, each once", () => {
  const scripts = (html: string): number => html.match(/<script data-first-mirror>/g)?.length ?? 0;
  const live = '<figure class="live" data-live="x"></figure>',
    ask = '<section class="exercise"><form class="ask"></form></section>';
  assert.equal(scripts(page()), 0);
  assert.equal(scripts(page(trusted(live + live))), 1);
  assert.equal(scripts(page(trusted(live + ask + ask))), 2);
  assert.match(page(trusted(live)), /firstMirrorLive/);
  assert.match(page(trusted(ask)), /firstMirrorExercises/);
  assert.doesNotMatch(page(trusted(ask)), /firstMirrorLive/);
});

Deno.test("the style has the look's colours for daylight, dark and paper, each once, and no bracket is left open", () => {
  const style = /<style>([\s\S]*?)<\/style>/.exec(page())?.[1] ?? "";
  assert.match(style, /--glass: #0b5a78/);
  assert.match(style, /prefers-color-scheme: dark/);
  assert.match(style, /@media print/);
  assert.equal(style.split("{").length, style.split("}").length);
});

Deno.test("a drawing keeps its own label and loses those of its inner groups, unless a group has a role", () => {
  const drawing =
    '<svg role="img" aria-label="Finding"><g stroke="red" aria-label="rule"></g><g role="img" aria-label="kept"></g></svg>';
  const html = page(trusted(drawing));
  assert.match(
    html,
    /<svg role="img" aria-label="Finding"><g stroke="red"><\/g><g role="img" aria-label="kept">/,
  );
});

Deno.test("the bar leads home and to every page; on the front it says that it is home", () => {
  const chapters = chaptersOf([stemOf("measure-curve")]);
  const bar = bookBar(chapters, chapters[4]?.file).markup;
  assert.match(bar, /<a href="index\.html">First Mirror<\/a>/);
  assert.match(bar, /<a href="report\.html">/);
  assert.equal(bar.match(/aria-current="page"/g)?.length, 1);
  assert.match(bar, />Run all<\/button>/);
  assert.doesNotMatch(bookBar(chapters, "search.html").markup, /Run all/);
  assert.match(plainBar(true).markup, /aria-current="page"/);
  assert.doesNotMatch(plainBar(false).markup, /aria-current/);
});

const faceOf = (svg: string): number[] =>
  (/class="face" d="M0,([\d.]+)Q([\d.]+),([\d.]+) ([\d.]+),([\d.]+)"/.exec(svg) ?? []).slice(1).map(
    Number,
  );

Deno.test("the curve is as deep in the middle as it is said to be, and ends where the straight-edge lies", () => {
  fc.assert(fc.property(
    fc.double({ min: 60, max: 400, noNaN: true }),
    fc.double({ min: 0, max: 6, noNaN: true }),
    (aperture, depth) => {
      const [base = 0, , control = 0, across = 0, end] = faceOf(edge({ aperture, depth }).markup);
      // a quadratic curve passes half way between its chord and its control point
      assert.ok(Math.abs((control - base) / 2 - depth) < 0.002);
      assert.ok(Math.abs(across - aperture) < 0.001);
      assert.equal(end, base);
    },
  ));
});

Deno.test("the curve departs from the circle's arc by less than a thousandth of its depth at f/4", () => {
  // DERIVED: arc of a sphere, R = 1200 mm under a chord of 150 mm, depth below the chord at x
  const [radius, half] = [1200, 75];
  const depth = radius - Math.sqrt(radius ** 2 - half ** 2);
  for (let x = 0; x <= half; x += 5) {
    const circle = depth - (radius - Math.sqrt(radius ** 2 - x ** 2));
    const parabola = depth * (1 - (x / half) ** 2);
    assert.ok(Math.abs(circle - parabola) < depth / 1000, `at ${x} mm`);
  }
});

Deno.test("one tick a stage: the present one tall, those the record knows dark, the others light", () => {
  const { markup } = edge({
    aperture: 150,
    depth: 1,
    stages: 20,
    here: 5,
    done: new Set([1, 2, 5]),
  });
  const strokes = (kind: string): number =>
    new RegExp(`class="${kind}" d="(M[^H"]*)"`).exec(markup)?.[1]?.match(/M/g)?.length ?? 0;
  assert.deepEqual([strokes("here"), strokes("done"), strokes("steel")], [1, 2, 17]);
});

Deno.test("on paper the sign is as wide as the mirror, while the sheet has room", () => {
  assert.match(edge({ aperture: 114, depth: 1 }).markup, /--full-size: 114mm/);
  assert.match(edge({ aperture: 200, depth: 2 }).markup, /--full-size: 150mm/);
  assert.deepEqual([150, 174, 200].map(printsAtFullSize), [true, true, false]);
});

Deno.test("a curve that is none is refused", () => {
  for (
    const parts of [{ aperture: 0, depth: 1 }, { aperture: 150, depth: -1 }, {
      aperture: 150,
      depth: NaN,
    }]
  ) {
    assert.throws(() => edge(parts), /edge requires aperture above 0 and depth of 0 or more in mm/);
  }
});
