import assert from "node:assert/strict";
import { course } from "../../lib/lessons/course.ts";
import { yourPath } from "../../lib/stages/path.ts";
import { demo, empty, halfway } from "./mirrors.ts";

Deno.test("the path names every stage of a mirror's making, once", () => {
  const { text } = yourPath(demo);
  for (const { title } of course.slice(1, -1)) assert.ok(text.includes(title), title);
});

Deno.test("the finished mirror's path carries its numbers", () => {
  const { text } = yourPath(demo);
  // DERIVED: minutes of F80, of F120 to F1200, and of the oxide, added up from grinding.csv by hand
  const parts = ["150 mm f/8", "134 min", "2396.6", "204 min", "370 min", "verdict: yes"];
  for (const part of parts) assert.ok(text.includes(part), `${part} in ${text}`);
});

Deno.test("the path is filled as far as the record goes", () => {
  assert.match(yourPath(halfway).text, /200 mm f\/6/);
  assert.match(yourPath(halfway).text, /235 min/);
  assert.doesNotMatch(yourPath(halfway).text, /verdict: /);
  const bare = yourPath(empty).text;
  assert.match(bare, /130 mm f\/7/);
  assert.doesNotMatch(bare, /\d min|verdict: /);
});

Deno.test("each mirror stands at the stage its next step names", () => {
  const here = (mirror: typeof demo): RegExpMatchArray | null =>
    yourPath(mirror).html.match(/class="[^"]*\bhere\b[^"]*"/g);
  for (const mirror of [demo, halfway, empty]) {
    assert.equal(here(mirror)?.length, 1, mirror.record.name);
  }
});
