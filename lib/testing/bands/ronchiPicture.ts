/** What the eye sees through the grating: the mirror's striped face, by rays or by diffraction. */
import { rayAtGrating, requireRonchi, type RonchiSetting } from "./ronchi.ts";
import { clearShare, ronchiPlan } from "./ronchiPlan.ts";
import { between, cubic, rowAt } from "./ronchiRows.ts";

export { pathLength } from "./ronchiPath.ts";
export { type RonchiPlan, ronchiPlan } from "./ronchiPlan.ts";

/** Brightness over the mirror's face, row after row from the top, 1 = no grating; NaN outside the aperture. */
export interface RonchiPicture {
  readonly size: number;
  readonly values: Float64Array;
}

/**
 * The striped face by rays: each point as bright as the share of its light that meets clear lines.
 *
 * @param setting  mirror and grating
 * @param size     pixels across, 3 or more; default 129
 * @throws {RangeError} where the setting is impossible
 * @example light from the middle of a sphere comes through whole, or not at all a quarter of a pitch on
 * ```ts
 * import assert from "node:assert/strict";
 * const setting = {
 *   surface: { radius: 2400, conic: 0 }, half: 75, setUp: "same grating", linesPerMm: 4, offset: -5,
 * } as const;
 * assert.equal(ronchiByRays(setting, 11).values[60], 1);
 * assert.equal(ronchiByRays({ ...setting, shift: 1 / 16 }, 11).values[60], 0);
 * ```
 */
export function ronchiByRays(setting: RonchiSetting, size = 129): RonchiPicture {
  requireRonchi("ronchiByRays", setting);
  const { linesPerMm, shift = 0, clear = 0.5, setUp, slit = 0 } = setting;
  const same = setUp === "same grating", middle = same ? 2 * shift : shift;
  const source = same ? clear : slit * linesPerMm;
  const values = overFace(setting.half, size, (x, y) => {
    const order = (rayAtGrating(x, y, setting).across - middle) * linesPerMm;
    return clearShare(order - Math.round(order), clear, source);
  });
  return { size, values };
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
 * @see Malacara, Optical Shop Testing, Ronchi chapter; Born and Wolf 8.6 (from memory)
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

/**
 * Brightness at single points of the face by diffraction: as `ronchiByDiffraction`, for the rows through them only.
 *
 * @param points  [x, y] on the face, mm
 * @param setting  mirror and grating
 * @throws {RangeError} as `ronchiByDiffraction`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const setting = {
 *   surface: { radius: 2400, conic: 0 }, half: 75, setUp: "same grating", linesPerMm: 4, offset: -5,
 * } as const;
 * const [middle, beside] = ronchiAt([[0, 0], [30, 0]], setting);
 * assert.ok((middle ?? 0) > 0.8 && (beside ?? 1) < 0.2);
 * ```
 */
export function ronchiAt(
  points: readonly (readonly [x: number, y: number])[],
  setting: RonchiSetting,
): number[] {
  const plan = ronchiPlan(setting, setting.half / 100);
  const c = Math.cos(setting.turn ?? 0), s = Math.sin(setting.turn ?? 0);
  return points.map(([x, y]) => between(plan, rowAt(plan, c * y - s * x), c * x + s * y));
}

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
