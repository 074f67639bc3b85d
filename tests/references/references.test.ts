import assert from "node:assert/strict";
import { reference } from "./reference.ts";

const here = new URL(".", import.meta.url);
const files = [...Deno.readDirSync(here)].map((entry) => entry.name)
  .filter((name) => name.endsWith(".json")).sort();

Deno.test("there are twenty-three files of check values", () => {
  assert.equal(files.length, 23);
});

for (const file of files) {
  Deno.test(`${file} has a passport and stands in the README`, () => {
    const passport = reference<object, object, object>(file.replace(".json", ""));
    for (const field of ["id", "source", "section", "recalled", "verified"] as const) {
      assert.ok(passport[field], `${field} is missing`);
    }
    assert.match(passport.recalled, /^(read|from memory)$/);
    for (const part of [passport.inputs, passport.expected, passport.tolerance]) {
      assert.ok(Object.keys(part).length > 0);
    }
    assert.ok(Deno.readTextFileSync(new URL("README.md", here)).includes(`\`${file}\``));
  });
}
