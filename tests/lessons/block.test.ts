import assert from "node:assert/strict";
import { parseHTML } from "linkedom";
import { exerciseBlock, questionBlock } from "../../lib/lessons/block.ts";
import type { NumberExercise } from "../../lib/lessons/exercise.ts";
import { exercises } from "../../lib/lessons/exercises.ts";
import { pageScript, spelledOut } from "../../lib/lessons/grader.ts";
import { unseal } from "../../lib/lessons/sealed.ts";

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

/** The page once its script has run. */
function alive(html: string): Node {
  const document = page(html);
  new Function("document", "globalThis", pageScript())(document, {});
  return document;
}

const CONTROLS = "input, button, select, textarea";

Deno.test("where no script runs there is no field and no button, of an exercise or of a question", () => {
  for (const each of exercises) {
    for (const { html } of [exerciseBlock(each), questionBlock(each)]) {
      assert.equal(page(html).querySelector(CONTROLS), null, each.id);
      assert.ok(alive(html).querySelector(CONTROLS) !== null, each.id);
    }
  }
});

Deno.test("every exercise becomes one well-formed block with a form, hints, an answer and a paper line", () => {
  for (const each of exercises) {
    const document = alive(exerciseBlock(each).html);
    const section = document.querySelector("section.exercise");
    assert.equal(section?.getAttribute("id"), `exercise-${each.id}`);
    assert.equal([...document.querySelectorAll("section")].length, 1);
    assert.equal([...document.querySelectorAll("details.fold")].length, 4);
    assert.equal([...document.querySelectorAll("details li")].length, each.traps.length);
    assert.ok(document.querySelector("form.ask button[type=submit]") !== null);
    assert.ok(document.querySelector(".paper-only") !== null);
    assert.equal(document.querySelector("p.result")?.getAttribute("role"), "status");
    const fields = [...document.querySelectorAll("label input[name=answer]")];
    assert.equal(fields.length, 1, "one field, also for a choice");
    const picks = [...document.querySelectorAll("form button[type=button]")];
    assert.deepEqual(
      picks.map((button) => button.getAttribute("data-pick")),
      "choices" in each ? each.choices : [],
    );
    const number = document.querySelector("form")?.getAttribute("data-exercise") ?? "";
    assert.match(number, /^\d\d-[123]$/);
    assert.ok(document.querySelector("h3")?.textContent.startsWith(`${number} `));
  }
});

Deno.test("the data in the block is the exercise, sealed, its misconceptions spelled out", () => {
  for (const each of exercises) {
    for (const { html } of [exerciseBlock(each), questionBlock(each)]) {
      const kept = page(html).querySelector("form")?.getAttribute("data-sealed") ?? "";
      assert.deepEqual(JSON.parse(unseal(kept)), spelledOut(each));
    }
  }
});

Deno.test("a question without an answer says so, and gives its hints by buttons", () => {
  for (const each of exercises) {
    const { html, text } = questionBlock(each), document = alive(html);
    assert.match(text, /Nothing was answered yet/);
    assert.equal([...document.querySelectorAll("details")].length, 0);
    assert.equal([...document.querySelectorAll("button[data-hint]")].length, 2);
    assert.doesNotMatch(questionBlock(each, "", each.answer).text, /Nothing was answered/);
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
  const document = alive(html);
  assert.equal(
    [...document.querySelectorAll("script")].length,
    1,
    "the page's script",
  );
  assert.equal([...document.querySelectorAll("img")].length, 0);
  assert.equal(html.match(/<\/script/g)?.length, 1);
  const kept = document.querySelector("form")?.getAttribute("data-sealed") ?? "";
  assert.deepEqual(JSON.parse(unseal(kept)), hostile);
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
