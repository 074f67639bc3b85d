import assert from "node:assert/strict";
import { outputPlace, outputsOf } from "../../../lib/book/pages/outputs.ts";

Deno.test("the place of an output says whose it is, that it is as built, and which part of a run belongs there", () => {
  assert.equal(
    outputPlace(3, "<p>1</p>\n"),
    '<div class="gave" data-output-of="3" data-state="as built" aria-live="polite">\n<p>1</p>\n</div>\n',
  );
  assert.match(outputPlace(0, "", { only: ".judged" }), /aria-live="polite" data-only="\.judged">/);
});

Deno.test("Markdown that a cell shows is set as prose, its own markup as text", () => {
  const shown = (text: string): string =>
    outputsOf([{ output_type: "display_data", data: { "text/markdown": text }, metadata: {} }]);
  assert.equal(shown("*deep* <b>"), "<p><em>deep</em> &lt;b&gt;</p>\n");
});
