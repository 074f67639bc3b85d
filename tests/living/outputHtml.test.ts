import assert from "node:assert/strict";
import type { Output } from "../../lib/living/output.ts";
import { outputHtml, outputsHtml, unwrapped } from "../../lib/living/outputHtml.ts";

const shown = (data: Record<string, unknown>): Output => ({
  output_type: "display_data",
  data,
  metadata: {},
});
const stream = (name: "stdout" | "stderr", text: string): Output => ({
  output_type: "stream",
  name,
  text,
});

Deno.test("a figure of the kit stands as it is, without the notebook's wrapper and style sheet", () => {
  const html =
    '<div class="first-mirror"><style data-first-mirror>p{}</style><figure>1</figure></div>';
  assert.equal(
    outputHtml(shown({ "text/html": html, "text/plain": "words" })),
    "<figure>1</figure>\n",
  );
  assert.equal(
    unwrapped("<style data-first-mirror>p{}</style><script data-first-mirror>1</script>"),
    "",
    "a page has both once",
  );
  const data = '<p>1</p><script type="application/json">{}</script>';
  assert.equal(unwrapped(data), data, "an exercise keeps its data");
  assert.equal(unwrapped("<p>bare</p>"), "<p>bare</p>");
});

Deno.test("what only brings style and script leaves nothing behind", () => {
  const html = '<div class="first-mirror"><script data-first-mirror>1</script></div>';
  assert.equal(outputHtml(shown({ "text/html": html, "text/plain": "" })), "");
});

Deno.test("plain text is escaped, without colour codes: a sentence where it is short, else its lines", () => {
  assert.equal(
    outputHtml(shown({ "text/plain": "\u001b[33m<1>\u001b[39m" })),
    '<p class="out">&lt;1&gt;</p>\n',
  );
  assert.equal(
    outputHtml(shown({ "text/plain": "a < b\nc" })),
    '<pre class="out" tabindex="0">a &lt; b\nc</pre>\n',
  );
});

Deno.test("an empty result leaves nothing, and so does data in a form no page can show", () => {
  assert.equal(outputHtml(shown({})), "");
  assert.equal(outputHtml(shown({ "application/json": { a: 1 } })), "");
  assert.equal(outputHtml(shown({ "text/html": 5 })), "");
});

Deno.test("what is printed in parts stands together, but not out and error", () => {
  const outputs = [stream("stdout", "a\n"), stream("stdout", "b\n"), stream("stderr", "c\n")];
  assert.equal(
    outputsHtml(outputs),
    '<pre class="out" tabindex="0">a\nb</pre>\n<p class="out">c</p>\n',
  );
});

Deno.test("an error is its sentence, escaped, without a trace", () => {
  const html = outputHtml({
    output_type: "error",
    ename: "RangeError",
    evalue: "a length <needs> its unit",
    traceback: ["at file:///somewhere.ts:1:1"],
  });
  assert.equal(html, '<div class="refusal"><p>a length &lt;needs&gt; its unit</p></div>\n');
});

Deno.test("pictures stand in the page itself, with their words", () => {
  assert.equal(
    outputHtml(shown({ "image/png": "iVBO\nRw0K", "text/plain": 'a "star"' })),
    '<figure><img alt="a &quot;star&quot;" src="data:image/png;base64,iVBORw0K"></figure>\n',
  );
  assert.match(outputHtml(shown({ "image/svg+xml": "<svg></svg>" })), /^<figure><svg>/);
});

Deno.test("Markdown stays the text it is where nobody sets it, and cannot bring tags of its own", () => {
  const html = outputHtml(shown({ "text/markdown": "**so** <img src=x>" }));
  assert.equal(html, '<p class="out">**so** &lt;img src=x&gt;</p>\n');
});
