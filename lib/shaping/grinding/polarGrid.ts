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

/** The nodes of one disc that lie over the other, for one place of the stroke: the first `count` of each list. */
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
  /** of all places together, about the upper disc's centre */
  readonly whole: Moments;
  /** the places whose cell lies over the other disc in part: their middle is not their node */
  readonly cut: Int32Array;
  /** four nodes of the own grid about each of these, and their weights */
  readonly cutCorner: Int32Array;
  readonly cutWeight: Float64Array;
  /** what the load is shifted by for the cells' breadth, mm */
  readonly breadth: readonly [number, number];
}

/** Area, mm2, and its first and second moments, mm3 and mm4. */
export interface Moments {
  readonly s: number;
  readonly sx: number;
  readonly sy: number;
  readonly sxx: number;
  readonly sxy: number;
  readonly syy: number;
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
  const { rings, angles } = own, size = rings * angles;
  const step = own.radius / rings, wedge = 2 * Math.PI / angles, reached = other.radius;
  const node = new Int32Array(size), x = new Float64Array(size), y = new Float64Array(size);
  const cover = new Float64Array(size), area = new Float64Array(size);
  const cosines = Float64Array.from({ length: angles }, (_, turn) => Math.cos(turn * wedge));
  const sines = Float64Array.from({ length: angles }, (_, turn) => Math.sin(turn * wedge));
  let count = 0;
  for (let ring = 0; ring < rings; ring++) {
    const r = ringRadius(own, ring), cell = cellArea(own, ring);
    const reach = Math.hypot(step, r * wedge) * 0.75;
    const surely = Math.max(0, reached - reach) ** 2, hardly = (reached + reach) ** 2;
    const middle = 2 / 3 * step * (3 * ring * ring + 3 * ring + 1) / (2 * ring + 1) *
      Math.sin(wedge / 2) / (wedge / 2);
    for (let turn = 0; turn < angles; turn++) {
      const cosine = cosines[turn] as number, sine = sines[turn] as number;
      const away = (r * cosine - shift[0]) ** 2 + (r * sine - shift[1]) ** 2;
      if (away > hardly) continue;
      let share = 1, atX = middle * cosine, atY = middle * sine;
      if (away >= surely) {
        [share, atX, atY] = coveredPart(own, reached, ring, turn, shift);
        if (share === 0) continue;
      }
      node[count] = ring * angles + turn, x[count] = atX, y[count] = atY;
      cover[count] = share, area[count] = share * cell;
      count++;
    }
  }
  const cut = Int32Array.from({ length: count }, (_, i) => i).filter((i) => (cover[i] ?? 0) < 1);
  const places = { node, x, y, area, count };
  const read = interpolation(other, count, (i) => [(x[i] ?? 0) - shift[0], (y[i] ?? 0) - shift[1]]);
  const own4 = interpolation(own, cut.length, (k) => [x[cut[k] ?? 0] ?? 0, y[cut[k] ?? 0] ?? 0]);
  const breadth = cellBreadth(own, places, origin);
  for (let i = 0; i < count; i++) {
    x[i] = (x[i] as number) - origin[0], y[i] = (y[i] as number) - origin[1];
  }
  return {
    ...places,
    ...read,
    cut,
    cutCorner: own4.corner,
    cutWeight: own4.weight,
    breadth,
    cover,
    whole: momentsOf(places),
  };
}

function momentsOf({ count, x, y, area }: Cells): Moments {
  let s = 0, sx = 0, sy = 0, sxx = 0, sxy = 0, syy = 0;
  for (let i = 0; i < count; i++) {
    const xi = x[i] as number, yi = y[i] as number, w = area[i] as number;
    s += w, sx += w * xi, sy += w * yi;
    sxx += w * xi * xi, sxy += w * xi * yi, syy += w * yi * yi;
  }
  return { s, sx, sy, sxx, sxy, syy };
}

