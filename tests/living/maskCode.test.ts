import assert from "node:assert/strict";
import fc from "fast-check";
import { maskCode } from "../../lib/living/maskCode.ts";

const cases: readonly (readonly [what: string, source: string, masked: string])[] = [
  ["line comment", "a; // b;\nc", "a;      \nc"],
  ["block comment over lines", "a/* ;\n; */b", "a    \n    b"],
  ["double quotes with an escape", String.raw`"a\";" + b`, `"    " + b`],
  ["single quotes", "'it' + x", "'  ' + x"],
  ["template over lines", "`a;\nb` + c", "`  \n ` + c"],
  ["template with a hole that holds a template", "`${f(`}`)}` + c", "`         ` + c"],
  ["template with a hole that holds an object", "`${g({ a: 1 })};` + c", "`               ` + c"],
  ["comment sign in a string", '"// no" + d', '"     " + d'],
  ["string sign in a comment", '// "\nd', "    \nd"],
  ["regular expression with a quote", 'x.replace(/"/g, y)', "x.replace(/ /g, y)"],
  ["regular expression with a slash in a class", "m = /[/;]/;", "m = /    /;"],
  ["division is no regular expression", "a / b; c / d", "a / b; c / d"],
  ["division after a bracket", "(a) / b; 'x'", "(a) / b; ' '"],
  ["unfinished string ends at its line", "'a\nb", "' \nb"],
  ["unfinished template runs to the end", "`a\nb", "` \n "],
];

for (const [what, source, masked] of cases) {
  Deno.test(`mask: ${what}`, () => {
    const got = maskCode(source);
    assert.equal(got.replace(/ +$/, ""), masked.replace(/ +$/, ""));
    assert.equal(got.length, source.length);
  });
}

Deno.test("mask: any text keeps its length and its line ends, and masking twice changes nothing in plain code", () => {
  const pieces = fc.constantFrom(
    "a",
    ";",
    "\n",
    '"',
    "'",
    "`",
    "//",
    "/*",
    "*/",
    "${",
    "}",
    "{",
    "\\",
    "/",
    " ",
    "(",
  );
  fc.assert(fc.property(fc.array(pieces, { maxLength: 40 }), (parts) => {
    const source = parts.join("");
    const masked = maskCode(source);
    assert.equal(masked.length, source.length);
    for (let i = 0; i < source.length; i++) assert.equal(masked[i] === "\n", source[i] === "\n");
  }));
});

Deno.test("a template's hole that begins with a string ends where its code ends", () => {
  // DERIVED the brace in the string closes nothing: what follows the template is code again
  const source = '`a${"}"}b` + c';
  assert.equal(maskCode(source).slice(-4), " + c");
  assert.equal(maskCode('`${"}`"}` + c').slice(-4), " + c");
});
