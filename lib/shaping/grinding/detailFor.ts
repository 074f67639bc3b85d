/** How finely a routine has to be reckoned. */
import { checkRoutine, type Routine } from "./routine.ts";
import type { WearDetail } from "./wear.ts";

/** Twice as fine in each direction, and half as fine again along the stroke. */
const fine: WearDetail = { rings: 48, angles: 144, places: 6 };
/** Cells of 1.6 mm each way at the rim of a 150 mm disc. */
const finest: WearDetail = { ...fine, angles: 288 };

/**
 * The detail at which both discs' sagittas come within half a percent.
 *
 * Where a disc is worn in one direction only, or in two opposite ones, steep edges grow between the places, which the usual
 * 24 rings do not resolve: the lower disc of such a routine came out 1.3 % off, finely 0.3 %. Where neither disc is turned at
 * all, a trefoil of 2.5 um beside an astigmatism of 218 wants square cells too: 1.8 um with 144 angles, 2.3 with 288
 * (`deno task trial judge`).
 *
 * @param routine   see `Routine`
 * @param aperture  diameter of the discs, mm, above 0
 * @throws {RangeError} for a routine that cannot be done
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { chordRoutine } from "./routine.ts";
 * assert.deepEqual(detailFor(chordRoutine(150), 150), {});
 * assert.equal(detailFor({ ...chordRoutine(150), upperTurn: Math.PI }, 150).angles, 144);
 * assert.equal(detailFor({ ...chordRoutine(150), upperTurn: 0, lowerTurn: 0 }, 150).angles, 288);
 * ```
 */
export function detailFor(routine: Routine, aperture: number): WearDetail {
  const { upperPlaces = Infinity, lowerPlaces = Infinity } = checkRoutine(routine, aperture);
  if (Math.max(upperPlaces, lowerPlaces) === 1) return finest;
  return Math.min(upperPlaces, lowerPlaces) <= 2 ? fine : {};
}
