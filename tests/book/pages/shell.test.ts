import assert from "node:assert/strict";
import { chaptersOf } from "../../../lib/book/pages/chapters.ts";
import { bookBar, plainBar, shell } from "../../../lib/book/pages/shell.ts";
import { safe, trusted } from "../../../lib/figures/html.ts";

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
  const chapters = chaptersOf(["04-measure-curve"]);
  const bar = bookBar(chapters, chapters[4]?.file).markup;
  assert.match(bar, /<a href="index\.html">First Mirror<\/a>/);
  assert.match(bar, /<a href="report\.html">/);
  assert.equal(bar.match(/aria-current="page"/g)?.length, 1);
  assert.match(plainBar(true).markup, /aria-current="page"/);
  assert.doesNotMatch(plainBar(false).markup, /aria-current/);
});
