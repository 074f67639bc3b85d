/** Sealed text: the same text comes out, nothing of it is seen before, and the stored exercises are those that are written. */
import assert from "node:assert/strict";
import fc from "fast-check";
import { sealedExercises } from "../../lib/lessons/authored.ts";
import { exercises } from "../../lib/lessons/exercises.ts";
import { opened } from "../../lib/lessons/opened.ts";
import { seal, unseal, unsealSource } from "../../lib/lessons/sealed.ts";

Deno.test("any text comes out as it went in, in lines too", () => {
  fc.assert(fc.property(fc.string({ unit: "binary", maxLength: 400 }), (text) => {
    const kept = seal(text.toWellFormed());
    assert.equal(unseal(kept), text.toWellFormed());
    assert.equal(unseal(kept.replace(/.{1,40}/g, "$&\n")), text.toWellFormed());
  }));
});

Deno.test("sealed text shows nothing of itself, and is letters that may stand anywhere", () => {
  for (const { hints } of exercises) {
    for (const hint of hints) {
      assert.match(seal(hint), /^[A-Za-z0-9+/]+=*$/);
      assert.ok(!atob(seal(hint)).includes(hint.slice(0, 8)));
    }
  }
});

Deno.test("a page opens it by the source of the module", () => {
  const inPage = new Function(`${unsealSource()}\nreturn unseal;`)() as typeof unseal;
  assert.equal(inPage(seal("75² ÷ 4800 = 1.172 mm.")), "75² ÷ 4800 = 1.172 mm.");
});

Deno.test("the stored exercises are those that are written: deno task stages seals them", async () => {
  const file = new URL("../../lib/lessons/exercises.sealed.txt", import.meta.url);
  const kept = await Deno.readTextFile(file);
  assert.ok(
    kept === sealedExercises(),
    "lib/lessons/exercises.sealed.txt is older than lib/lessons/exercises: run deno task stages",
  );
  assert.deepEqual(Object.values(opened.exercises).flat(), exercises);
  for (const { hints } of exercises) for (const hint of hints) assert.ok(!kept.includes(hint));
});
