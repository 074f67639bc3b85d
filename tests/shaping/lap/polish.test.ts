import assert from "node:assert/strict";
import fc from "fast-check";
import { pitDepth } from "../../../lib/shaping/grinding/grade.ts";
import {
  polishPressure,
  polishRate,
  polishTime,
  usualEdgeShare,
} from "../../../lib/shaping/lap/polish.ts";

const work = { wearPerPa: 1e-12, loadKg: 3.25, aperture: 150, metrePerSecond: 0.2 };

Deno.test("pressure, rate and hours of a 150 mm mirror", () => {
  // DERIVED: 3.25 kg x 9.80665 / (pi 75^2 mm2); k p v x 3600 s. Tolerance 1e-3
  const near = (found: number, wanted: number): void =>
    assert.ok(Math.abs(found / wanted - 1) < 1e-3, `${found} beside ${wanted}`);
  near(polishPressure(3.25, 150), 1803.6);
  near(polishRate(work), 1.2986);
  near(polishTime({ pits: { least: 5, most: 5 }, rate: polishRate(work) }).centre.hours, 3.85);
});

Deno.test("half the load takes twice as long, and so does half the speed", () => {
  assert.ok(Math.abs(polishRate({ ...work, loadKg: 1.625 }) * 2 / polishRate(work) - 1) < 1e-12);
  assert.ok(
    Math.abs(polishRate({ ...work, metrePerSecond: 0.1 }) * 2 / polishRate(work) - 1) < 1e-12,
  );
});

Deno.test("the edge decides, and its range is as wide as a guessed rate makes it", () => {
  // DERIVED 3 um at twice the rate and 5 um at half of it lie outside 3.9 to 5.6 h; INVENTED rate
  const { centre, edge } = polishTime({ pits: { least: 3, most: 5 }, rate: 1.3 });
  assert.ok(edge.hours > centre.hours);
  assert.ok(Math.abs(centre.hours / edge.hours - usualEdgeShare) < 1e-12);
  assert.ok(edge.least < 3.9 && edge.most > 5.6);
  const known = polishTime({ pits: { least: 5, most: 5 }, rate: 1.3, rateFactor: 1.2 });
  assert.ok(known.edge.most - known.edge.least < 3);
});

Deno.test("laws: hours go with the pits and against the rate; the range holds the value", () => {
  const some = fc.double({ min: 0.1, max: 10, noNaN: true });
  fc.assert(fc.property(some, some, some, (a, b, rate) => {
    const pits = { least: Math.min(a, b), most: Math.max(a, b) };
    const { edge } = polishTime({ pits, rate });
    assert.ok(edge.least <= edge.hours && edge.hours <= edge.most);
    const twice = polishTime({ pits: { least: 2 * pits.least, most: 2 * pits.most }, rate });
    assert.ok(Math.abs(twice.edge.hours / edge.hours - 2) < 1e-9);
    const mean = (pits.least + pits.most) / 2;
    assert.ok(Math.abs(mean - rate * usualEdgeShare * edge.hours) < 1e-9);
  }));
});

Deno.test("a jump over F800 and F1200 costs hours", () => {
  const after = (ds50Um: number): number =>
    polishTime({ pits: pitDepth({ ds50Um }), rate: 1.3 }).edge.hours;
  assert.ok(after(12.8) > 4 * after(3));
});

Deno.test("what polishing cannot be reckoned from is refused", () => {
  assert.throws(() => polishRate({ ...work, loadKg: 0 }), /loadKg above 0, got loadKg=0/);
  assert.throws(() => polishPressure(1, Infinity), RangeError);
  assert.throws(() => polishTime({ pits: { least: 5, most: 3 }, rate: 1 }), /least <= most/);
  assert.throws(() => polishTime({ pits: { least: 1, most: 3 }, rate: 0 }), /rate above 0/);
  assert.throws(() => polishTime({ pits: { least: 1, most: 3 }, rate: 1, edgeShare: 0 }), /edge/);
});
