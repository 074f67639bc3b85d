/** Numbers of a figure as the summary writes them. */
import type { FigureNumbers } from "../testing/figureNumbers.ts";
import { toQ } from "./q.ts";
import type { FigureSummary } from "./summaryTypes.ts";

type Numbers = Pick<
  FigureSummary,
  "conic" | "surfacePv" | "surfaceRms" | "wavefrontPv" | "wavefrontRms" | "strehl"
>;
type Spread = Pick<FigureSummary, "profile" | "interval95" | "probabilityWithinGoal">;

/** Conic, P-V, RMS and Strehl, each with the tables it rests on. */
export function numbersQ(found: FigureNumbers, from: readonly string[]): Numbers {
  return {
    conic: toQ(found.conic, from),
    surfacePv: toQ(found.surfacePv, from),
    surfaceRms: toQ(found.surfaceRms, from),
    wavefrontPv: toQ(found.wavefrontPv, from),
    wavefrontRms: toQ(found.wavefrontRms, from),
    strehl: toQ(found.strehl, from),
  };
}

/** Profile of the glass, intervals at 95 % and the probability of meeting the goal. */
export function spreadOf(found: FigureNumbers): Spread {
  const { interval95 } = found;
  return {
    profile: found.profile.map(({ radius, surfaceError, u }) => ({
      radius,
      surfaceError: surfaceError,
      u,
    })),
    interval95: {
      wavefrontPv: interval95.wavefrontPv,
      wavefrontRms: interval95.wavefrontRms,
      strehl: interval95.strehl,
      conic: interval95.conic,
    },
    probabilityWithinGoal: found.probabilityWithinGoal,
  };
}
