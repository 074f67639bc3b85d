/** A share of the sixty photographs of `deno task trial photographs`: one of each kind, and one more conic. */
import assert from "node:assert/strict";
import { faults, lineOf } from "./photoBounds.ts";
import { caseOf, judge, type Kind } from "./photoTrial.ts";

const SHARE: readonly (readonly [seed: number, kind: Kind])[] = [
  [1, "conic"],
  [14, "conic"],
  [25, "ring"],
  [36, "turned edge"],
  [44, "astigmatism"],
  [47, "hopeless"],
];

for (const [seed, kind] of SHARE) {
  Deno.test(`photograph ${seed} of the trial, ${kind}: glass, conic and offset within bounds, or refused where it should be`, async () => {
    const found = await judge(caseOf(seed, kind));
    const slow = faults(found).filter((fault) => fault !== "time"); // the clock is the trial's
    assert.deepEqual(slow, [], lineOf(found));
    if (kind === "conic" || kind === "ring") assert.ok(found.held.conic, lineOf(found));
  });
}
