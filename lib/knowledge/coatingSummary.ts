/** The silver that a mirror's face would bear, as physics, with what must be said beside it. */
import { CAUTIONS, silverOnGlass } from "../coating/silver.ts";
import { exactQ } from "./q.ts";
import type { CoatingSummary } from "./summaryTypes.ts";
import type { Settings } from "../record/types.ts";

/**
 * Mass of 100 nm of silver on the mirror's own face.
 *
 * @param settings  the aperture counts, nothing else
 */
export function coatingSummary({ aperture }: Pick<Settings, "aperture">): CoatingSummary {
  return {
    silver_mass: exactQ(1000 * silverOnGlass({ diameter: aperture }).mass, "mg"),
    cautions: CAUTIONS,
  };
}
