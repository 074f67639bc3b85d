import fc from "fast-check";
import assert from "node:assert/strict";
import { random } from "../../../lib/numeric/random.ts";
import { pitDepth } from "../../../lib/shaping/grinding/grade.ts";
import {
  pitFall,
  polishedOut,
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

const rules = { fields: 5 };
const clean = [0, 0, 0, 0, 0];

Deno.test("five empty fields at the edge end polishing, four do not", () => {
  assert.equal(polishedOut({ edge: clean }, rules).do, "test");
  const four = polishedOut({ edge: [0, 0, 0, 0] }, rules);
  assert.equal(four.do, "look more");
  assert.match(four.why, /4 of 5 fields/);
});

Deno.test("no pit seen is not no pit: at 95 % fewer than 0.6 to a field", () => {
  const most = polishedOut({ edge: clean }, rules).pitsPerFieldAtMost ?? NaN;
  // DERIVED: exp(-5 m) = 0.05
  assert.ok(Math.abs(most - Math.log(20) / 5) < 1e-12);
  const draw = random(3);
  let none = 0;
  for (let i = 0; i < 20000; i++) {
    let seen = 0;
    for (let field = 0; field < 5; field++) if (draw.uniform() > Math.exp(-most)) seen++;
    if (seen === 0) none++;
  }
  assert.ok(Math.abs(none / 20000 - 0.05) < 0.007, "so many pits hide in one look of twenty");
});

Deno.test("a count that falls goes on, one that stays sends to the press", () => {
  assert.equal(polishedOut({ edge: [4, 3, 5, 2, 4], before: [9, 8, 7, 9, 8] }, rules).do, "polish");
  assert.equal(polishedOut({ edge: [4, 3, 5, 2, 4], before: [4, 4, 4, 3, 4] }, rules).do, "press");
  assert.equal(polishedOut({ edge: [4, 3, 5, 2, 4] }, rules).do, "polish");
});

Deno.test("counts that are none are refused", () => {
  assert.throws(() => polishedOut({ edge: [0.5] }, rules), /whole counts/);
  assert.throws(() => polishedOut({ edge: clean, before: [-1] }, rules), /whole counts/);
});

Deno.test("one pit is one pit", () => {
  const rules = { fields: 5 };
  assert.equal(polishedOut({ edge: [0, 0, 1, 0, 0] }, rules).why, "1 pit in 5 fields at the edge");
  assert.match(polishedOut({ edge: [1] }, rules).why, /1 pit so far$/);
});

Deno.test("two looks tell the rate: by hand, and with the root of the counts", () => {
  const looks = [{ hours: 2, pits: 40, fields: 10 }, { hours: 4, pits: 6, fields: 10 }];
  const fall = pitFall(looks);
  // DERIVED k = ln(40 / 6) / 2 = 0.94856 an hour; u(k) = sqrt(1 / 40 + 1 / 6) / 2 = 0.21890
  const k = Math.log(40 / 6) / 2, u = Math.sqrt(1 / 40 + 1 / 6) / 2;
  assert.ok(Math.abs((fall?.halving.value ?? 0) - Math.LN2 / k) < 1e-9);
  assert.ok(Math.abs((fall?.halving.u ?? 0) - Math.LN2 * u / k ** 2) < 1e-9);
  // DERIVED 4 h + ln(0.6 / 0.05) / k = 6.62 h
  assert.ok(Math.abs((fall?.over.value ?? 0) - (4 + Math.log(12) / k)) < 1e-9);
  // DERIVED t = 4 + (ln n2 + const) / k, k = (ln n1 - ln n2) / 2: by both counts, u(ln n) = 1 / sqrt(n)
  const d2 = 1 / k + Math.log(12) / k ** 2 / 2, d1 = -Math.log(12) / k ** 2 / 2;
  const byHand = Math.sqrt(d1 ** 2 / 40 + d2 ** 2 / 6);
  assert.ok(Math.abs((fall?.over.u ?? 0) / byHand - 1) < 1e-6, `${fall?.over.u} ${byHand}`);
});

Deno.test("law: counts drawn from a known fall give it back, within their own doubt as often as said", () => {
  const draw = random(11), truth = 0.6;
  const poisson = (mean: number): number => {
    let n = 0;
    for (let left = draw.uniform(); left > Math.exp(-mean); left *= draw.uniform()) n++;
    return n;
  };
  let inside = 0, told = 0, all = 0;
  for (let i = 0; i < 400; i++) {
    const looks = [1, 2, 3, 4].map((hours) => ({
      hours,
      fields: 10,
      pits: poisson(60 * Math.exp(-truth * hours)),
    }));
    const fall = pitFall(looks);
    all++;
    if (fall === undefined) continue;
    told++;
    const k = Math.LN2 / fall.halving.value, u = fall.halving.u * k ** 2 / Math.LN2;
    if (Math.abs(k - truth) < u) inside++;
  }
  assert.ok(told > 0.98 * all);
  // 68 % within one standard uncertainty; 400 trials scatter by 2.3 %
  assert.ok(Math.abs(inside / told - 0.683) < 0.08, `${inside} of ${told}`);
});

Deno.test("a count that stays tells no rate; looks that are none are refused", () => {
  const two = (first: number, then: number) => [
    { hours: 2, pits: first, fields: 10 },
    { hours: 4, pits: then, fields: 10 },
  ];
  assert.equal(pitFall(two(9, 8)), undefined);
  assert.equal(pitFall(two(8, 12)), undefined);
  assert.ok(pitFall(two(30, 0)) === undefined || Number.isFinite(pitFall(two(30, 0))?.over.value));
  assert.throws(() => pitFall(two(0, 0)), /one pit at least/);
  assert.throws(() => pitFall([{ hours: 2, pits: 4, fields: 10 }]), /two different hours/);
  assert.throws(() => pitFall(two(1.5, 1)), /whole counts/);
});
