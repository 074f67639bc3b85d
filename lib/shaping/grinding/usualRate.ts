/** A forecast from the second depth on: the usual rate as a prior, each depth weighed by its own noise. */
import { inversePositive } from "../../numeric/positive.ts";
import { type Measured, measured } from "../../quantity/measured.ts";
import type { ClockedReading } from "./depthColumns.ts";
import { meet, type Meeting } from "./forecast.ts";
import type { Clocks, Position } from "./grindingLog.ts";

/** Sagitta that F80 adds in a minute on 150 mm, mirror on top, um, by the wear model with its usual strokes and weight. */
const F80_ON_150 = 9.3, F80_UM = 185;
/** Hands, weight and charges differ from maker to maker: standard deviation of the rate as a share of itself. COMMON PRACTICE */
const MAKERS_DIFFER = 0.4;
/** The first minutes run fast: what that leaves at minute 0, and how far it may be off, mm. COMMON PRACTICE */
const FAST_START = 0.03, FAST_START_U = 0.03;
/** One position beside the other, as a share: the model says equal, hands and discs differ. COMMON PRACTICE */
const POSITIONS_DIFFER = 0.15;
/** From one session to the next the same hands differ by this share. COMMON PRACTICE */
export const SESSIONS_DIFFER = 0.1;

/**
 * The usual rate before anything is measured, um of sagitta a minute, with the mirror on top.
 *
 * Path and so wear go with the stroke, which is a share of the width; wear goes with the grain.
 *
 * @param aperture  mm, above 0
 * @param grainUm   middle grain, um, above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const { value, u } = usualRate(200, 185);
 * assert.deepEqual([value.toFixed(1), u.toFixed(1)], ["12.4", "5.0"]);
 * ```
 */
export function usualRate(aperture: number, grainUm: number): Measured {
  if (!(aperture > 0 && grainUm > 0)) {
    throw new RangeError(
      `usualRate requires aperture and grain above 0, got aperture=${aperture}, grainUm=${grainUm}`,
    );
  }
  const value = F80_ON_150 * aperture / 150 * grainUm / F80_UM;
  return measured(value, MAKERS_DIFFER * value, "um/min");
}

/** What a few depths and the usual rate say together. */
export interface RateBelief {
  /** today's, um/min, both counted positive */
  readonly mirrorOnTop: Measured;
  readonly toolOnTop: Measured;
  /** depth when the clocks show this, mm */
  readonly depthAt: (clocks: Clocks) => Measured;
  /** when the depth meets a target from these clocks on; nothing where it does not within reason */
  readonly meet: (
    from: Clocks,
    position: Position,
    share: number,
    target: number,
  ) => Meeting | undefined;
}

/**
 * Start and rates from the usual ones and a few depths:
 *
 *     s = start + r_top x top - r_bottom x bottom,     each depth by 1 / u^2, the prior as if it were readings too
 *
 * Ahead the doubt grows by a tenth of what is ground, since sessions differ.
 *
 * @param readings  with clocks, any number
 * @param usual     um/min with the mirror on top, in the grade whose minutes the clocks count
 * @example one depth of 0.150 mm after 20 minutes
 * ```ts
 * import assert from "node:assert/strict";
 * const clocks = { top: 20, bottom: 0, drift: 200 };
 * const reading = { afterMin: 20, sagitta: 0.15, u: 0.004, file: "sagitta.csv", line: 2, clocks };
 * const { mirrorOnTop } = rateBelief([reading], usualRate(150, 185));
 * assert.equal(`${mirrorOnTop.value.toFixed(1)} ${mirrorOnTop.u.toFixed(1)}`, "6.5 1.4");
 * ```
 */
export function rateBelief(readings: readonly ClockedReading[], usual: Measured): RateBelief {
  const rate = usual.value / 1000, rateU = usual.u / 1000, between = POSITIONS_DIFFER * rate;
  const rows: { readonly x: readonly number[]; readonly y: number; readonly u: number }[] = [
    { x: [1, 0, 0], y: FAST_START, u: FAST_START_U },
    { x: [0, 1, 0], y: rate, u: rateU },
    { x: [0, 1, -1], y: 0, u: between },
    ...readings.map(({ clocks: { top, bottom }, sagitta, u }) => ({
      x: [1, top, -bottom],
      y: sagitta,
      u: Math.max(u, 1e-5),
    })),
  ];
  const normal = new Float64Array(9), right = new Float64Array(3);
  for (const { x, y, u } of rows) {
    for (let i = 0; i < 3; i++) {
      right[i] = (right[i] ?? 0) + (x[i] ?? 0) * y / (u * u);
      for (let j = 0; j < 3; j++) {
        normal[3 * i + j] = (normal[3 * i + j] ?? 0) + (x[i] ?? 0) * (x[j] ?? 0) / (u * u);
      }
    }
  }
  const inverse = inversePositive(normal, 3);
  if (inverse === undefined) throw new RangeError("rateBelief requires finite readings and rates");
  const cov = (i: number, j: number): number => inverse[3 * Math.max(i, j) + Math.min(i, j)] ?? 0;
  const mean = [0, 1, 2].map((i) =>
    [0, 1, 2].reduce((sum, j) => sum + cov(i, j) * (right[j] ?? 0), 0)
  );
  const along = (row: readonly number[], more: number, scale: number, unit: string): Measured => {
    let value = 0, variance = more * more;
    row.forEach((a, i) => {
      value += a * (mean[i] ?? 0);
      row.forEach((b, j) => variance += a * b * cov(i, j));
    });
    return measured(value * scale, Math.sqrt(variance) * scale, unit);
  };
  const at = ({ top, bottom }: Clocks, more = 0): Measured =>
    along([1, top, -bottom], more, 1, "mm");
  return {
    mirrorOnTop: along([0, 1, 0], 0, 1000, "um/min"),
    toolOnTop: along([0, 0, 1], 0, 1000, "um/min"),
    depthAt: (clocks) => at(clocks),
    meet: (from, position, share, target) => {
      const isTop = position === "mirror on top", own = Math.abs(mean[isTop ? 1 : 2] ?? 0);
      return meet(
        (minutes) => {
          const x = minutes * share, top = from.top + (isTop ? x : 0);
          const bottom = from.bottom + (isTop ? 0 : x);
          return at({ top, bottom, drift: 0 }, SESSIONS_DIFFER * own * x);
        },
        target,
        Infinity,
      );
    },
  };
}
