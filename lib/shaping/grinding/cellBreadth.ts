/** Cells are broader than points: where the pressure falls across them, what that adds to the moments. */
import { cellArea, type PolarGrid } from "./polarGrid.ts";

/** One place of an overlap: where it lies in its own grid, and from the upper disc's centre; mm and mm2. */
export interface Cell {
  readonly node: number;
  readonly x: number;
  readonly y: number;
  readonly area: number;
}

/**
 * How far off a load must be put so that the places' moments balance as the whole cells' would, mm.
 *
 * A balanced load falls from one side of the overlap to the other, on average by the gradient g = -F C^-1 m with m the
 * overlap's middle seen from the upper disc's centre and C its second moments about that middle. A cell with second moments
 * J about its own middle adds J g, which the places alone do not see; sum J C^-1 m is what the load is shifted by.
 *
 * @param grid    of the cells
 * @param cells   of the overlap
 * @param origin  upper disc's centre from the grid's, mm
 * @see moments of a linear pressure over a cell: derived for this kit, checked by finer grids and by the brute-force judge
 */
export function cellBreadth(
  grid: PolarGrid,
  cells: readonly Cell[],
  origin: readonly [number, number],
): readonly [number, number] {
  const across = (grid.radius / grid.rings) ** 2 / 12,
    wedge = (2 * Math.PI / grid.angles) ** 2 / 12;
  let s = 0, sx = 0, sy = 0, sxx = 0, sxy = 0, syy = 0, jxx = 0, jxy = 0, jyy = 0;
  for (const { node, x: px, y: py, area } of cells) {
    const x = px - origin[0], y = py - origin[1], squared = px * px + py * py;
    s += area, sx += area * x, sy += area * y;
    sxx += area * x * x, sxy += area * x * y, syy += area * y * y;
    // a part of a cell is less broad, about in proportion
    const whole = area * area / cellArea(grid, Math.floor(node / grid.angles));
    const along = wedge * squared, less = across - along;
    jxx += whole * (along + less * px * px / squared);
    jyy += whole * (along + less * py * py / squared);
    jxy += whole * less * px * py / squared;
  }
  const mx = sx / s, my = sy / s;
  const cxx = sxx - sx * mx, cxy = sxy - sx * my, cyy = syy - sy * my;
  const det = cxx * cyy - cxy * cxy;
  const gx = (cyy * mx - cxy * my) / det, gy = (cxx * my - cxy * mx) / det;
  return [jxx * gx + jxy * gy, jxy * gx + jyy * gy];
}
