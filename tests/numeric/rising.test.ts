import assert from "node:assert/strict";
import { random } from "../../lib/numeric/random.ts";
import { rising } from "../../lib/numeric/rising.ts";

/** Lists that draws make, and lists made to be awkward. */
const lists: Readonly<Record<string, Float64Array>> = {
  none: new Float64Array(0),
  one: Float64Array.of(3),
  two: Float64Array.of(2, 1),
  "all alike": new Float64Array(100).fill(7),
  "a comb of five values": Float64Array.from({ length: 300 }, (_, i) => i * 7 % 5),
  "draws that lean": drawn(5000).map((z) => Math.exp(z)),
  "one so far off that the rest share a compartment": Float64Array.of(...drawn(500), 1e12),
  "most in one place": drawn(2000).map((z, i) => i % 10 === 0 ? z : 1e-9 * z),
  "as far apart as numbers go": Float64Array.of(1e308, -1e308, 0, 5, -5),
  "without an end": Float64Array.of(1, Infinity, -2, -Infinity, 0.5),
  "no number among them": Float64Array.of(2, NaN, 1, 3, 0, -1, 4, 6, 5),
};

function drawn(count: number): Float64Array {
  const draws = new Float64Array(count);
  random(3).fillNormal(draws, 0, 1);
  return draws;
}

for (const [name, list] of Object.entries(lists)) {
  Deno.test(`rising is the ordinary sort: ${name}`, () => {
    const kept = list.slice(), sorted = rising(list);
    // DERIVED the order of numbers is one, whoever finds it: the engine's own sort of the same
    assert.deepEqual(sorted, list.slice().sort());
    assert.deepEqual(list, kept, "the list itself is left as it is");
  });
}
