/**
 * Grinding two discs on one another, set of strokes by set of strokes.
 *
 * Both discs stand on polar grids. For each place of the stroke the upper disc settles on the squeezed grains until force and
 * moments balance; both discs wear by Preston's law, in proportion to pressure and path; between sets they are turned. A
 * misfit higher than twice what the grains are squeezed by counts as a wall when the other disc's height is read between nodes.
 */
import { gaussLegendre } from "../../numeric/quadrature.ts";
import { type Overlap, overlap } from "./polarGrid.ts";
import type { StrokeSet } from "./routine.ts";
import type { WearSettings } from "./wearLaws.ts";
import { type DiscShape, WornDisc } from "./wornDisc.ts";

/** How finely to reckon; the defaults suit a page, finer ones a table of reference. */
export interface WearDetail {
  /** default 24 */
  readonly rings?: number;
  /** default 72; divisible by 24 */
  readonly angles?: number;
  /** places along the stroke, at Gauss's nodes; default one for each sixth of the lower disc's radius */
  readonly places?: number;
  /** longest step, as the share of a misfit that it wears away; below 2 or it swings; default 0.8 */
  readonly step?: number;
}

/** How the work stands. */
export interface Worn {
  readonly upper: DiscShape;
  readonly lower: DiscShape;
  readonly strokes: number;
}

interface Place {
  readonly lower: Overlap;
  readonly upper: Overlap;
  /** share of a stroke's path, mm */
  readonly path: number;
  readonly plane: Plane;
}

/**
 * A bench with two flat discs, to be worn by sets of strokes.
 *
 * @throws {RangeError} for angles not divisible by 24, or counts that are no whole numbers of 2 or more
 * @example an hour of the usual strokes: 0.58 mm with the mirror on top
 * ```ts
 * import assert from "node:assert/strict";
 * import { chordRoutine, playRoutine } from "./routine.ts";
 * import { wearSettings } from "./wearLaws.ts";
 * import { fittedSagitta } from "./discShape.ts";
 * const bench = new WearBench(wearSettings(150), { rings: 12, angles: 24, places: 3 });
 * for (const set of playRoutine(chordRoutine(150), 12)) bench.grind(set);
 * assert.ok(fittedSagitta(bench.worn.upper) > 0 && fittedSagitta(bench.worn.lower) < 0);
 * ```
 */
export class WearBench {
  readonly settings: WearSettings;
  readonly #detail: { readonly rings: number; readonly angles: number; readonly step: number };
  readonly #count: number | undefined;
  readonly #upper: WornDisc;
  readonly #lower: WornDisc;
  readonly #places = new Map<string, readonly Place[]>();
  #curve = 0;
  #strokes = 0;
  #steps = 0;

  constructor(settings: WearSettings, detail: WearDetail = {}) {
    const { rings = 24, angles = 72, places, step = 0.8 } = detail;
    requireDetail(rings, angles, places ?? 3, step);
    this.settings = settings;
    this.#detail = { rings, angles, step };
    this.#count = places;
    this.#upper = new WornDisc({ radius: settings.upperRadius, rings, angles });
    this.#lower = new WornDisc({ radius: settings.lowerRadius, rings, angles });
  }

  /** Both shapes and the strokes so far; copies, which later grinding does not change. */
  get worn(): Worn {
    return {
      upper: this.#upper.shape(this.#curve),
      lower: this.#lower.shape(-this.#curve),
      strokes: this.#strokes,
    };
  }

