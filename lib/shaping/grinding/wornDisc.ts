/** One disc on its polar grid: its heights, what it loses, how it turns. */
import { heightsToRead } from "./leaveGrade.ts";
import { type PolarGrid, ringRadius } from "./polarGrid.ts";

/** One disc's shape after some grinding. */
export interface DiscShape {
  /** where the heights stand */
  readonly grid: PolarGrid;
  /** heights on the grid as it lies in the room, less the common curve, mm */
  readonly rest: Float64Array;
  /** the common curve: heights are rest + curve x r^2, 1/mm */
  readonly curve: number;
  /** how far the disc has been turned in all, rad; its mark stands at this angle */
  readonly turned: number;
}

/** One disc on its grid, as it lies in the room. */
export class WornDisc {
  readonly grid: PolarGrid;
  rest: Float64Array;
  turned = 0;
  /** room for one place of the stroke: how far the shapes would cross */
  readonly gap: Float64Array;
  /** `rest` as the other disc reads it between the nodes; see `heightsToRead` */
  readonly ready: Float64Array;
  #spare: Float64Array;
  readonly #squares: Float64Array;
  readonly #spread: number;
  #steps = 0;

  constructor(grid: PolarGrid) {
    const size = grid.rings * grid.angles;
    this.grid = grid;
    this.rest = new Float64Array(size);
    this.#spare = new Float64Array(size);
    this.gap = new Float64Array(size);
    this.ready = new Float64Array(size);
    this.#squares = Float64Array.from({ length: grid.rings }, (_, i) => ringRadius(grid, i) ** 2);
    const mean = this.#meanSquare();
    this.#squares.forEach((square, i) => this.#squares[i] = square - mean);
    this.#spread = this.#squares.reduce((sum, v, i) => sum + (2 * i + 1) * v * v, 0);
  }

  #meanSquare(): number {
    const { rings } = this.grid;
    return this.#squares.reduce((sum, v, i) => sum + (2 * i + 1) * v, 0) / (rings * rings);
  }

  /** Makes the heights ready to be read; `limit` in mm. */
  prepare(limit: number): void {
    heightsToRead(this.grid, this.rest, limit, this.ready);
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
    const before = this.rest, after = this.#spare;
    for (let ring = 0, at = 0; ring < rings; ring++) {
      const end = at + angles;
      for (let from = end - shift; from < end; from++, at++) after[at] = before[from] as number;
      for (let from = end - angles; at < end; from++, at++) after[at] = before[from] as number;
    }
    this.rest = after;
    this.#spare = before;
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
