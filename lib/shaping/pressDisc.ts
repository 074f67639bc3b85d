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
  const { count, node, corner, weight, cover, x, y } = places;
  const gap = own.gap, loss = own.loss;
  if (pressure === "even") return pressEvenly(places, loss, load.force * wear);
  if (pressure === "flat discs") gap.fill(0, 0, count);
  else {
    const h = own.rest, g = other.rest;
    for (let i = 0, j = 0; i < count; i++, j += 4) {
      gap[i] = (h[node[i] as number] as number) +
        (weight[j] as number) * (g[corner[j] as number] as number) +
        (weight[j + 1] as number) * (g[corner[j + 1] as number] as number) +
        (weight[j + 2] as number) * (g[corner[j + 2] as number] as number) +
        (weight[j + 3] as number) * (g[corner[j + 3] as number] as number);
    }
  }
  settle(gap, places, stiffness, load, plane);
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