  /**
   * Grinds one set, then turns both discs.
   *
   * @throws {RangeError} for strokes longer than the disc, or an overhang at which the upper disc tips
   */
  grind(set: StrokeSet): void {
    const places = this.#placesOf(set);
    const { upperWear, lowerWear, stiffness } = this.settings;
    const mating = (upperWear + lowerWear) * stiffness * 2 * set.travel * set.strokes;
    const parts = Math.max(1, Math.ceil(mating / this.#detail.step));
    for (let part = 0; part < parts; part++) this.#wear(places, set.strokes / parts);
    this.#shareCurve();
    this.#upper.turn(set.upperTurn);
    this.#lower.turn(set.lowerTurn);
    this.#strokes += set.strokes;
  }

  /** Swaps the discs: each is turned over, which mirrors it left to right. */
  swap(): void {
    const { upperRadius, lowerRadius, upperWear, lowerWear } = this.settings;
    if (upperRadius !== lowerRadius || upperWear !== lowerWear) {
      throw new RangeError(
        "swap requires two discs of one size and hardness; begin anew with both settings changed",
      );
    }
    const upper = this.#upper.rest.slice(), turned = this.#upper.turned;
    this.#upper.take(this.#lower.rest, this.#lower.turned);
    this.#lower.take(upper, turned);
    this.#curve = -this.#curve;
  }

  /** Both discs wear at each place before the next: from one end of the stroke to the other, or the other way. */
  #wear(places: readonly Place[], strokes: number): void {
    const { upperWear, lowerWear, stiffness, force, lean, pressure, upperRadius } = this.settings;
    const load: Load = { force, x: lean[0], y: lean[1] };
    const work = { load, stiffness, pressure };
    const wall = 2 * force / (Math.PI * upperRadius ** 2 * stiffness);
    const order = startsFar(this.#steps++) ? places.toReversed() : places;
    for (const { lower, upper, path, plane } of order) {
      this.#upper.prepare(wall);
      this.#lower.prepare(wall);
      press(lower, this.#lower, this.#upper, plane, work, lowerWear * path * strokes);
      press(upper, this.#upper, this.#lower, plane, work, upperWear * path * strokes);
    }
  }

  /** Moves what both discs have in common, a curve on which they slide freely, out of the grids. */
  #shareCurve(): void {
    const upper = this.#upper.curvature(), lower = this.#lower.curvature();
    const common = (upper - lower) / 2;
    this.#upper.add(-common);
    this.#lower.add(common);
    this.#curve += common;
  }

  #placesOf(set: StrokeSet): readonly Place[] {
    const key = `${set.offset} ${set.travel}`;
    const known = this.#places.get(key);
    if (known) return known;
    requireReach(set, this.settings);
    const usual = Math.max(3, Math.round(6 * set.travel / this.settings.lowerRadius));
    const { nodes, weights } = gaussLegendre(this.#count ?? usual);
    const [own, other] = [this.#lower.grid, this.#upper.grid];
    const places = nodes.map((node, i) => {
      const d = [node * set.travel / 2, set.offset] as const;
      return {
        lower: overlap(own, other, d, d),
        upper: overlap(other, own, [-d[0], -d[1]], [0, 0]),
        path: set.travel * (weights[i] ?? 0),
        plane: new Float64Array(3),
      };
    });
    this.#places.set(key, places);
    return places;
  }
}

/**
 * Whether a step begins at the stroke's far end: so that neither end comes first more often, and no turning keeps time with
 * the change, it goes by the odd and even count of ones in the step's binary number (Thue and Morse).
 */
function startsFar(step: number): boolean {
  let odd = false;
  for (let n = step; n > 0; n &= n - 1) odd = !odd;
  return odd;
}

function requireReach({ offset, travel }: StrokeSet, { lowerRadius, lean }: WearSettings): void {
  if (travel > 2 * lowerRadius) {
    throw new RangeError(
      `a stroke requires a travel no longer than the lower disc in mm, got ${travel} on ${
        2 * lowerRadius
      }`,
    );
  }
  const reach = Math.hypot(travel / 2 + Math.abs(lean[0]), offset + lean[1]);
  if (reach >= lowerRadius) {
    throw new RangeError(
      `a stroke requires the upper disc's centre to stay over the lower disc, got ${reach} mm of ${lowerRadius} at which it tips`,
    );
  }
}

function requireDetail(rings: number, angles: number, places: number, step: number): void {
  const whole = [rings, angles, places].every((n) => Number.isInteger(n) && n >= 2);
  if (!whole || angles % 24 !== 0 || !(step > 0 && step < 2)) {
    throw new RangeError(
      `WearBench requires whole rings and places of 2 or more, angles divisible by 24, step from 0 to 2, got rings=${rings}, angles=${angles}, places=${places}, step=${step}`,
    );
  }
}

// One place of the stroke: the upper disc settles, and one of the discs loses what the grains take.

/** What presses, on what. */
interface Work {
  readonly load: Load;
  readonly stiffness: number;
  readonly pressure: WearSettings["pressure"];
}

/**
 * Settles the upper disc by the places of one side, and takes off what that side loses. Its heights as the other side reads
 * them stay as they were prepared, so that both sides of a place wear at once.
 */
function press(
  places: Overlap,
  own: WornDisc,
  other: WornDisc,
  plane: Plane,
  { load, stiffness, pressure }: Work,
  wear: number,
): void {
  const { count, node, cover, x, y, breadth } = places;
  const { gap, rest } = own;
  if (pressure === "even") return pressEvenly(places, rest, load.force * wear);
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
      rest[at] = (rest[at] as number) - rate * e * (cover[i] as number);
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
  { count, node, cover, whole }: Overlap,
  rest: Float64Array,
  push: number,
): void {
  for (let i = 0; i < count; i++) {
    const at = node[i] as number;
    rest[at] = (rest[at] as number) - push / whole.s * (cover[i] as number);
  }
}

// How the upper disc settles: the plane at which the squeezed grains carry the force, and carry it where it presses.

/** c + a x + b y, x and y from the upper disc's centre: height in mm, slopes. */
type Plane = Float64Array;

/** What the grains must carry. */
interface Load {
  /** N */
  readonly force: number;
  /** where it presses, mm from the upper disc's centre */
  readonly x: number;
  readonly y: number;
}

/**
 * So near, as a share of the force (moments: of the force at 100 mm), one more step is the last: Newton's error goes with
 * the square, and is nothing where the same places stay in contact.
 */
const close = 1e-3;

/**
 * Finds the plane by Newton's method, starting from what `plane` holds, and leaves it there.
 *
 * Grains carry where the shapes would cross: pressure = stiffness x max(0, gap - plane). Force and both moments are
 * three equations for three unknowns, the minimum of a convex function. Most places carry: their moments are those of all
 * places less those of the few that do not.
 *
 * @param gap        sum of both shapes' heights at each place, mm
 * @param stiffness  N/mm3
 * @throws {RangeError} where there is no balance: the force presses outside the overlap, the disc tips
 * @see K. L. Johnson, Contact Mechanics, 4.3, elastic foundation (reckoned anew in tests/shaping/secondRoute.py)
 */
function settle(
  gap: Float64Array,
  places: Overlap,
  stiffness: number,
  load: Load,
  plane: Plane,
): void {
  const { count, x, y, area, whole } = places;
  const f = load.force / stiffness, fx = f * load.x, fy = f * load.y;
  let c = plane[0] as number, a = plane[1] as number, b = plane[2] as number;
  for (let turn = 0; turn < 100; turn++) {
    let { s, sx, sy, sxx, sxy, syy } = whole;
    let g = 0, gx = 0, gy = 0, apart = 0;
    for (let i = 0; i < count; i++) {
      const xi = x[i] as number, yi = y[i] as number, w = area[i] as number;
      const we = w * ((gap[i] as number) - c - a * xi - b * yi);
      if (we > 0) {
        g += we, gx += we * xi, gy += we * yi;
      } else {
        const wx = w * xi, wy = w * yi;
        s -= w, sx -= wx, sy -= wy, sxx -= wx * xi, sxy -= wx * yi, syy -= wy * yi;
        apart++;
      }
    }
    const r = g - f, rx = gx - fx, ry = gy - fy;
    const isClose = Math.abs(r) < close * f && Math.hypot(rx, ry) < close * f * 100;
    const A = syy * sxx - sxy * sxy, B = sy * sxy - sx * syy, C = sx * sxy - sy * sxx;
    const det = s * A + sx * B + sy * C;
    if (count - apart < 3 || !(det > 1e-12 * s * sxx * syy)) {
      c = touchDown(gap, places, a, b, f), a *= 0.5, b *= 0.5;
      continue;
    }
    const damp = turn < 20 ? 1 : 0.5;
    c += damp * (A * r + B * rx + C * ry) / det;
    a += damp * (B * r + (s * syy - sy * sy) * rx + (sx * sy - s * sxy) * ry) / det;
    b += damp * (C * r + (sx * sy - s * sxy) * rx + (s * sxx - sx * sx) * ry) / det;
    if (isClose) {
      plane[0] = c, plane[1] = a, plane[2] = b;
      return;
    }
  }
  throw new RangeError(
    `settle requires a force that presses inside the overlap, got one ${load.x}, ${load.y} mm from the upper disc's centre at which it tips`,
  );
}

/** Without contact, the plane that just presses on the highest place. */
function touchDown(
  gap: Float64Array,
  { count, x, y, whole }: Overlap,
  a: number,
  b: number,
  f: number,
): number {
  let highest = -Infinity;
  for (let i = 0; i < count; i++) {
    const e = (gap[i] as number) - a * (x[i] as number) / 2 - b * (y[i] as number) / 2;
    highest = Math.max(highest, e);
  }
  return highest - f / whole.s;
}
