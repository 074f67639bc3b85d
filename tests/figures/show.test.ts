import assert from "node:assert/strict";
import { measured } from "../../lib/quantity/measured.ts";
import { safe } from "../../lib/figures/html.ts";
import {
  asShown,
  opening,
  scriptElement,
  show,
  together,
  wordsOf,
} from "../../lib/figures/show.ts";
import { say } from "../../lib/figures/words.ts";
import { assertWellFormed } from "./soundFigure.ts";

const display = Symbol.for("Jupyter.display");

/** Runs a display method with a Jupyter API of the kernel put in, and tells what went through it. */
async function sentBy(shown: ReturnType<typeof show>): Promise<unknown[][]> {
  const sent: unknown[][] = [], before = globalThis.Deno;
  const jupyter = {
    broadcast: (...message: unknown[]): Promise<number> => Promise.resolve(sent.push(message)),
  };
  Object.defineProperty(globalThis, "Deno", {
    value: { jupyter },
    configurable: true,
    writable: true,
  });
  try {
    assert.deepEqual(await shown[display]?.(), {});
  } finally {
    Object.defineProperty(globalThis, "Deno", {
      value: before,
      configurable: true,
      writable: true,
    });
  }
  return sent;
}

Deno.test("outside the kernel showing does nothing and settles", async () => {
  const began = performance.now();
  assert.deepEqual(await show("a sentence")[display]?.(), {});
  assert.ok(performance.now() - began >= 15, "it waits, so that the output is under its cell");
});

Deno.test("in the kernel one bundle is sent, html in its frame and words beside", async () => {
  const sent = await sentBy(show(safe`<p>1 &lt; 2</p>`));
  assert.equal(sent.length, 1);
  const [type, content] = sent[0] as [
    string,
    { data: Record<string, string>; metadata: object; transient: object },
  ];
  assert.equal(type, "display_data");
  assert.equal(content.data["text/html"], '<div class="first-mirror"><p>1 &lt; 2</p></div>');
  assert.equal(content.data["text/plain"], "1 < 2");
  assert.deepEqual(Object.keys(content).sort(), ["data", "metadata", "transient"]);
});

Deno.test("what cannot be shown is refused before the kernel sees it", () => {
  assert.throws(() => show(NaN), /show requires a finite number, got NaN/);
  assert.throws(() => show(-Infinity, "mm"), RangeError);
});

Deno.test("plain things are shown as sentences", () => {
  assert.equal(show("a <b> c").shown.html, "<p>a &lt;b&gt; c</p>");
  assert.equal(show("a <b> c").shown.text, "a <b> c");
  assert.equal(show(-0.26, "wave").shown.text, "−0.26\u2009wave");
  assert.equal(show(0.1 + 0.2).shown.text, "0.3");
  const quantity = show(measured(1203, 4, "mm")).shown;
  assert.equal(quantity.text, "1203 mm ± 4 mm");
  assert.match(quantity.html, /^<p class="out"><span class="q">1203 <i>± 4<\/i>/);
});

Deno.test("a sentence keeps its quantities in both forms, and escapes its words", () => {
  const sentence = say`${"Bram <&> co"}: ${
    measured(-0.674, 0.04, "")
  } at ${2} dates, ${safe`<b>twice</b>`}.`;
  assert.equal(sentence.text, "Bram <&> co: −0.67 ± 0.04 at 2 dates, twice.");
  assertWellFormed(sentence.html);
  assert.match(
    sentence.html,
    /Bram &lt;&amp;&gt; co: <span class="q">−0.67 <i>± 0.04<\/i><\/span>/,
  );
});

Deno.test("several things stand one under the other", () => {
  const both = together("one", safe`<p>two</p>`);
  assert.equal(both.html, "<p>one</p>\n<p>two</p>");
  assert.equal(both.text, "one\n\ntwo");
  assert.deepEqual(asShown(both), both);
});

Deno.test("words of markup leave out styles and scripts, and read entities back once", () => {
  assert.equal(wordsOf("<style>p{}</style><p>a&amp;lt;b</p><script>1<2</script> c"), "a&lt;b c");
  assert.equal(
    wordsOf("<b>20</b>, then (<i>a</i>); <b>stop</b>. 1 : 2"),
    "20, then (a); stop. 1 : 2",
  );
});

Deno.test("the opening carries the look and the live figures' script, both marked", () => {
  const { html, text } = opening();
  assert.equal(text, "");
  assert.match(html, /^<style data-first-mirror>\.first-mirror \{/);
  assert.equal(html.match(/<script data-first-mirror>/g)?.length, 1);
  assert.equal(html.match(/<\/script/g)?.length, 1);
});

Deno.test("a script cannot end its element early", () => {
  const { markup } = scriptElement(`const a = "</script><!--";`);
  assert.equal(markup, `<script data-first-mirror>const a = "<\\/script><\\!--";</script>`);
});
