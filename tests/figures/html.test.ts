import assert from "node:assert/strict";
import fc from "fast-check";
import { escapeHtml, Html, jsonForScript, safe, trusted } from "../../lib/figures/html.ts";
import { assertWellFormed, parsed } from "./soundFigure.ts";

Deno.test("text in a template stays text, markup in it stays markup", () => {
  assert.equal(safe`<p>${"1 < 2 & 3"}</p>`.markup, "<p>1 &lt; 2 &amp; 3</p>");
  assert.equal(safe`<p>${safe`<b>${"x"}</b>`}</p>`.markup, "<p><b>x</b></p>");
  assert.equal(safe`${[safe`<i>a</i>`, "<", 2]}`.markup, "<i>a</i>&lt;2");
  assert.equal(safe`a${undefined}b${false}c`.markup, "abc");
  assert.equal(String(trusted("<hr>")), "<hr>");
  assert.ok(safe`x` instanceof Html);
});

Deno.test("a number that is not finite never gets into markup", () => {
  for (const hole of [NaN, Infinity, -Infinity]) {
    assert.throws(() => safe`<path d="M${hole},0"/>`, /safe requires finite numbers, got/);
  }
});

Deno.test("whatever is typed, an attribute and an element hold it unchanged", () => {
  fc.assert(fc.property(fc.string(), (text) => {
    const plain = text.replace(/[\p{Cc}]/gu, ""); // control characters are dropped or folded by HTML itself
    const { markup } = safe`<p title="${plain}">${plain}</p>`;
    assertWellFormed(markup);
    const p = parsed(markup).querySelector("p");
    assert.equal(p?.textContent, plain);
    assert.equal(p?.getAttribute("title"), plain);
  }));
});

Deno.test("control characters are dropped, letters of all scripts stay", () => {
  assert.equal(escapeHtml("a\u0000b\u0008c\u001bd"), "abcd");
  assert.equal(escapeHtml("Inés, Kōji, 木, µm\ttab\nline"), "Inés, Kōji, 木, µm\ttab\nline");
});

Deno.test("data for a script cannot end it and reads back the same", () => {
  fc.assert(fc.property(fc.json(), (json) => {
    const data: unknown = JSON.parse(json), text = jsonForScript(data).markup;
    assert.doesNotMatch(text, /<|\u2028|\u2029/);
    assert.deepEqual(JSON.parse(text), data);
  }));
  assert.equal(jsonForScript("</script><!--").markup, '"\\u003c/script>\\u003c!--"');
  assert.throws(() => jsonForScript(undefined), TypeError);
});
