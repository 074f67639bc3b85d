/** Heights made ready to be read between the nodes: what a straight line between two nodes adds is taken off beforehand. */
import type { PolarGrid } from "./polarGrid.ts";

/**
 * Fills `ready` from `heights`.
 *
 * Between two nodes a straight line lies above a hollow curve, on average by a twelfth of the curve's second difference.
 * Taken off each node in both directions, reading in straight lines is right on average. A step higher than `limit` is a
 * wall and not a curve: no more than a twelfth of that is taken off.
 *
 * @param grid     of the disc
 * @param heights  on its nodes, mm
 * @param limit    largest second difference that counts as a curve, mm
 * @param ready    filled, mm
 * @see mean error of linear interpolation, t (1 - t) f'' / 2 over 0 to 1: f'' / 12
 * @example a bowl r^2 is read at its true height on average
 * ```ts
 * import assert from "node:assert/strict";
 * const grid = { radius: 75, rings: 15, angles: 24 };
 * const bowl = Float64Array.from({ length: 360 }, (_, at) => (Math.floor(at / 24) + 0.5) ** 2);
 * const ready = new Float64Array(360);
 * heightsToRead(grid, bowl, Infinity, ready);
 * assert.equal((bowl[100]! - ready[100]!).toFixed(6), (2 / 12).toFixed(6));
 * ```
 */
export function heightsToRead(
  { rings, angles }: PolarGrid,
  heights: Float64Array,
  limit: number,
  ready: Float64Array,
): void {
  for (let ring = 0, at = 0; ring < rings; ring++) {
    for (let turn = 0; turn < angles; turn++, at++) {
      const h = heights[at] as number;
      const left = heights[turn === 0 ? at + angles - 1 : at - 1] as number;
      const right = heights[turn === angles - 1 ? at - angles + 1 : at + 1] as number;
      let bend = left + right - 2 * h;
      if (ring < rings - 1) {
        const inner = heights[ring === 0 ? (turn + angles / 2) % angles : at - angles] as number;
        bend += inner + (heights[at + angles] as number) - 2 * h;
      }
      ready[at] = h - Math.max(-limit, Math.min(limit, bend)) / 12;
    }
  }
}
