/** Do the stated intervals hold? The long form of this is `deno task trial zones`. */
import assert from "node:assert/strict";
import { manyMirrors, NAMES, referenceTallies, share } from "./zoneTrial.ts";

Deno.test("three reference mirrors, 400 draws each: each 95 % interval holds in 92 to 98 of 100", () => {
  referenceTallies(400, 11).forEach((tally, i) => {
    for (const name of NAMES) {
      const percent = share(tally, name);
      assert.ok(percent >= 92 && percent <= 98, `${name} on mirror ${i + 1}: ${percent} of 100`);
    }
  });
});

Deno.test("300 mirrors: intervals hold in 92 to 98 %, no bad mirror is called good, good ones are", () => {
  const { all, bad, good } = manyMirrors(300, 21);
  for (const name of ["P-V", "RMS", "conic"] as const) {
    const percent = share(all, name);
    assert.ok(percent >= 92 && percent <= 98, `${name}: ${percent} %`);
  }
  assert.ok(bad.count >= 50 && good.count >= 40, "enough of both kinds to tell");
  assert.equal(bad.yes, 0);
  assert.ok(good.yes >= 0.8 * good.count);
});
