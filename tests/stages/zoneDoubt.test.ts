/** The surface from above, and what the doubt is made of. */
import assert from "node:assert/strict";
import { doubtOn, shadowOf, yourDoubt, yourSurfaceFromAbove } from "../../lib/stages/zoneDoubt.ts";
import { reducedDays } from "../../lib/stages/zoneDays.ts";
import { demo, empty, halfway, marks, mirrorOf } from "./mirrors.ts";

Deno.test("from above: own where more than one diameter was read, else how to get there and the demo's", () => {
  const own = yourSurfaceFromAbove(demo, demo);
  assert.equal(marks(own), "y");
  assert.match(own.text, /the surface from above, 4 diameters/);
  assert.match(own.text, /a round mirror is not excluded/);
  const zones = demo.record.zones.filter(({ date }) => (date ?? "") <= "2026-06-19");
  const one = yourSurfaceFromAbove(mirrorOf({ ...demo.record, zones }), demo);
  assert.equal(marks(one), "nd");
  assert.match(one.text, /turn the mirror in its stand/);
  assert.equal(marks(yourSurfaceFromAbove(empty, demo)), "nd");
});

Deno.test("the flat's shadow on the mirror is half the flat's width", () => {
  // DERIVED: the demo's flat is 31 mm wide
  assert.equal(shadowOf(demo), 15.5);
  assert.equal(shadowOf(empty), undefined);
});

Deno.test("the doubt in shares: each that counts has its bar, the others their name, and all make one", () => {
  const shown = yourDoubt(demo, demo);
  assert.equal(marks(shown), "y");
  const { budget } = reducedDays(demo).at(-1)?.found ?? { budget: [] };
  for (const { source } of budget) assert.ok(shown.text.includes(source), source);
  assert.match(shown.text, /astigmatism 96 %/);
  assert.match(shown.text, /Below half of one per cent: .*drift within a run/);
  const first = doubtOn(demo, 0).map(({ text }) => text).join("\n");
  const shares = [...first.matchAll(/ (\d+) %/g)].map(([, share]) => Number(share));
  assert.ok(Math.abs(shares.reduce((sum, share) => sum + share, 0) - 100) <= 2, first);
  assert.match(first, /glass that no opening sees 74 %, drift within a run 15 %/);
  assert.equal(marks(yourDoubt(halfway, demo)), "nd");
  assert.throws(() => doubtOn(empty, 0), RangeError);
});
