/** Shapes of the radius alone, read from a table: a fit asks for them at millions of places. */
import type { Shape } from "./photoTerms.ts";

/** Heights of several shapes at distances from the axis, row after row. */
export interface ShapeTable {
  /** how many of the shapes, from the first on, are of the radius alone */
  readonly count: number;
  /** fills `out` with their heights at a distance over the half width */
  read(rho: number, out: Float64Array): void;
  /** their sum for some amounts, and how steep it is */
  summed(amounts: ArrayLike<number>): Profile;
}

/** A height over the radius, nm, and its slope by the distance over the half width; `steep` is of the distance asked for last. */
export interface Profile {
  at(rho: number): number;
  readonly steep: () => number;
}

const STEPS = 1500, REACH = 1.08;
const kept = new WeakMap<readonly Shape[], ShapeTable>();

/** The table of a list of shapes, made once for each list. */
export function tableOf(shapes: readonly Shape[]): ShapeTable {
  let found = kept.get(shapes);
  if (found === undefined) kept.set(shapes, found = made(shapes));
  return found;
}

function isRound(f: Shape): boolean {
  return [0.2, 0.5, 0.8, 0.97].every((r) =>
    [0.7, 2.1, 4].every((t) => Math.abs(f(r * Math.cos(t), r * Math.sin(t)) - f(r, 0)) < 1e-9)
  );
}

function made(shapes: readonly Shape[]): ShapeTable {
  const other = shapes.findIndex((f) => !isRound(f)), count = other < 0 ? shapes.length : other;
  const rows = new Float64Array((STEPS + 2) * count), scale = STEPS / REACH;
  for (let k = 0; k <= STEPS + 1; k++) {
    for (let j = 0; j < count; j++) rows[k * count + j] = (shapes[j] as Shape)(k / scale, 0);
  }
  const read = (rho: number, out: Float64Array): void => {
    const at = Math.min(STEPS, rho * scale), k = Math.floor(at), part = at - k, from = k * count;
    for (let j = 0; j < count; j++) {
      const low = rows[from + j] as number;
      out[j] = low + part * ((rows[from + count + j] as number) - low);
    }
  };
  const summed = (amounts: ArrayLike<number>): Profile => {
    const heights = new Float64Array(STEPS + 2);
    for (let k = 0; k < heights.length; k++) {
      let sum = 0;
      for (let j = 0; j < count; j++) {
        sum += (amounts[j] as number) * (rows[k * count + j] as number);
      }
      heights[k] = sum;
    }
    let steep = 0;
    const at = (rho: number): number => {
      const at = Math.min(STEPS, rho * scale), k = Math.floor(at), low = heights[k] as number;
      const rise = (heights[k + 1] as number) - low;
      steep = rise * scale;
      return low + (at - k) * rise;
    };
    return { at, steep: () => steep };
  };
  return { count, read, summed };
}
