import assert from "node:assert/strict";
import { chaptersOf } from "../../../lib/book/pages/chapters.ts";
import { linkPages } from "../../../lib/book/pages/links.ts";
import { stemOf } from "../../stems.ts";

const chapters = chaptersOf([stemOf("measure-curve")]);

Deno.test("a link to a notebook leads to its page, with its place", () => {
  assert.equal(
    linkPages(`<a href="./${stemOf("measure-curve")}.ipynb#idea">x</a>`, chapters),
    `<a href="${stemOf("measure-curve")}.html#idea">x</a>`,
  );
});

Deno.test("a link to a notebook that is not written leaves its words, with their emphasis", () => {
  assert.equal(
    linkPages(`<a href="${stemOf("smooth-surface")}.ipynb"><em>fine</em> grinding</a>`, chapters),
    "<em>fine</em> grinding",
  );
});

Deno.test("other links stay as they are", () => {
  const other = '<a href="#idea">x</a> <a href="report.html">y</a>';
  assert.equal(linkPages(other, chapters), other);
});
