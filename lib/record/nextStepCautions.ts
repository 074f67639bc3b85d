/** The caution that goes with a step, where the step is. */
export const CAUTION = {
  edges:
    "Glass edges cut: keep the bevel at least 1 mm wide, grind wet, rinse outdoors, and bin the sludge.",
  fine:
    "Wash everything between grades, nails too; never let the discs run dry, and never strike stuck discs: part them under warm water, or with cold and patience.",
  pitch:
    "Hot pitch burns: an adult melts and pours it, on a thermostat, with no flame and no water near.",
  knife:
    "A knife-edge is a blade; mind your eyes near it, and let mirror and air settle before you read.",
  polish: "Keep the oxide wet and the lap clean; never leave the mirror sitting on the lap.",
  coating:
    "No silver bath, no acid: coating is the work of a firm. What comes back burns in sunlight: keep it covered in its closed box.",
  record:
    "Take no glass off, and send nothing away, before this is clear: glass that is gone does not come back.",
} as const;
