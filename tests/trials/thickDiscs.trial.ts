// deno-lint-ignore-file no-console
/**
 * Discs of glass on 3, 6, 9 and 18 points, from thin to a third of the radius thick: the plate with shear beside a solid
 * body of three-dimensional elasticity. Bound: refocused, neither the body's whole height nor its polished face sags more
 * than the plate says.
 *
 * `deno task trial thickDiscs`
 */
import assert from "node:assert/strict";
import { type Points, SUPPORTS } from "../../lib/telescope/cell.ts";
import { plateOnPoints } from "../../lib/telescope/plate.ts";
import { elasticSag, padsOf } from "../telescope/elasticDisc.ts";

console.log("points  t/a   shear/thin  whole height/plate  face/plate (refocused)");
let most = 0;
for (const points of [3, 6, 9, 18] as readonly Points[]) {
  const rings = SUPPORTS[points], thin = plateOnPoints(rings, { poisson: 0.22 }).rms;
  for (const thickness of [0.05, 0.1, 0.2, 0.25, 1 / 3]) {
    const plate = plateOnPoints(rings, { poisson: 0.22, thickness });
    const solid = elasticSag({ thickness, poisson: 0.22, pads: padsOf(rings) });
    const shares = [solid.plate, solid.face].map((one) => one.rmsRefocused / plate.rmsRefocused);
    most = Math.max(most, ...shares);
    const row = [plate.rms / thin, ...shares].map((share) => share.toFixed(3).padStart(10));
    console.log(`${String(points).padStart(6)}  ${thickness.toFixed(2)}  ${row.join("     ")}`);
  }
}
console.log(`largest share ${most.toFixed(3)}, bound 1`);
assert.ok(most < 1);
