import assert from "node:assert/strict";
import { cosineOfTurns, phasors } from "../../lib/numeric/phasors.ts";
import { near } from "../references/reference.ts";

Deno.test("many angles at once: what the built-in pair gives, as far as asked for, and refused beyond an array's end", () => {
  const turns = Float64Array.from({ length: 4001 }, (_, k) => (k - 2000) / 160);
  const re = new Float64Array(4001).fill(7), im = re.slice();
  phasors(turns, re, im, 4000);
  for (let k = 0; k < 4000; k++) {
    const angle = 2 * Math.PI * (turns[k] ?? NaN);
    near(re[k] ?? NaN, Math.cos(angle), 3e-13, "cosine", "absolute");
    near(im[k] ?? NaN, Math.sin(angle), 3e-13, "sine", "absolute");
    near(cosineOfTurns(turns[k] ?? NaN), Math.cos(angle), 3e-13, "one cosine", "absolute");
  }
  assert.deepEqual([re[4000], im[4000]], [7, 7]);
  assert.throws(
    () => phasors(turns, re, new Float64Array(3)),
    /requires arrays of 4001 numbers or more/,
  );
});
