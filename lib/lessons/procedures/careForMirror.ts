/** The years after: storing, washing, aligning anew, and when to have it coated again. */
import { type BenchNumbers, from, said, type Work } from "./procedure.ts";

/** Care of a coated mirror. */
export function careForMirror(_: BenchNumbers): Work {
  return {
    title: "Store it, wash it seldom, have it coated again",
    who: "anybody, an adult where the mirror is carried",
    bench: [
      "a hand bulb, a torch",
      "for washing: a tub that no food goes into, a towel, plain soap, cotton wool, distilled water",
      "a pencil, paper",
    ],
    alone:
      "All of it, over a soft bed. No stripping, no acid, no polish: the old film is a firm’s work.",
    steps: [
      {
        do:
          "After every night: let the telescope dry in the open room, away from the window, and only then cover both ends.",
        right: "No breath of damp stands under the covers.",
        wrong: "Spots after some weeks: it was closed wet. Dry it longer.",
        minds: ["a coated mirror in sunlight"],
      },
      {
        do:
          "For months: the tube lies level or the mirror lies in its box, dry, where it is neither hot nor near a window. No bag that keeps damp in.",
        right: "You find it as you left it.",
      },
      {
        do:
          "Once a year look along the face with a torch in a dark room. Say what lies there: dust, or a film, prints, pollen, salt.",
        right: "Dust looks bad in a torch’s light and takes almost nothing from a star.",
        wrong: "You cannot tell: blow once with the bulb. What flies was dust.",
        minds: ["electricity beside water"],
        write: "diary.csv: a note of what you saw.",
      },
      {
        do: "Only dust: blow it off with the hand bulb, the face upright. Then stop.",
        right: "Most of it is gone. What stays may stay.",
        wrong: "Never wipe it dry, never use a spray can: dust scratches metal.",
      },
      {
        do:
          "Film, prints, pollen or salt: wash it, once a year at most. Mark with a pencil on its back which side was up, then two people lift it out of the cell.",
        right: "It lies on the towel in the tub, face up, and nobody has touched the face.",
      },
      {
        do: `Pour lukewarm water with two drops of soap over it until it is covered, and wait ${
          said("wash_soak")
        }. Touch nothing meanwhile.`,
        right: "Grit lets go by itself.",
      },
      {
        do:
          "Draw wet cotton from the middle to the rim by its own weight, a new piece for every stroke.",
        right: "Your fingers carry the cotton along and press nothing.",
        wrong: "A grain under the cotton: lift it off at once, take a new piece.",
        drawing: "washing",
      },
      {
        do:
          "Rinse with clean water, then with distilled water. Stand it on edge, leaning a little back. Touch the last drops at the rim with the corner of a paper.",
        right: "Water runs off as a sheet.",
        wrong: "It beads: one more soak. It still beads: leave it, it is clean enough.",
      },
      {
        do:
          "Put it back with the mark up: it rattles faintly, it does not hang on a clip. Then align flat and mirror anew, and test on a star after sunset.",
        right: "The rings of a star are as round as before.",
        wrong: "Oval: a clip presses. Lopsided: the screws.",
        write: "diary.csv: washed, aligned.",
      },
      {
        do:
          `Have it coated again when a third of the face is dull, spotted or seen through; a film of aluminium with a cover lasts ${
            from("firm_life")
          }. Tell the firm that an old film is on it and which, and that the glass must not be polished. It is packed and looked at as the first time.`,
        right: "On the day it returns its bands look as they did before it went.",
        wrong: "Other bands: wait a night, look again, photograph them, and write to the firm.",
        write: "diary.csv: sent to be coated, coated.",
      },
    ],
  };
}
