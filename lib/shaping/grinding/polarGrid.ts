/** A disc as rings of equal width and equal angles, and how two such discs lie over one another. */

/** Heights of a disc stand in one array, ring after ring from the centre out, each ring by its angle. */
export interface PolarGrid {
  /** mm */
  readonly radius: number;
  /** number of rings */
  readonly rings: number;
  /** divisible by 24, so that turns of 120 and 45 degrees are whole steps */
  readonly angles: number;
}

/** Area of one node's cell in a ring, mm2. */
export function cellArea({ radius, rings, angles }: PolarGrid, ring: number): number {
  return Math.PI * (radius / rings) ** 2 * (2 * ring + 1) / angles;
}

/** Distance of a ring's nodes from the centre, mm. */
export function ringRadius({ radius, rings }: PolarGrid, ring: number): number {
  return (ring + 0.5) * radius / rings;
}

/** The nodes of one disc that lie over the other, for one place of the stroke. */
export interface Overlap {
  readonly count: number;
  /** node in its own grid */
  readonly node: Int32Array;
  /** four nodes of the other grid about each, and their weights */
  readonly corner: Int32Array;
  readonly weight: Float64Array;
  /** place from the upper disc's centre, mm */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** share of the cell that lies over the other disc */
  readonly cover: Float64Array;
  /** area of that share, mm2 */
  readonly area: Float64Array;
  /** the places whose cell lies over the other disc in part: their middle is not their node */
  readonly cut: Int32Array;
  /** four nodes of the own grid about each of these, and their weights */
  readonly cutCorner: Int32Array;
  readonly cutWeight: Float64Array;
  /** what the load is shifted by for the cells' breadth, mm */
  readonly breadth: readonly [number, number];
}

/** A cell's edge is followed by this many samples each way. */
const samples = 6;

/**
 * Finds the nodes of `own` that lie over `other`.
 *
 * @param shift   from own centre to the other's, mm
 * @param origin  from own centre to the upper disc's, mm: `shift` for the lower disc, nothing for the upper
 */
export function overlap(
  own: PolarGrid,
  other: PolarGrid,
  shift: readonly [number, number],
  origin: readonly [number, number],
): Overlap {
  const found: { node: number; x: number; y: number; cover: number; area: number }[] = [];
  for (let ring = 0; ring < own.rings; ring++) {
    for (let turn = 0; turn < own.angles; turn++) {
      const part = coveredPart(own, other, ring, turn, shift);
      if (part.cover === 0) continue;
      const node = ring * own.angles + turn, area = part.cover * cellArea(own, ring);
      found.push({ node, area, ...part });
    }
  }
  const read = interpolation(other, found.map(({ x, y }) => [x - shift[0], y - shift[1]]));
  const cut = found.flatMap(({ cover }, i) => cover < 1 ? [i] : []);
  const own4 = interpolation(own, cut.map((i) => [found[i]?.x ?? 0, found[i]?.y ?? 0]));
  return {
    count: found.length,
    node: Int32Array.from(found, ({ node }) => node),
    ...read,
    cut: Int32Array.from(cut),
    cutCorner: own4.corner,
    cutWeight: own4.weight,
    breadth: cellBreadth(own, found, origin),
    x: Float64Array.from(found, ({ x }) => x - origin[0]),
    y: Float64Array.from(found, ({ y }) => y - origin[1]),
    cover: Float64Array.from(found, ({ cover }) => cover),
    area: Float64Array.from(found, ({ area }) => area),
  };
}

/** Share of a cell over the other disc, and the middle of that share. */
function coveredPart(
  own: PolarGrid,
  other: PolarGrid,
  ring: number,
  turn: number,
  [dx, dy]: readonly [number, number],
): { readonly cover: number; readonly x: number; readonly y: number } {
  const step = own.radius / own.rings, wedge = 2 * Math.PI / own.angles;
  const r = ringRadius(own, ring), angle = turn * wedge;
  const away = Math.hypot(r * Math.cos(angle) - dx, r * Math.sin(angle) - dy);
  const reach = Math.hypot(step, r * wedge) * 0.75;
  if (away < other.radius - reach) {
    const middle = 2 / 3 * step * (3 * ring * ring + 3 * ring + 1) / (2 * ring + 1) *
      Math.sin(wedge / 2) / (wedge / 2);
    return { cover: 1, x: middle * Math.cos(angle), y: middle * Math.sin(angle) };
  }
  if (away > other.radius + reach) return { cover: 0, x: 0, y: 0 };
  let inside = 0, all = 0, sumX = 0, sumY = 0;
  for (let i = 0; i < samples; i++) {
    const ri = step * (ring + (i + 0.5) / samples);
    for (let j = 0; j < samples; j++) {
      const aj = angle + wedge * ((j + 0.5) / samples - 0.5);
      const x = ri * Math.cos(aj), y = ri * Math.sin(aj);
      all += ri;
      if ((x - dx) ** 2 + (y - dy) ** 2 >= other.radius ** 2) continue;
      inside += ri, sumX += ri * x, sumY += ri * y;
    }
  }
  return inside > 0
    ? { cover: inside / all, x: sumX / inside, y: sumY / inside }
    : { cover: 0, x: 0, y: 0 };
}

/** Bilinear in ring and angle; within the first ring through the centre, past the last ring straight on. */
function interpolation(
  { radius, rings, angles }: PolarGrid,
  places: readonly (readonly [number, number])[],
): { readonly corner: Int32Array; readonly weight: Float64Array } {
  const corner = new Int32Array(4 * places.length), weight = new Float64Array(4 * places.length);
  const node = (ring: number, turn: number): number =>
    ring < 0 ? (turn + angles / 2) % angles : ring * angles + turn % angles;
  places.forEach(([x, y], i) => {
    const across = Math.hypot(x, y) * rings / radius - 0.5;
    const around = (Math.atan2(y, x) / (2 * Math.PI) + 1) * angles;
    const inner = Math.min(Math.floor(across), rings - 2), first = Math.floor(around);
    const s = across - inner, t = around - first, at = 4 * i;
    corner[at] = node(inner, first), weight[at] = (1 - s) * (1 - t);
    corner[at + 1] = node(inner, first + 1), weight[at + 1] = (1 - s) * t;
    corner[at + 2] = node(inner + 1, first), weight[at + 2] = s * (1 - t);
    corner[at + 3] = node(inner + 1, first + 1), weight[at + 3] = s * t;
  });
  return { corner, weight };
}

/** One place of an overlap: where it lies in its own grid, and from the upper disc's centre; mm and mm2. */
interface Cell {
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
function cellBreadth(
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
