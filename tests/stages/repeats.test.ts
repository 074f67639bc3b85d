import assert from "node:assert/strict";
import { histogram, yourRepeats } from "../../lib/stages/repeats.ts";
import { demo as asha, empty, halfway as bram, marks } from "./mirrors.ts";

const asSun = { title: "Sun’s image (mm)", step: 1, digits: 0 };
const settings = [1199, 1194, 1203, 1197, 1196, 1201];

Deno.test("histogram: mean and spread of six settings", () => {
  // DERIVED deviations 0.67 -4.33 4.67 -1.33 -2.33 2.67; squares 55.33; s = sqrt(55.33 / 5) = 3.33; u = s / sqrt 6 = 1.36
  assert.match(histogram(settings, asSun).text, /spreads by 3\.3 mm\. Mean 1198\.3 ± 1\.4 mm/);
});

Deno.test("histogram: a far reading is struck through among seven, never among five", () => {
  const seven = histogram([...settings, 1266], asSun).text;
  assert.match(seven, /Set aside and struck through: 1266 mm/);
  assert.match(seven, /Mean 1198\.3/);
  const five = histogram([1199, 1194, 1203, 1197, 1266], asSun).text;
  assert.doesNotMatch(five, /struck through/i);
  assert.match(five, /Mean 1212/); // DERIVED 6059 / 5 = 1211.8
});

Deno.test("histogram: of two equal readings that both stand too far off, each is struck once", () => {
  const many = Array.from({ length: 5 }, () => settings).flat();
  const twice = [...many, 1266, 1266];
  const struck = /struck through: ([\d, ]+) mm/.exec(histogram(twice, asSun).text)?.[1];
  assert.equal(struck, "1266, 1266");
});

Deno.test("histogram: equal readings have the step for their spread, and one reading no mean", () => {
  // DERIVED 1 / sqrt 12 = 0.2887
  assert.match(histogram([1200, 1200, 1200], asSun).text, /spreads by 0\.3 mm/);
  assert.doesNotMatch(histogram([1200, 1201], asSun).text, /Mean/);
  assert.throws(() => histogram([], asSun), RangeError);
  assert.throws(() => histogram([NaN, 1], asSun), RangeError);
});

Deno.test("yourRepeats: own histograms, too few with the demo's beside, none with how to take them", () => {
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

Deno.test("yourRepeats: one reading of a kind that the demo has none of stands alone, told to be too few", () => {
  // INVENTED: one setting of the lamp, of which the demo has no table
  const record = { ...bram.record, lamp: [{ file: "lamp.csv", line: 2, distance: 2398 }] };
  const shown = yourRepeats({ ...bram, record }, asha);
  assert.match(shown.text, /lamp[^\n]*, 1 reading/);
  assert.match(shown.text, /Only 1 reading: measure again/);
});
