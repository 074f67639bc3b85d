/** The drawings of the hands' work by their names. */
import * as building from "./building.ts";
import * as discs from "./discs.ts";
import * as evening from "./evening.ts";
import * as grinding from "./grinding.ts";
import * as lap from "./lap.ts";
import type { HandDrawing, HandNumbers } from "./names.ts";
import type { HandShown } from "./sheet.ts";
import * as stand from "./stand.ts";

/** Each drawing by its name, from the numbers of a mirror. */
export const handDrawings: Readonly<Record<HandDrawing, (numbers: HandNumbers) => HandShown>> = {
  bench: grinding.bench,
  posture: grinding.posture,
  hands: grinding.hands,
  stroke: grinding.strokeOf,
  turn: grinding.turn,
  charge: grinding.charge,
  cleaning: grinding.cleaning,
  pencil: grinding.pencil,
  stuck: grinding.stuck,
  strain: discs.strain,
  marks: discs.marks,
  bevel: discs.bevel,
  leaves: discs.leaves,
  spherometer: discs.spherometer,
  lamp: discs.lamp,
  sun: discs.sun,
  pits: discs.pits,
  "lap-eight": lap.lapEight,
  nail: lap.nail,
  channels: lap.channels,
  contact: lap.contact,
  clearing: lap.clearing,
  stand: stand.stand,
  "image-found": stand.imageFound,
  shadow: stand.shadow,
  "knife-places": stand.knifePlaces,
  zones: stand.zones,
  "there-back": stand.thereBack,
  "four-settings": stand.fourSettings,
  hooks: stand.hooks,
  packing: building.packing,
  washing: building.washing,
  telescope: building.telescopeNamed,
  cell: building.cellOf,
  tip: building.tip,
  cap: building.cap,
  "star-rings": building.starRings,
  sighting: evening.sighting,
  finder: evening.finder,
  moon: evening.moon,
  dew: evening.dew,
};
