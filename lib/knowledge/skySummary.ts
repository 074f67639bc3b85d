/** What the aperture can show at best. */
import { limitsOf } from "../sky/limits.ts";
import { exactQ } from "./q.ts";
import type { SkySummary } from "./summaryTypes.ts";
import type { Settings } from "../record/types.ts";

/**
 * Limits of the mirror's width, for a perfect surface and still air.
 *
 * @param settings  the aperture counts, nothing else
 */
export function skySummary({ aperture }: Pick<Settings, "aperture">): SkySummary {
  const { dawesArcsec, rayleighArcsec, faintest } = limitsOf(aperture);
  return {
    dawes_limit: exactQ(dawesArcsec, "arcsec"),
    rayleigh_limit: exactQ(rayleighArcsec, "arcsec"),
    limiting_magnitude: faintest,
  };
}
