/** The kit's tables of glass and grit beside what stands in print, and what in print it does not reckon. READ each in `tests/references/published`. */
import assert from "node:assert/strict";
import { focalLength } from "../../lib/optics/sphere.ts";
import { abrasives, glasses } from "../../lib/record/tables.ts";
import { hold } from "../references/published.ts";

Deno.test("how glass expands, and how large a grit is", () => {
  const expansion = (name: string): number =>
    1e6 * (glasses().find((one) => one.name === name)?.expansionPerK ?? assert.fail(name));
  hold("expansion-of-glass", {
    "ordinary glass, 1e-6 per degree": expansion("soda-lime"),
    "borosilicate, 1e-6 per degree": expansion("borosilicate"),
    "borosilicate by the message, 1e-6 per degree": expansion("borosilicate"),
  });
  const grain = (name: string): number =>
    abrasives().find((one) => one.name === name)?.ds50Um ?? assert.fail(name);
  hold("grits", {
    "F80, mean, um": grain("F80"),
    "F220 as a microgrit, median, um, 50 to 56": grain("F220"),
  });
});

Deno.test("a mirror of 800 mm; fringes and heat, which the kit does not reckon, are named", () => {
  hold("mirror-equation", { "telephoto mirror of R = 1.6 m: focal length, mm": focalLength(1600) });
  hold("fringes", {});
  hold("heat-by-foam-and-radiation", {});
});
