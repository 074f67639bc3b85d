/** The mask of mirror.yaml. */
import assert from "node:assert/strict";
import { unitInside } from "../../lib/record/settings.ts";
import { MIRROR, read } from "./bench.ts";

const maskOf = async (text: string): Promise<(readonly number[])[]> =>
  ((await read({ "mirror.yaml": `${MIRROR}mask: ${text}\n` })).settings.mask ?? [])
    .map(({ inner, outer }) => [inner, outer].map((mm) => Number(mm.toFixed(9))));

Deno.test("edges of openings that adjoin, pairs, the unit once behind, over several lines", async () => {
  assert.deepEqual(await maskOf("[0 mm, 30 mm, 45 mm]"), [[0, 30], [30, 45]]);
  assert.deepEqual(await maskOf("[0, 1 in, 2 in]"), [[0, 25.4], [25.4, 50.8]]);
  assert.deepEqual(await maskOf("[[5 mm, 25 mm], [3 cm, 4.2 cm]]"), [[5, 25], [30, 42]]);
  assert.deepEqual(await maskOf("[[5, 25], [30, 42]] mm   # in the card"), [[5, 25], [30, 42]]);
  assert.deepEqual(await maskOf("\n  - [5 mm, 25 mm]\n  - [25 mm, 42 mm]"), [[5, 25], [25, 42]]);
});

Deno.test("without the key there is no mask", async () => {
  assert.equal((await read({})).settings.mask, undefined);
});

Deno.test("a unit behind a list is moved in for the mask alone", () => {
  assert.equal(unitInside("flats: [25, 31] mm"), "flats: [25, 31] mm");
  assert.equal(unitInside("a: 1\nmask: [0, 3] in # x\nb: 2"), "a: 1\nmask: [0 in, 3 in] # x\nb: 2");
});
