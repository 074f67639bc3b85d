/** The script beside the pages: one program for all of them, within its bound, and the lock untouched by the bundler. */
import assert from "node:assert/strict";
import { kitScripts, recordInPage, recordScript } from "../../lib/book/library.ts";
import { demoName, openMirror, recordsFolder } from "../../lib/knowledge/open.ts";
import { unpacked } from "../../lib/living/packed.ts";
import type { Summary } from "../../lib/knowledge/summaryTypes.ts";

Deno.test("all scripts of a page, the editor and the demo's pictures among them, are under 3.5 MB, and the pictures lie in the script of the record", async () => {
  const lock = new URL("../../deno.lock", import.meta.url);
  const before = await Deno.readTextFile(lock);
  const { library: script, editor } = await kitScripts();
  assert.equal(await Deno.readTextFile(lock), before);
  const { record } = await openMirror(`${recordsFolder}/${demoName}`);
  const all = [script, editor, recordScript(await recordInPage(record), {} as Summary)];
  const bytes = new TextEncoder().encode(all.join("")).length;
  // deno-lint-ignore no-console -- the promised figure is printed
  console.log(`    library, editor and the record's pictures: ${(bytes / 1e6).toFixed(2)} MB`);
  assert.ok(bytes > 1e6 && bytes < 3.5e6, `${bytes} bytes`);
  // what a thread runs is packed; unpacked it is the library
  const thread = unpacked(/"thread":"([^"]+)"/.exec(script)?.[1] ?? "");
  assert.ok(thread.length > 1e6 && thread.includes("there is nothing called"));
  assert.doesNotMatch(script, /\{"base64":"/);
  assert.ok(script.includes("/kit/data/tables/glasses.csv"));
});
