import assert from "node:assert/strict";
import { combine } from "../../../lib/measuring/combine.ts";
import { depthGauge } from "../../../lib/measuring/methods/depthGauge.ts";
import { leaves } from "../../../lib/measuring/methods/leaves.ts";
import { radiusFromSagitta, sagitta } from "../../../lib/optics/sphere.ts";
import { KESTREL } from "../bench.ts";

const part = (made: ReturnType<typeof depthGauge>, source: string) =>
  made?.components.find((component) => component.source === source);

Deno.test("one depth is the radius of its sphere, inside the bevel", () => {
  const made = depthGauge([{ depth: sagitta(148, 2400) }], KESTREL) ?? assert.fail();
  assert.ok(Math.abs(made.radius.value - 2400) < 1e-6);
  assert.match(made.assumed[0] ?? "", /one depth only/);
  assert.equal(made.method, "depth gauge");
});

Deno.test("the dial's own error stays, the scatter shrinks", () => {
  const rows = [1.14, 1.16, 1.15, 1.14, 1.16, 1.15].map((depth) => ({ depth }));
  const made = depthGauge(rows, KESTREL) ?? assert.fail();
  const slope = (74 ** 2 - 1.15 ** 2) / (2 * 1.15 ** 2);
  // DERIVED: 0.01 / sqrt 12 at the slope of 1.15 mm
  assert.ok(
    Math.abs(
      Math.abs(part(made, "depth gauge dial")?.u ?? 0) / (slope * 0.01 / Math.sqrt(12)) - 1,
    ) < 1e-3,
  );
  const scatter = part(made, "depth gauge readings");
  assert.equal(scatter?.dof, 5);
  // s = sqrt(4 x 0.01^2 / 5), over sqrt 6
  const u = slope * Math.sqrt((4 * 0.01 ** 2) / 5 / 6);
  assert.ok(Math.abs(Math.abs(scatter?.u ?? 0) / u - 1) < 1e-3);
});

Deno.test("equal readings: only the dial and the chord are left, the step once", () => {
  const made = depthGauge([{ depth: 1.15 }, { depth: 1.15 }, { depth: 1.15 }], KESTREL) ??
    assert.fail();
  assert.deepEqual(
    made.components.map(({ source }) => source),
    ["where the straight-edge rests", "depth gauge dial"],
  );
});

Deno.test("leaves and depth gauge rest on one bevel: two methods, one error", () => {
  const byGauge = depthGauge([{ depth: 1.149 }, { depth: 1.147 }], KESTREL) ?? assert.fail();
  const byLeaves = leaves([{ go: [0.88, 0.25], nogo: [0.85, 0.3] }], KESTREL) ?? assert.fail();
  const rest = Math.abs(part(byGauge, "where the straight-edge rests")?.u ?? 0);
  const both = combine([byGauge, byLeaves]);
  // Independent, the two would make less than the bevel alone allows.
  const independent = 1 / Math.hypot(1 / byGauge.radius.u, 1 / byLeaves.radius.u);
  assert.ok(both.weightedMean.u > rest * 0.99);
  assert.ok(both.weightedMean.u > independent);
});

Deno.test("depths on different chords agree where the sphere is one", () => {
  // INVENTED sphere
  const rows = [148, 120, 90].map((chord) => ({ depth: sagitta(chord, 2345), chord }));
  const made = depthGauge(rows, KESTREL) ?? assert.fail();
  assert.ok(Math.abs(made.radius.value - 2345) < 1e-6);
});

Deno.test("no depth, no estimate; a depth that is none is refused", () => {
  assert.equal(depthGauge([{}], KESTREL), undefined);
  assert.throws(
    () => depthGauge([{ depth: 0 }], KESTREL),
    /^CannotTell: a depth of 0 mm is no hollow/,
  );
  assert.throws(() => depthGauge([{ depth: 1, chord: 200 }], KESTREL), /chord <= aperture/);
  assert.ok(radiusFromSagitta(1.15, 148) > 2380);
});
