import assert from "node:assert/strict";
import { detailFor } from "../../../lib/shaping/grinding/detailFor.ts";
import { chordRoutine } from "../../../lib/shaping/grinding/routine.ts";

Deno.test("a disc that comes back to one place or two wants fine cells, square ones only where neither is turned", () => {
  const usual = chordRoutine(150);
  const angles = (upperTurn: number, lowerTurn: number): number | undefined =>
    detailFor({ ...usual, upperTurn, lowerTurn }, 150).angles;
  const { upperTurn, lowerTurn } = usual;
  assert.equal(angles(upperTurn, lowerTurn), undefined);
  // RECORDED what the long trial beside grids of 128 cells was run with: 144, and 288 with neither turned
  assert.deepEqual([angles(0, lowerTurn), angles(upperTurn, 0), angles(0, 0)], [144, 144, 288]);
  assert.deepEqual([angles(Math.PI, lowerTurn), angles(upperTurn, Math.PI)], [144, 144]);
  assert.deepEqual([angles(0, Math.PI), angles(Math.PI, 0), angles(Math.PI, Math.PI)], [
    144,
    144,
    144,
  ]);
  // three places are enough
  assert.equal(angles((2 * Math.PI) / 3, lowerTurn), undefined);
});
