/** Fine grinding, one grade: cleaning, grinding, counting, leaving. */
import { type BenchNumbers, from, mm, said, type Work } from "./procedure.ts";
import { decision } from "../../record/tables.ts";

/** One grade from cleaning to leaving. */
export function smoothSurface({ aperture, length }: BenchNumbers): Work {
  const area = (aperture / 150) ** 2;
  return {
    title: "Grind one grade through",
    who: "anybody grinds, cleans and counts with an adult in the house; the adult opens the jars",
    bench: [
      "two buckets, a nail brush kept for this grade",
      "new paper and cloth",
      "a soft pencil",
      `loupes of ${said("loupe_coarse")} and ${said("loupe_fine")}, a torch`,
      `a field card: a card with a round hole of ${said("field")}`,
      "pit tiles: a pair of small plates of glass for each grade, rubbed together with it for a minute",
    ],
    alone:
      "All of it may be done alone but the jar and stuck discs: for these wait until somebody is there.",
    steps: [
      {
        do: `Measure the bevel. Stone it now if its leg on the face is under ${
          said("bevel_never_under")
        }: before the cleaning, never after.`,
        right: "Stones shed grains; these go with the cleaning.",
        minds: ["glass edges", "dust", "food and children"],
      },
      {
        do:
          "Let the adult carry the old jar and its spoon out of the room. Empty the mud into the one bucket where it settles overnight, and scrub both buckets.",
        right: "One jar is open at a time, never two.",
        adult: "With the mask on: carries the jars, opens the new one, shuts it again.",
        minds: ["sludge"],
      },
      {
        do:
          "Clean from high to low and from dirty to clean: shelf, clock and sprayer; discs in the dirty bucket, brushed on rim, bevel, back and face; board and cleats; table; floor; apron, hands, nails and forearms; discs again in fresh water; new paper and cloth.",
        right: "A white wet cloth, wiped round rim and bevel, shows no grain under the loupe.",
        wrong: "One grain: all of it again. One grain costs a grade.",
        drawing: "cleaning",
      },
      {
        do: `Give the first charge: ${said("charge_coarse", area)} of F120, ${
          said("charge_middle", area)
        } of F220, ${said("charge_fine", area)} of F320 and F500, ${
          said("charge_finest", area)
        } of finer, each with ${
          said("charge_water", area)
        } of water. Grind one minute by the glass’s own weight.`,
        right: "An even hiss.",
        wrong:
          "A scratchy tick: lift both hands, rinse, look with the loupe. The scratch is young.",
        minds: ["slippery discs"],
      },
      {
        do: `Press with ${said("press_rough", area)} for F120 and F220, with ${
          said("press_fine", area)
        } from F320 on. Strokes over the centre, ${mm(length)} long, ${
          said("turn_strokes")
        } at a time. Turn ${said("turn_upper")} and ${said("turn_lower")}, as in stage 03.`,
        right: `About ${said("charges_hour_fine")} an hour, each for ${from("charge_lasts_fine")}.`,
        wrong: "It grinds dry: water. From F500 on never a dry second.",
        drawing: "turn",
      },
      {
        do: "Swap which disc lies on top after every charge.",
        right: "Minutes on top and below come out alike, and the depth stays.",
        write: "grinding.csv: one row each way.",
      },
      {
        do:
          `Slide the discs apart sideways before any pause, at once, still wet. Never lift straight, never leave them together.`,
        right: "They glide apart over the overhang.",
        wrong: `They are stuck: lay both in lukewarm water (${
          said("soak")
        } at most) above the joint, for ${
          said("soak_time")
        } or a night. An adult holds the lower one by its sides on a wet cloth, a folded towel and a board lie where the upper one will come off. You push it level and sideways, thumbs on the rim, for a minute.`,
        minds: ["stuck discs"],
        drawing: "stuck",
      },
      {
        do: `Pencil: draw a grid on the dry face, lines two fingers apart. Half a charge, ${
          said("pencil_strokes")
        } over the centre, no weight. Rinse.`,
        right: "All lines are gone, or all are equally grey.",
        wrong:
          "Left in the middle: the hollow disc is deeper. Left at the rim: it is shallower. Two more charges, and again. On one side only: grit.",
        drawing: "pencil",
      },
      {
        do:
          `Pits: rinse and dry. Hold the torch low at a slant. Lay the card on five marks: the middle, two at seven tenths of the radius, two just inside the bevel. First look at the tile of this grade, then count what is plainly larger or brighter. Loupe of ${
            said("loupe_coarse")
          } up to F320, of ${said("loupe_fine")} from F500 on.`,
        right: "A pit has a bright rim that stays when the torch goes round. Dirt wipes off.",
        wrong: `Over ${
          said("pit_count_stop")
        }: stop counting, write “20+”. Do not focus on rim and floor to find a depth: no loupe can tell it.`,
        write: "diary.csv: pits, where_mm, amount, which loupe.",
        minds: ["electricity beside water"],
        drawing: "pits",
      },
      {
        do: `Leave the grade when ${decision("pit_fields")} fields show none, twice, ${
          said("pits_again_ground")
        } apart, and the pencil says all over, and R is right.`,
        right: "All three.",
        wrong: "The usual minutes are only what to expect: loupe and pencil decide.",
      },
      {
        do: "A scratch: lay its width beside the tiles.",
        right: "It goes with this grade’s usual time.",
        wrong: "It does not: wash everything, and go back to the grade whose pits are as wide.",
        write: "diary.csv: scratch, amount.",
      },
      {
        do: `Grind the last charge of a grade without weight, for ${
          said("last_charge")
        }, water given twice. Then measure R.`,
        right: "R stands where it stood. From F500 on it can hardly be moved.",
        wrong: `More than ${100 * decision("radius_off_most")} % off: back to F220.`,
        write: "sagitta.csv or spherometer.csv.",
      },
    ],
  };
}
