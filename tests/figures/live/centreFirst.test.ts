import assert from "node:assert/strict";
import { centreFirst, polished } from "../../../lib/figures/live/centreFirst.ts";

const { start } = centreFirst;

Deno.test("the ordinary stroke: the middle goes at the rate that is said", () => {
  const { middle, left } = polished({ ...start, travel: 100 / 3, hours: 2 });
  // DERIVED: 5 um at 1.3 um/h; the slider's whole percents move it by less than a hundredth
  assert.ok(Math.abs(middle - 5 / 1.3) < 0.01);
  assert.ok(Math.abs(left(0) - 2.4) < 0.02);
});

Deno.test("twice the rate, half the hours; half the pits, half the hours; nothing is left below nothing", () => {
  const usual = polished(start);
  assert.ok(Math.abs(polished({ ...start, rate: 2.6 }).rim - usual.rim / 2) < 1e-9);
  assert.ok(Math.abs(polished({ ...start, pits: 2.5 }).rim - usual.rim / 2) < 1e-9);
  const done = polished({ ...start, hours: 12 });
  assert.deepEqual([done.left(0), done.left(0.92)], [0, 0]);
});

Deno.test("with the mirror on top the rim is last; the mix of both faces lies between them", () => {
  const rims = [0, 50, 100].map((lapUp) => polished({ ...start, lapUp }));
  assert.ok(rims.every(({ middle, rim }) => rim > middle));
  const [onTop, mixed, below] = rims.map(({ rate }) => rate(0.92));
  assert.ok(Math.abs((mixed ?? 0) - ((onTop ?? 0) + (below ?? 0)) / 2) < 1e-9);
  assert.match(centreFirst.reading({ ...start, hours: 5 }).markup, /rim is not done/);
  assert.match(centreFirst.reading({ ...start, hours: 8 }).markup, /clear where pits are counted/);
});
