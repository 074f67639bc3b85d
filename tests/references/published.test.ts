import assert from "node:assert/strict";
import { published, publishedNames } from "./published.ts";
import { publishedCounts } from "./publishedCount.ts";

const tests = new URL("../", import.meta.url);

/** All test files' text. */
function* testTexts(folder = tests): Generator<string> {
  for (const { name, isDirectory } of Deno.readDirSync(folder)) {
    if (isDirectory) yield* testTexts(new URL(`${name}/`, folder));
    else if (name.endsWith(".test.ts")) yield Deno.readTextFileSync(new URL(name, folder));
  }
}

Deno.test("every source has a passport, values with their last digit's worth, and a test that holds it", () => {
  const texts = [...testTexts()].filter((text) => /\bhold\(/.test(text));
  for (const name of publishedNames()) {
    const { source, read, values } = published<unknown>(name);
    assert.ok(source.length > 10 && read.length > 10 && Object.keys(values).length > 0, name);
    for (const [key, { printed, within, right, why, cannot }] of Object.entries(values)) {
      assert.ok(Number.isFinite(printed), `${name}, ${key}`);
      assert.ok(within > 0 || cannot !== undefined, `${name}, ${key}`);
      assert.equal(right === undefined, why === undefined, `${name}, ${key}: right and why`);
    }
    const held = new RegExp(`hold\\(\\s*"${name}"`);
    assert.ok(texts.some((text) => held.test(text)), `no test holds ${name}`);
  }
});

Deno.test("what is counted is what stands in the files", () => {
  const counts = publishedCounts();
  assert.deepEqual(counts.map(({ name }) => name), publishedNames());
  for (const { name, held, cannot } of counts) {
    assert.equal(held + cannot.length, Object.keys(published<unknown>(name).values).length);
  }
});
