import assert from "node:assert/strict";
import { join } from "node:path";
import { classBeside, demoClass } from "../../lib/knowledge/classBeside.ts";
import { openMirror } from "../../lib/knowledge/open.ts";
import { EMPTY } from "../contract/copies.ts";
import { withClass } from "../record/classBench.ts";

Deno.test("a mirror alone in its folder has the demo class beside it", async () => {
  const { many, isDemo } = await classBeside(await openMirror(EMPTY));
  assert.deepEqual([isDemo, many.name, many.rows.length], [true, "class-kestrel-lane", 12]);
  assert.deepEqual(await demoClass(), { many, isDemo });
});

Deno.test("a mirror among others has them, itself too", () =>
  withClass({}, async (folder) => {
    const { many, isDemo } = await classBeside(await openMirror(join(folder, "bench-02")));
    assert.deepEqual([isDemo, many.name, many.rows.length], [false, "our class", 12]);
  }));