/** Share of a cell within the other disc's radius, and the middle of that share. */
function coveredPart(
  own: PolarGrid,
  radius: number,
  ring: number,
  turn: number,
  [dx, dy]: readonly [number, number],
): readonly [cover: number, x: number, y: number] {
  const step = own.radius / own.rings, wedge = 2 * Math.PI / own.angles, squared = radius ** 2;
  let inside = 0, all = 0, sumX = 0, sumY = 0;
  for (let j = 0; j < samples; j++) {
    const angle = wedge * (turn + (j + 0.5) / samples - 0.5);
    const cosine = Math.cos(angle), sine = Math.sin(angle);
    for (let i = 0; i < samples; i++) {
      const r = step * (ring + (i + 0.5) / samples), x = r * cosine, y = r * sine;
      all += r;
      if ((x - dx) ** 2 + (y - dy) ** 2 >= squared) continue;
      inside += r, sumX += r * x, sumY += r * y;
    }
  }
  return inside > 0 ? [inside / all, sumX / inside, sumY / inside] : [0, 0, 0];
}

/** Bilinear in ring and angle; within the first ring through the centre, past the last ring straight on. */
function interpolation(
  { radius, rings, angles }: PolarGrid,
  count: number,
  place: (i: number) => readonly [number, number],
): { readonly corner: Int32Array; readonly weight: Float64Array } {
  const corner = new Int32Array(4 * count), weight = new Float64Array(4 * count);
  const node = (ring: number, turn: number): number =>
    ring < 0 ? (turn + angles / 2) % angles : ring * angles + turn % angles;
  for (let i = 0; i < count; i++) {
    const [x, y] = place(i);
    const across = Math.sqrt(x * x + y * y) * rings / radius - 0.5;
    const around = (Math.atan2(y, x) / (2 * Math.PI) + 1) * angles;
    const inner = Math.min(Math.floor(across), rings - 2), first = Math.floor(around);
    const s = across - inner, t = around - first, at = 4 * i;
    corner[at] = node(inner, first), weight[at] = (1 - s) * (1 - t);
    corner[at + 1] = node(inner, first + 1), weight[at + 1] = (1 - s) * t;
    corner[at + 2] = node(inner + 1, first), weight[at + 2] = s * (1 - t);
    corner[at + 3] = node(inner + 1, first + 1), weight[at + 3] = s * t;
  }
  return { corner, weight };
}

/** Cells of an overlap: node, and middle from their own disc's centre; mm and mm2. */
type Cells = Pick<Overlap, "count" | "node" | "x" | "y" | "area">;

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
  { count, node, x: px, y: py, area }: Cells,
  origin: readonly [number, number],
): readonly [number, number] {
  const across = (grid.radius / grid.rings) ** 2 / 12,
    wedge = (2 * Math.PI / grid.angles) ** 2 / 12;
  let s = 0, sx = 0, sy = 0, sxx = 0, sxy = 0, syy = 0, jxx = 0, jxy = 0, jyy = 0;
  for (let i = 0; i < count; i++) {
    const fromX = px[i] as number, fromY = py[i] as number, w = area[i] as number;
    const x = fromX - origin[0], y = fromY - origin[1], squared = fromX * fromX + fromY * fromY;
    s += w, sx += w * x, sy += w * y;
    sxx += w * x * x, sxy += w * x * y, syy += w * y * y;
    // a part of a cell is less broad, about in proportion
    const whole = w * w / cellArea(grid, Math.floor((node[i] as number) / grid.angles));
    const along = wedge * squared, less = across - along;
    jxx += whole * (along + less * fromX * fromX / squared);
    jyy += whole * (along + less * fromY * fromY / squared);
    jxy += whole * less * fromX * fromY / squared;
  }
  const mx = sx / s, my = sy / s;
  const cxx = sxx - sx * mx, cxy = sxy - sx * my, cyy = syy - sy * my;
  const det = cxx * cyy - cxy * cxy;
  const gx = (cyy * mx - cxy * my) / det, gy = (cxx * my - cxy * mx) / det;
  return [jxx * gx + jxy * gy, jxy * gx + jyy * gy];
}
