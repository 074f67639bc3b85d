/**
 * Grinding two discs on one another, set of strokes by set of strokes.
 *
 * Both discs stand on polar grids. For each place of the stroke the upper disc settles on the squeezed grains until force and
 * moments balance; both discs wear by Preston's law, in proportion to pressure and path; between sets they are turned.
 */
import { gaussLegendre } from "../numeric/quadrature.ts";
import { type Overlap, overlap, type PolarGrid, ringRadius } from "./polarGrid.ts";
import { type Load, type Plane, settle } from "./rigidPlane.ts";
import type { StrokeSet } from "./routine.ts";
import type { WearSettings } from "./wearSettings.ts";

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

/** One disc's shape after some grinding. */
export interface DiscShape {
  readonly grid: PolarGrid;
  /** heights on the grid as it lies in the room, less the common curve, mm */
  readonly rest: Float64Array;
  /** the common curve: heights are rest + curve x r^2, 1/mm */
  readonly curve: number;
  /** how far the disc has been turned in all, rad; its mark stands at this angle */
  readonly turned: number;
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
 * import { wearSettings } from "./wearSettings.ts";
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
  readonly #upper: Side;
  readonly #lower: Side;
  readonly #places = new Map<string, readonly Place[]>();
  #curve = 0;
  #strokes = 0;

  constructor(settings: WearSettings, detail: WearDetail = {}) {
    const { rings = 24, angles = 72, places, step = 0.8 } = detail;
    requireDetail(rings, angles, places ?? 3, step);
    this.settings = settings;
    this.#detail = { rings, angles, step };
    this.#count = places;
    this.#upper = new Side({ radius: settings.upperRadius, rings, angles });
    this.#lower = new Side({ radius: settings.lowerRadius, rings, angles });
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

  #wear(places: readonly Place[], strokes: number): void {
    const { upperWear, lowerWear, stiffness, force, lean, pressure } = this.settings;
    const load: Load = { force, x: lean[0], y: lean[1] };
    const work = { load, stiffness, pressure };
    for (const { lower, upper, path, plane } of places) {
      press(lower, this.#lower, this.#upper, plane, work, lowerWear * path * strokes);
      press(upper, this.#upper, this.#lower, plane, work, upperWear * path * strokes);
    }
    this.#upper.apply();
    this.#lower.apply();
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

interface Work {
  readonly load: Load;
  readonly stiffness: number;
  readonly pressure: WearSettings["pressure"];
}

/** Settles the upper disc by the places of one side, and notes what that side loses. */
function press(
  places: Overlap,
  own: Side,
  other: Side,
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

/** One disc on its grid, as it lies in the room. */
class Side {
  readonly grid: PolarGrid;
  rest: Float64Array;
  turned = 0;
  readonly gap: Float64Array;
  readonly loss: Float64Array;
  readonly #squares: Float64Array;
  readonly #spread: number;
  #steps = 0;

  constructor(grid: PolarGrid) {
    const size = grid.rings * grid.angles;
    this.grid = grid;
    this.rest = new Float64Array(size);
    this.gap = new Float64Array(size);
    this.loss = new Float64Array(size);
    this.#squares = Float64Array.from({ length: grid.rings }, (_, i) => ringRadius(grid, i) ** 2);
    const mean = this.#meanSquare();
    this.#squares.forEach((square, i) => this.#squares[i] = square - mean);
    this.#spread = this.#squares.reduce((sum, v, i) => sum + (2 * i + 1) * v * v, 0);
  }

  #meanSquare(): number {
    const { rings } = this.grid;
    return this.#squares.reduce((sum, v, i) => sum + (2 * i + 1) * v, 0) / (rings * rings);
  }

  apply(): void {
    const { rest, loss } = this;
    for (let i = 0; i < rest.length; i++) rest[i] = (rest[i] as number) - (loss[i] as number);
    loss.fill(0);
  }

  /** Least-squares coefficient of r^2, 1/mm. */
  curvature(): number {
    const { rings, angles } = this.grid;
    let sum = 0;
    for (let ring = 0, at = 0; ring < rings; ring++) {
      let total = 0;
      for (let turn = 0; turn < angles; turn++, at++) total += this.rest[at] as number;
      sum += (2 * ring + 1) * (this.#squares[ring] as number) * total / angles;
    }
    return sum / this.#spread;
  }

  /** Adds curve x r^2. */
  add(curve: number): void {
    const { angles, rings } = this.grid;
    for (let ring = 0, at = 0; ring < rings; ring++) {
      const height = curve * ringRadius(this.grid, ring) ** 2;
      for (let turn = 0; turn < angles; turn++, at++) {
        this.rest[at] = (this.rest[at] as number) + height;
      }
    }
  }

  /** Turns by whole steps of the grid, carrying the remainder on. */
  turn(angle: number): void {
    if (angle === 0) return;
    const { rings, angles } = this.grid;
    this.turned += angle;
    const steps = Math.round(this.turned / (2 * Math.PI) * angles);
    const shift = (((steps - this.#steps) % angles) + angles) % angles;
    this.#steps = steps;
    if (shift === 0) return;
    for (let ring = 0; ring < rings; ring++) {
      const row = this.rest.subarray(ring * angles, (ring + 1) * angles);
      const end = row.slice(angles - shift);
      row.copyWithin(shift, 0, angles - shift);
      row.set(end);
    }
  }

  /** Takes over another disc's heights, turned over: angle becomes minus angle. */
  take(heights: Float64Array, turned: number): void {
    const { rings, angles } = this.grid;
    const flipped = new Float64Array(heights.length);
    for (let ring = 0; ring < rings; ring++) {
      for (let turn = 0; turn < angles; turn++) {
        flipped[ring * angles + (angles - turn) % angles] = heights[ring * angles + turn] as number;
      }
    }
    this.rest = flipped;
    this.turned = -turned;
    this.#steps = Math.round(this.turned / (2 * Math.PI) * angles);
  }

  shape(curve: number): DiscShape {
    return { grid: this.grid, rest: this.rest.slice(), curve, turned: this.turned };
  }
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
