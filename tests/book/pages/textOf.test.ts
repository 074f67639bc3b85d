import assert from "node:assert/strict";
import { formula } from "../../../lib/figures/formula.ts";
import { textOf } from "../../../lib/book/pages/textOf.ts";

Deno.test("tags go, words stay, spaces are joined, what was escaped stays so", () => {
  assert.equal(
    textOf('<p class="a">From\n <em>depth</em> &amp; width </p>'),
    "From depth &amp; width",
  );
  assert.equal(textOf(""), "");
});

Deno.test("a formula leaves its letters, not its source too", () => {
  assert.equal(textOf(`Why ${formula("R = 2f")}`), "Why R=2f");
});
