import assert from "node:assert/strict";
import { WornDisc } from "../../../lib/shaping/grinding/wornDisc.ts";

const grid = { radius: 75, rings: 3, angles: 24 }, step = (2 * Math.PI) / grid.angles;

/** A disc with a mark in one cell of each ring. */
function marked(cell: number): WornDisc {
  const disc = new WornDisc(grid);
  for (let ring = 0; ring < grid.rings; ring++) disc.rest[ring * grid.angles + cell] = ring + 1;
  return disc;
}

/** Where the mark stands, the same in all rings. */
function markOf({ rest }: WornDisc): number {
  const cells = Array.from(
    { length: grid.rings },
    (_, ring) => rest.indexOf(ring + 1) - ring * grid.angles,
  );
  assert.ok(cells.every((cell) => cell === cells[0]), cells.join());
  return cells[0] ?? NaN;
}

Deno.test("small turns add up: less than half a cell moves nothing, and is not forgotten", () => {
  const disc = marked(3), seen: number[] = [];
  for (let turn = 0; turn < 5; turn++) {
    disc.turn(0.4 * step);
    seen.push(markOf(disc));
  }
  // DERIVED 0.4, 0.8, 1.2, 1.6 and 2 cells, rounded
  assert.deepEqual(seen, [3, 4, 4, 5, 5]);
  disc.turn(-2 * step);
  assert.equal(markOf(disc), 3);
});

Deno.test("a disc turned over has its mark at the angle's negative, and turns on from there", () => {
  const lower = marked(3);
  lower.turn(5 * step);
  const upper = new WornDisc(grid);
  upper.take(lower.rest, lower.turned);
  // DERIVED cell 8 becomes cell -8 of 24; the disc has been turned by -5 cells
  assert.equal(markOf(upper), 16);
  upper.turn(3 * step);
  assert.equal(markOf(upper), 19);
  upper.turn(2 * step);
  assert.equal(markOf(upper), 21, "turned back to nought: the negative of 3");
  assert.ok(Math.abs(upper.turned) < 1e-12);
});
