import assert from "node:assert/strict";
import { combine } from "../../lib/measuring/combine.ts";
import { measured } from "../../lib/quantity/measured.ts";
import { propagateFormula } from "../../lib/quantity/derivative.ts";
import {
  claim,
  decideReadings,
  estimatesNow,
  heap,
  methodsApart,
  slopes,
  weighed,
  whatHelps,
  yourBudget,
  yourRepeats,
} from "../../lib/stages/readings.ts";
import { demo as asha, empty, halfway as bram, marks, mirrorOf } from "./mirrors.ts";

const asSun = { title: "Sun’s image (mm)", step: 1, digits: 0 };
const settings = [1199, 1194, 1203, 1197, 1196, 1201];

/** The name in the markup of the way on that is chosen. */
function chosen(html: string): string | undefined {
  return /<li class="chosen"><b>([^<]*)<\/b>/.exec(html)?.[1];
}

Deno.test("heap: mean and spread of six settings", () => {
  // DERIVED deviations 0.67 -4.33 4.67 -1.33 -2.33 2.67; squares 55.33; s = sqrt(55.33 / 5) = 3.33; u = s / sqrt 6 = 1.36
  assert.match(heap(settings, asSun).text, /spreads by 3\.3 mm\. Mean 1198\.3 ± 1\.4 mm/);
});

Deno.test("heap: a far reading is struck through among seven, never among five", () => {
  const seven = heap([...settings, 1266], asSun).text;
  assert.match(seven, /Set aside and struck through: 1266 mm/);
  assert.match(seven, /Mean 1198\.3/);
  const five = heap([1199, 1194, 1203, 1197, 1266], asSun).text;
  assert.doesNotMatch(five, /struck through/i);
  assert.match(five, /Mean 1212/); // DERIVED 6059 / 5 = 1211.8
});

Deno.test("heap: of two equal readings that both stand too far off, each is struck once", () => {
  const many = Array.from({ length: 5 }, () => settings).flat();
  const twice = [...many, 1266, 1266];
  const struck = /struck through: ([\d, ]+) mm/.exec(heap(twice, asSun).text)?.[1];
  assert.equal(struck, "1266, 1266");
});

Deno.test("heap: equal readings have the step for their spread, and one reading no mean", () => {
  // DERIVED 1 / sqrt 12 = 0.2887
  assert.match(heap([1200, 1200, 1200], asSun).text, /spreads by 0\.3 mm/);
  assert.doesNotMatch(heap([1200, 1201], asSun).text, /Mean/);
  assert.throws(() => heap([], asSun), RangeError);
  assert.throws(() => heap([NaN, 1], asSun), RangeError);
});

Deno.test("yourRepeats: own heaps, too few with the demo's beside, none with how to take them", () => {
  const own = yourRepeats(asha, asha).text;
  assert.equal(marks(yourRepeats(asha, asha)), "yyy");
  assert.doesNotMatch(own, /Demo mirror, not yours/);
  const half = yourRepeats(bram, asha).text;
  assert.match(half, /Yours · the Sun · nothing yet/);
  assert.match(half, /Yours · Bram's[^\n]*leaves, 2 readings/);
  assert.match(half, /Only 2 readings: measure again/);
  assert.match(half, /Yours · Bram's[^\n]*spherometer, 3 readings/);
  assert.equal(marks(yourRepeats(bram, asha)), "ndydy");
  assert.equal(marks(yourRepeats(empty, asha)), "ndndnd");
});

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

Deno.test("slopes: R = r²/2s falls by r²/2s² for each millimetre of depth, written as one fraction", () => {
  const inputs = { r: measured(74, 0.15, "mm"), s: measured(1.1485, 0.0058, "mm") };
  const shown = slopes("R", propagateFormula("r^2 / (2 s)", inputs));
  // DERIVED 74 / 1.1485 = 64.4; 5476 / (2 x 1.31905) = 2075.7
  assert.match(shown.text, /dR\/dr = r \/ s = 64\.4/);
  assert.match(shown.text, /= -2080$/);
  assert.doesNotMatch(shown.html, /mathrm|<mfrac>\s*<mfrac>/);
  assert.equal(shown.html.match(/<mfrac>/g)?.length, 4);
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
  const u = alone.summary.curve?.focal_length?.u ?? 0;
  assert.equal(chosen(decideReadings(alone).html), u > 10 ? "Read again" : "Go on");
});
