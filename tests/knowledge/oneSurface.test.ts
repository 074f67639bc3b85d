/** Tests of one surface reconciled, in records. */
import assert from "node:assert/strict";
import { openRecord } from "../../lib/knowledge/open.ts";
import { close } from "../optics/close.ts";

Deno.test("the demo's zones and bands are told together", async () => {
  const { together, zones } = (await openRecord()).demo.summary.figure ?? {};
  assert.deepEqual(together?.tests.map(({ test }) => test), ["zones", "bands"]);
  // DERIVED: 148 mm across, f 1198.3 mm, a sphere's W040 = D^4 / (512 f^3 wavelength) = 0.9902 wave, its RMS 1 / (6 sqrt 5) of
  // that, 0.07380 wave for each unit of K + 1
  const [told] = together?.tests ?? [], conic = zones?.conic?.value ?? NaN;
  close((told?.spherical.value ?? NaN) / (conic + 1), 0.0738, 1e-4);
  close(together?.tests.reduce((sum, { weight }) => sum + weight, 0) ?? NaN, 1, 1e-12);
});
