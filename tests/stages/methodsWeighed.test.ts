import assert from "node:assert/strict";
import { combine } from "../../lib/measuring/combine.ts";
import {
  claim,
  decideReadings,
  estimatesNow,
  methodsApart,
  weighed,
  whatHelps,
  yourBudget,
} from "../../lib/stages/methodsWeighed.ts";
import { chosen, demo as asha, empty, halfway as bram, mirrorOf } from "./mirrors.ts";

Deno.test("estimatesNow: the same radii as the summary's, and together the same mean", () => {
  for (const mirror of [asha, bram]) {
    const estimates = estimatesNow(mirror);
    const used = mirror.summary.curve?.estimates.filter((one) => one.used) ?? [];
    assert.deepEqual(estimates.map(({ method }) => method), used.map(({ method }) => method));
    assert.deepEqual(
      estimates.map(({ radius }) => radius.value),
      used.map(({ radius }) => radius.value),
    );
    assert.equal(combine(estimates).radius.value, mirror.summary.curve?.radius?.value);
  }
  assert.deepEqual(estimatesNow(empty), []);
});

Deno.test("weighed: half the uncertainty has four times the weight", () => {
  const text = weighed([claim("leaves", 2400, 10), claim("spherometer", 2400, 5)]).text;
  assert.match(text, /Leaves \| 2400 ± 10 \| 20\s% \| 0\.0/);
  assert.match(text, /Spherometer \| 2400 ± 5 \| 80\s% \| 0\.0/);
});

Deno.test("methodsApart: three that quarrel have a Birge ratio of 4, and the odd one is named", () => {
  const three = [
    claim("leaves", 2350, 12),
    claim("spherometer", 2402, 6),
    claim("sun distance", 2440, 10),
  ];
  // DERIVED weights 1/144 1/36 1/100, mean 2402.6; chi² = (52.6/12)² + (0.6/6)² + (37.4/10)² = 33.2; sqrt(33.2/2) = 4.07
  assert.match(methodsApart(three).text, /Birge ratio 4\.07/);
  assert.match(methodsApart(three).text, /Leaves stands apart/);
  assert.match(methodsApart(estimatesNow(asha)).text, /They agree/);
});

Deno.test("yourBudget and whatHelps: own where there is something, else the demo's, marked", () => {
  assert.match(yourBudget(asha, asha).text, /settings of the Sun's image 79 %/);
  assert.match(yourBudget(bram, asha).text, /^Yours · Bram's/);
  assert.match(yourBudget(empty, asha).text, /nothing yet[\s\S]*Demo mirror, not yours/);
  const help = whatHelps(asha, asha).text;
  assert.match(help, /Sun, distance \| settings of the Sun's image: one more reading \| 2\.3/);
  const gains = [...help.matchAll(/(\d+)\s%/g)].map(([, gain]) => Number(gain));
  assert.deepEqual(gains, gains.toSorted((a, b) => b - a));
  assert.match(whatHelps(empty, asha).text, /Demo mirror, not yours/);
});

Deno.test("decideReadings: on, none, a cause to find, more readings", () => {
  assert.equal(chosen(decideReadings(asha).html), "Go on");
  assert.equal(chosen(decideReadings(bram).html), "Go on");
  assert.equal(chosen(decideReadings(empty).html), "Read again");
  const shifted = asha.record.sun.map((row) =>
    row.distance === undefined ? row : { ...row, distance: row.distance + 25 }
  );
  assert.equal(
    chosen(decideReadings(mirrorOf({ ...asha.record, sun: shifted })).html),
    "Find the cause",
  );
  const one = asha.record.sagitta.filter(({ afterMin }) => afterMin === 338).slice(0, 1);
  const alone = mirrorOf({ ...asha.record, sagitta: one, spherometer: [], sun: [] });
  const u = alone.summary.curve?.focalLength?.u ?? 0;
  assert.equal(chosen(decideReadings(alone).html), u > 10 ? "Read again" : "Go on");
});
