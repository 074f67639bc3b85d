import assert from "node:assert/strict";
import { join, resolve } from "node:path";
import { fromCaller, recordFromCaller } from "../../lib/commands/fromCaller.ts";

const root = resolve(new URL("../../", import.meta.url).pathname);

Deno.test("a path counts from where the command was typed, once the task has moved to the project", () => {
  assert.equal(fromCaller("mine", root, "/home/asha"), "/home/asha/mine");
  assert.equal(fromCaller("mine", root, undefined), "mine");
  assert.equal(fromCaller("../mine", "/tmp/a", "/home/asha"), "../mine");
  assert.equal(fromCaller("/tmp/mine", root, "/home/asha"), "/tmp/mine");
});

Deno.test("a record's name is looked for in data/records, a path where it leads", () => {
  assert.equal(recordFromCaller("demo-150-f8"), join(root, "data", "records", "demo-150-f8"));
  assert.equal(recordFromCaller("/tmp/mine"), "/tmp/mine");
  assert.equal(recordFromCaller("not-there"), join(root, "data", "records", "not-there"));
});
