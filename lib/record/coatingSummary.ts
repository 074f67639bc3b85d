/** The silver a mirror would take, as a lesson in quantities, with all its cautions. */
import { silverBath } from "../coating/bath.ts";
import { exactQ } from "./q.ts";
import type { CoatingSummary } from "./summaryTypes.ts";
import type { Settings } from "./types.ts";

/**
 * Quantities for 100 nm of silver on the mirror's own face; a dish takes its share more.
 *
 * @param settings  the aperture counts, nothing else
 */
export function coatingSummary({ aperture }: Pick<Settings, "aperture">): CoatingSummary {
  const { quantities, cautions } = silverBath({ diameter: aperture });
  return {
    silver_mass: exactQ(1000 * quantities.silverOnGlass, "mg"),
    silver_nitrate_least: exactQ(1000 * quantities.nitrateLeast, "mg"),
    silver_nitrate_bath: exactQ(quantities.nitrateInBath, "g"),
    silver_that_stays: quantities.yield,
    cautions,
  };
}
