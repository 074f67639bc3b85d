import assert from "node:assert/strict";
import { fillBetween, nextWord, startState } from "../../lib/numeric/sfc32.ts";

Deno.test("four words from a seed beyond 32 bits", () => {
  // CROSS-CHECK python 3.11, the same recurrence written again with masked integers
  const state = startState(123456789012345);
  const words = [0, 1, 2, 3].map(() => nextWord(state) >>> 0);
  assert.deepEqual(words, [2889973958, 2035037108, 887532240, 44453346]);
});

Deno.test("filling moves the state on by two words for each number", () => {
  const filled = startState(5), stepped = startState(5), out = new Float64Array(10);
  fillBetween(out, filled, -1, 3);
  for (let i = 0; i < 20; i++) nextWord(stepped);
  assert.deepEqual(filled, stepped);
  assert.ok(out.every((x) => x >= -1 && x < 3));
});

Deno.test("the counter runs over without a break", () => {
  const state = Int32Array.of(1, 2, 3, 0x7fffffff);
  nextWord(state);
  assert.equal(state[3], -0x80000000);
  assert.equal(Number.isInteger(nextWord(state)), true);
});

Deno.test("seeds that differ only above 32 bits differ", () => {
  assert.notDeepEqual(startState(7), startState(7 + 2 ** 32));
});
