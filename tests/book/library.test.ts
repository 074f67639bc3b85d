/** The script beside the pages: one program for all of them, within its bound, and the lock untouched by the bundler. */
import assert from "node:assert/strict";
import { libraryScript } from "../../lib/book/library.ts";

Deno.test("the library of the pages is under 3.5 MB, and the pictures lie in the script of the record", async () => {
  const lock = new URL("../../deno.lock", import.meta.url);
  const before = await Deno.readTextFile(lock);
  const script = await libraryScript();
  assert.equal(await Deno.readTextFile(lock), before);
  const bytes = new TextEncoder().encode(script).length;
  // deno-lint-ignore no-console -- the promised figure is printed
  console.log(`    the library of the pages: ${(bytes / 1e6).toFixed(2)} MB`);
  assert.ok(bytes > 1e6 && bytes < 3.5e6, `${bytes} bytes`);
  assert.doesNotMatch(script, /\{"base64":"/);
  assert.ok(script.includes("/kit/data/tables/glasses.csv"));
});
