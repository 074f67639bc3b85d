/** One place of the stroke: the upper disc settles, and one of the discs loses what the grains take. */
import type { Overlap } from "./polarGrid.ts";
import { type Load, type Plane, settle } from "./rigidPlane.ts";
import type { WearSettings } from "./wearSettings.ts";
import type { WornDisc } from "./wornDisc.ts";

/** What presses, on what. */
export interface Work {
  readonly load: Load;
  readonly stiffness: number;
  readonly pressure: WearSettings["pressure"];
}

/** Settles the upper disc by the places of one side, and notes what that side loses. */
export function press(
  places: Overlap,
  own: WornDisc,
  other: WornDisc,
  plane: Plane,
  { load, stiffness, pressure }: Work,
  wear: number,
): void {
  const { count, node, cover, x, y, breadth } = places;
  const gap = own.gap, loss = own.loss;
  if (pressure === "even") return pressEvenly(places, loss, load.force * wear);
  if (pressure === "flat discs") gap.fill(0, 0, count);
  else fillGap(places, own, other);
  const shifted = { force: load.force, x: load.x + breadth[0], y: load.y + breadth[1] };
  settle(gap, places, stiffness, shifted, plane);
  const c = plane[0] as number, a = plane[1] as number, b = plane[2] as number;
  const rate = wear * stiffness;
  for (let i = 0; i < count; i++) {
    const e = (gap[i] as number) - c - a * (x[i] as number) - b * (y[i] as number);
    if (e > 0) {
      const at = node[i] as number;
      loss[at] = (loss[at] as number) + rate * e * (cover[i] as number);
    }
  }
}

/** Sum of both shapes' heights at each place; where a cell is cut, the own height is carried from its node to its middle. */
function fillGap(
  { count, node, corner, weight, cut, cutCorner, cutWeight }: Overlap,
  { rest: h, ready, gap }: WornDisc,
  { ready: g }: WornDisc,
): void {
  for (let i = 0, j = 0; i < count; i++, j += 4) {
    gap[i] = (h[node[i] as number] as number) + between(g, corner, weight, j);
  }
  for (let k = 0, j = 0; k < cut.length; k++, j += 4) {
    const i = cut[k] as number;
    gap[i] = (gap[i] as number) + between(ready, cutCorner, cutWeight, j) -
      (ready[node[i] as number] as number);
  }
}

function between(g: Float64Array, corner: Int32Array, weight: Float64Array, j: number): number {
  return (weight[j] as number) * (g[corner[j] as number] as number) +
    (weight[j + 1] as number) * (g[corner[j + 1] as number] as number) +
    (weight[j + 2] as number) * (g[corner[j + 2] as number] as number) +
    (weight[j + 3] as number) * (g[corner[j + 3] as number] as number);
}

function pressEvenly(
  { count, node, cover, area }: Overlap,
  loss: Float64Array,
  push: number,
): void {
  let whole = 0;
  for (let i = 0; i < count; i++) whole += area[i] as number;
  for (let i = 0; i < count; i++) {
    const at = node[i] as number;
    loss[at] = (loss[at] as number) + push / whole * (cover[i] as number);
  }
}
