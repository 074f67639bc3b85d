/** What the eye sees through the grating: the mirror's striped face, by diffraction. */
import { type RonchiSetting } from "./ronchi.ts";
import { ronchiPlan } from "./ronchiPlan.ts";
import { between, cubic, rowAt } from "./ronchiScreen.ts";

export { pathLength } from "./ronchiPath.ts";
export { type RonchiPlan, ronchiPlan } from "./ronchiPlan.ts";

/** Brightness over the mirror's face, row after row from the top, 1 = no grating; NaN outside the aperture. */
export interface RonchiPicture {
  /** pixels on a side */
  readonly size: number;
  /** brightness of each pixel */
  readonly values: Float64Array;
}

/**
 * The striped face by diffraction, row by row.
 *
 *     U = disc x exp(2 pi i path / wavelength)  ->  transform  ->  x grating  ->  transform back  ->  |A|^2
 *
 * Straight lines stop light by its direction across them only, so one transform along each row is exact. A lamp behind
 * the same grating is the mean over places in one clear line; where lines are half clear that mean has a closed form, one
 * transform instead of forty. Width and fineness of the rows are chosen by `ronchiPlan`.
 *
 * @param setting  mirror and grating
 * @param size     pixels across, 3 or more; default 129
 * @throws {RangeError} where the setting is impossible, or bends the light more than rows of 65,536 can follow
 * @see Malacara, Optical Shop Testing, Ronchi chapter; Born and Wolf 8.6 (reckoned anew in tests/testing/secondRoute.py)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const setting = {
 *   surface: { radius: 2400, conic: 0 }, half: 75, setUp: "slit beside", linesPerMm: 4, offset: -5,
 * } as const;
 * const { values } = ronchiByDiffraction(setting, 75);
 * assert.ok(Math.abs((values[37 * 75 + 37] ?? 0) - 1.55) < 0.02); // the middle, brighter than without a grating
 * ```
 */
export function ronchiByDiffraction(setting: RonchiSetting, size = 129): RonchiPicture {
  const plan = ronchiPlan(setting, (2 * setting.half) / size);
  const { half, turn = 0 } = setting, c = Math.cos(turn), s = Math.sin(turn);
  if (turn === 0) {
    const rows = Array.from(
      { length: size },
      (_, k) => rowAt(plan, half * (1 - (2 * k + 1) / size)),
    );
    return {
      size,
      values: overFace(
        half,
        size,
        (x, _, k) => between(plan, rows[Math.floor(k / size)] ?? EMPTY, x),
      ),
    };
  }
  // rows stand across the grating's lines; the picture's upright pixels are read out of them
  const step = (2 * half) / size, count = size + 6;
  const rows = Array.from({ length: count }, (_, k) => rowAt(plan, (k - (count - 1) / 2) * step));
  const values = overFace(half, size, (x, y) => {
    const u = c * x + s * y, v = (c * y - s * x) / step + (count - 1) / 2, k = Math.floor(v);
    const column = [-1, 0, 1, 2].map((i) => between(plan, rows[k + i] ?? EMPTY, u));
    return cubic(column, v - k);
  });
  return { size, values };
}

const EMPTY = new Float64Array(0);

function overFace(
  half: number,
  size: number,
  f: (x: number, y: number, k: number) => number,
): Float64Array {
  if (!(Number.isInteger(size) && size >= 3)) {
    throw new RangeError(`a Ronchi picture requires a whole size of 3 or more, got size=${size}`);
  }
  const values = new Float64Array(size * size).fill(NaN);
  for (let k = 0; k < size * size; k++) {
    const x = half * ((2 * (k % size) + 1) / size - 1);
    const y = half * (1 - (2 * Math.floor(k / size) + 1) / size);
    if (x * x + y * y < half * half) values[k] = f(x, y, k);
  }
  return values;
}
