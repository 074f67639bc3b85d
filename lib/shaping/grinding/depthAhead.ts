/** What a fit of the log says: the depth at any reading of the clocks, the rates there, the depth to come. */
import { type Measured, measured } from "../../quantity/measured.ts";
import type { DepthColumns } from "./depthColumns.ts";
import type { Foreseen } from "./forecast.ts";
import type { Clocks, Position } from "./grindingLog.ts";

/** Relative u of a rate taken over from the other position: the model says equal, hands and discs differ. */
export const borrowedRate = 0.15;

/** Today's rates in um/min, both counted positive; a position never measured is absent. */
export interface Rates {
  readonly mirrorOnTop?: Measured;
  readonly toolOnTop?: Measured;
}

/** Depth when the clocks show this, mm. */
export function depthAt(fit: DepthColumns, { top, bottom, drift }: Clocks): Measured {
  return combination(fit, [1, top, bottom, drift], 1, "mm");
}

/** Rates when the clocks show this. */
export function ratesAt(fit: DepthColumns, { top, bottom }: Clocks): Rates {
  const now = top + bottom;
  return {
    ...(fit.has.top && { mirrorOnTop: combination(fit, [0, 1, 0, now], 1000, "um/min") }),
    ...(fit.has.bottom && { toolOnTop: combination(fit, [0, 0, -1, now], 1000, "um/min") }),
  };
}

/** Where the line begins at minute 0, um. */
export function startOf(fit: DepthColumns): Measured {
  return combination(fit, [1, 0, 0, 0], 1000, "um");
}

/**
 * Depth foreseen, minutes from a reading, in one position.
 *
 * @param share  how fast the grade in use wears, against the one whose minutes the clocks count
 */
export function ahead(
  known: DepthColumns,
  from: Clocks,
  position: Position,
  share: number,
): Foreseen {
  const fit = withBothRates(known);
  const sign = position === "mirror on top" ? 1 : -1;
  return (minutes) => {
    const x = minutes * share;
    const moment = x * (from.top + from.bottom) + x * x / 2;
    return depthAt(fit, {
      top: from.top + (sign > 0 ? x : 0),
      bottom: from.bottom + (sign > 0 ? 0 : x),
      drift: from.drift + sign * moment,
    });
  };
}

/** Where one position was never measured, it is taken to run as fast as the other, with 15 % for the doubt. */
function withBothRates(fit: DepthColumns): DepthColumns {
  if (fit.has.top && fit.has.bottom) return fit;
  const known = fit.has.top ? 1 : 2, missing = 3 - known;
  const source = (i: number): number => i === missing ? known : i;
  const sign = (i: number): number => i === missing ? -1 : 1;
  const rate = fit.coefficients[known] ?? 0;
  const doubt = (borrowedRate * rate) ** 2;
  const [start, , , drift] = fit.coefficients;
  return {
    ...fit,
    coefficients: known === 1 ? [start, rate, -rate, drift] : [start, -rate, rate, drift],
    covariance: [0, 1, 2, 3].map((i) =>
      [0, 1, 2, 3].map((j) =>
        sign(i) * sign(j) * (fit.covariance[source(i)]?.[source(j)] ?? 0) +
        (i === missing && j === missing ? doubt : 0)
      )
    ),
  };
}

function combination(
  fit: DepthColumns,
  row: readonly number[],
  scale: number,
  unit: string,
): Measured {
  let value = 0, variance = 0;
  row.forEach((a, i) => {
    value += a * (fit.coefficients[i] ?? 0);
    row.forEach((b, j) => variance += a * b * (fit.covariance[i]?.[j] ?? 0));
  });
  return measured(value * scale, Math.sqrt(Math.max(0, variance)) * scale, unit, fit.dof);
}
