import assert from "node:assert/strict";
import { lens, liftOff } from "./overlap.ts";

/** Half a unit of the last printed digit, as for every value taken from a table. */
function printed(value: number, text: string): void {
  const digits = text.split(".")[1]?.length ?? 0;
  assert.equal(value.toFixed(digits), text);
}

Deno.test("the overlap of two discs, and where it begins to lift off", () => {
  // DERIVED segments of a circle and their moments, checked by numpy 1.24.2 on a fine grid
  printed(lens(150, 37.5).area, "12105.614");
  printed(lens(150, 37.5).area / (Math.PI * 75 ** 2), "0.68504");
  printed(lens(150, 45).area / (Math.PI * 75 ** 2), "0.623838");
  assert.equal(lens(150, 20).moment.toExponential(7), "1.5267724e+7");
  printed(lens(150, 20).outer, "1.624994");
  printed(lens(150, 20).inner, "0.375006");
  assert.equal(lens(150, 37.5).moment.toExponential(5), "9.31225e+6");
  printed(lens(150, 37.5).outer, "2.371058");
  printed(lens(150, 37.5).inner, "-0.371058");
  printed(liftOff(150), "29.46767");
  printed(liftOff(150) / 75, "0.39290");
});
