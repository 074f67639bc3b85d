import assert from "node:assert/strict";
import { parseHTML } from "linkedom";
import { exerciseBlock } from "../../lib/lessons/block.ts";
import type { NumberExercise } from "../../lib/lessons/exercise.ts";
import { exercises } from "../../lib/lessons/exercises.ts";
import { pageScript } from "../../lib/lessons/grader.ts";

// linkedom's types name the DOM's; only these few members are used here.
interface Node {
  querySelector(selector: string): Node | null;
  querySelectorAll(selector: string): Iterable<Node>;
  getAttribute(name: string): string | null;
  readonly textContent: string;
}
function page(html: string): Node {
  return (parseHTML(`<html><body>${html}</body></html>`) as unknown as { document: Node }).document;
}

Deno.test("every exercise becomes one well-formed block with a form, hints, an answer and a paper line", () => {
  for (const each of exercises) {
    const document = page(exerciseBlock(each).html);
    const section = document.querySelector("section.exercise");
    assert.equal(section?.getAttribute("id"), `exercise-${each.id}`);
    assert.equal([...document.querySelectorAll("section")].length, 1);
    assert.equal([...document.querySelectorAll("details.fold")].length, 3);
    assert.ok(document.querySelector("form.ask.js-only button[type=submit]") !== null);
    assert.ok(document.querySelector(".paper-only") !== null);
    assert.equal(document.querySelector("p.result")?.getAttribute("role"), "status");
    const fields = [...document.querySelectorAll("label input[name=answer]")];
    assert.equal(fields.length, "choices" in each ? each.choices.length : 1);
  }
});

Deno.test("the data in the block is the exercise", () => {
  for (const each of exercises) {
    const data = page(exerciseBlock(each).html).querySelector('script[type="application/json"]');
    assert.deepEqual(JSON.parse(data?.textContent ?? ""), each);
  }
});

Deno.test("text that looks like markup stays text, in the block and in its data", () => {
  const nasty = `</script><script>alert(1)</script><img src=x onerror="alert('2')">`;
  const hostile: NumberExercise = {
    id: "x-1",
    ask: nasty,
    unit: nasty,
    answer: 1,
    tolerance: 0.1,
    traps: [{ value: 2, hint: nasty }],
    hints: [nasty, nasty, nasty],
  };
  const { html } = exerciseBlock(hostile, nasty);
  const document = page(html);
  assert.equal(
    [...document.querySelectorAll("script")].length,
    2,
    "its data, and the page's script",
  );
  assert.equal([...document.querySelectorAll("img")].length, 0);
  assert.equal(html.match(/<\/script/g)?.length, 2);
  const data = document.querySelector("script")?.textContent ?? "";
  assert.deepEqual(JSON.parse(data), hostile);
});

Deno.test("the block brings the script that checks it, marked so that a page may leave it out", () => {
  const script = page(exerciseBlock(exercises[0] as NumberExercise).html).querySelector(
    "script[data-first-mirror]",
  );
  assert.equal(script?.textContent, pageScript());
});

Deno.test("the page's script is a classic script without a way out of its element", () => {
  const script = pageScript();
  assert.doesNotThrow(() => new Function(script));
  assert.doesNotMatch(script, /^\s*(import|export)\b/m);
  assert.doesNotMatch(script, /<\/script|Deno\.|process\./);
});
