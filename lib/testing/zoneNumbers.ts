/** The zone test's few numbers, from the drawn profile, each with the spread of what else the glass may be. */
import { dot, times } from "../numeric/smallMatrix.ts";
import { type Measured, measured } from "../quantity/measured.ts";
import { middleOfDraws } from "../quantity/shortestInterval.ts";
import { atBestFocus } from "../optics/quality.ts";
import type { Draws } from "./zoneDraws.ts";
import type { Pair, ZoneFigure } from "./zoneFigure.ts";
import type { ZoneModel } from "./zoneModel.ts";
import type { ZoneOperator } from "./zoneOperator.ts";

/** Those parts of the result. */
export type Numbers = Pick<
  ZoneFigure,
  "conic" | "wavefrontPv" | "wavefrontRms" | "strehl" | "surfacePv" | "surfaceRms" | "interval95"
>;

/** What the numbers are made of. */
export interface Drawn {
  readonly model: ZoneModel;
  readonly operator: ZoneOperator;
  /** of each zone's mean from the ideal, mm */
  readonly departures: readonly number[];
  /** nm */
  readonly wavelength: number;
  readonly pooled: { readonly dof: number };
}

/** 95 % of a normal number lies within so many standard deviations of its middle. */
const WITHIN = 1.96;

/**
 * Values of the drawn profile, with the intervals of the draws at 2.5 and 97.5 %.
 *
 * The standard uncertainty is the interval's half over 1.96: rare draws that hide a deep ring where no window looks would
 * make a plain standard deviation jump from seed to seed.
 *
 * @param drawn  model, operator and departures
 * @param draws  from `zonePosterior`
 * @param base   conic constant of the reference
 * @example see `reduceZones`
 */
export function shapeNumbers(drawn: Drawn, draws: Draws, base: number): Numbers {
  const { model, operator, departures, wavelength, pooled } = drawn;
  const heights = times(operator.wavefront, departures);
  const best = atBestFocus(model.grid, heights.map((w) => w / wavelength));
  const interval = (sample: Float64Array, move: (end: number) => number): Pair => {
    const [low, high] = middleOfDraws(sample);
    return [move(low), move(high)];
  };
  const interval95 = {
    wavefrontPv: interval(draws.pv, (end) => end / wavelength),
    wavefrontRms: interval(draws.rms, (end) => end / wavelength),
    strehl: interval(draws.strehl, (end) => end),
    conic: interval(draws.conic, (end) => base + end),
  };
  const as = (value: number, [low, high]: Pair, unit: string): Measured =>
    measured(value, (high - low) / 2 / WITHIN, unit, pooled.dof);
  const glass = (m: Measured): Measured =>
    measured((m.value * wavelength) / 2, (m.u * wavelength) / 2, "nm", m.dof);
  const wavefrontPv = as(best.pvWaves, interval95.wavefrontPv, "wave");
  const wavefrontRms = as(best.rmsWaves, interval95.wavefrontRms, "wave");
  return {
    conic: as(base + dot(operator.conic, departures), interval95.conic, ""),
    wavefrontPv,
    wavefrontRms,
    strehl: as(best.strehl, interval95.strehl, ""),
    surfacePv: glass(wavefrontPv),
    surfaceRms: glass(wavefrontRms),
    interval95,
  };
}
