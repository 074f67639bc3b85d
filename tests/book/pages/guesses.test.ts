/** Guesses and fields as markup: what folds, what it tells, and where marks are none. */
import assert from "node:assert/strict";
import {
  guessAccount,
  guessForm,
  guessScript,
  trialForm,
} from "../../../lib/book/pages/guesses.ts";
import { lessonBody } from "../../../lib/book/pages/lessonBody.ts";
import type { Cell, CodeCell } from "../../../lib/book/notebook.ts";

const prose = (source: string, ...tags: string[]): Cell => ({
  id: `text-${source.length}`,
  cell_type: "markdown",
  metadata: tags.length === 0 ? {} : { tags },
  source,
});
const code = (source: string, said: string, metadata: Record<string, unknown> = {}): CodeCell => ({
  id: `code-${source.length}`,
  cell_type: "code",
  metadata,
  source,
  execution_count: 1,
  outputs: [{ output_type: "display_data", data: { "text/plain": said }, metadata: {} }],
});
const html = (...cells: Cell[]): string =>
  lessonBody({ cells: [prose("# A\n\nB?"), ...cells] }).html;

Deno.test("a guess folds the cell's result and what tells it, and nothing else", () => {
  const page = html(
    prose("**Guess:** how deep?"),
    code("show(1);", "1.172 mm", { tags: ["guess"], guess: { unit: "mm" } }),
    prose("A coin.", "after-guess"),
    code("show(22);", "twice", { tags: ["after-guess"] }),
    prose("## On"),
    code("show(333);", "3"),
  );
  assert.match(page, /data-output-of="0" [^>]*aria-live="polite" hidden>/);
  assert.match(page, /<div data-after-guess="0" hidden>\s*<p>A coin\.<\/p>/);
  assert.match(page, /data-output-of="1" [^>]*data-after-guess="0" hidden>/);
  assert.match(page, /data-output-of="2" [^>]*aria-live="polite">/);
  assert.equal(page.match(/ hidden/g)?.length, 4, "result, two that tell it, the place that keeps");
  assert.match(page, /<form class="ask guess js-only" [^>]*data-guess="0"/);
  assert.match(page, /data-about="\{&quot;unit&quot;:&quot;mm&quot;,&quot;truth&quot;:1\.172\}"/);
  assert.match(page, /data-guess-kept="0"/);
  assert.match(page, /<section class="guesses js-only"[\s\S]*data-guesses="1"/);
  assert.ok(page.indexOf('data-guess="0"') < page.indexOf('data-output-of="0"'));
  assert.doesNotMatch(html(prose("No guess.")), /data-guesses/);
});

Deno.test("a guess in words has its words to tap, and one field", () => {
  const { markup } = guessForm(3, { choices: ["yes", 'no "way"'], truth: "yes" });
  assert.equal(markup.match(/<input type="text"/g)?.length, 1);
  assert.deepEqual([...markup.matchAll(/data-pick="([^"]*)"/g)].map(([, pick]) => pick), [
    "yes",
    "no &quot;way&quot;",
  ]);
  assert.match(markup, /type="submit">Guess</);
  assert.match(markup, /data-show-me>Show me</);
  assert.match(guessForm(3, { unit: "mm" }).markup, /inputmode="decimal"> mm</);
});

Deno.test("a field to try runs the next cell that proposes a value, else the last above", () => {
  const wide = "const wide = 150; // try 200 mm\nshow(wide);";
  const before = html(prose("**Try it:** put 200.", "try"), code(wide, "1"));
  assert.match(before, /data-try="0" data-name="wide" data-unit="mm">/);
  assert.match(before, /value="200"> mm<\/span>/);
  const after = html(
    code(wide, "1"),
    prose("And:"),
    code("show(2);", "2"),
    prose("**Try it.**", "try"),
  );
  assert.match(after, /data-try="0" data-name="wide" data-unit="mm" data-up-to="1">/);
  assert.ok(after.indexOf("data-try") > after.indexOf('data-output-of="1"'));
  assert.match(
    trialForm(2, { name: "jar", value: "#400", unit: "" }, 2).markup,
    /autocomplete="off" value="#400">/,
  );
});

Deno.test("marks that are none are told with the cell's place", () => {
  assert.throws(
    () => html(prose("**Try it.**", "try")),
    /cell 2 of all.*line that ends in \/\/ try VALUE/,
  );
  const bad = code("show(1);", "1", { tags: ["guess"], guess: { units: "mm" } });
  assert.throws(() => html(bad), /cell 2 of all.*got units/);
  assert.throws(() => html(code("show(1);", "1", { tags: ["guess"] })), /requires a mark/);
});

Deno.test("the page's script is a classic script without a way out of its element", () => {
  assert.doesNotThrow(() => new Function(guessScript()));
  assert.doesNotMatch(guessScript(), /<\/script|Deno\.|process\.|^\s*(import|export)\b/m);
  assert.match(guessAccount(2), /data-guesses="2"/);
});
