/** The tester and the mirror's stand, built of wood, a screw and blades. */
import { type BenchNumbers, from, mm, said, type Work } from "./procedure.ts";

/** Tester and stand. */
export function buildTester({ aperture, radius }: BenchNumbers): Work {
  return {
    title: "Build the tester and the stand",
    who: "a learner with an adult; blades and power tools the adult’s",
    bench: [
      "a board as long as a forearm, two straight strips of metal or hard wood, a block that slides between",
      "a threaded rod M6 with three nuts, a knob, a strong rubber band",
      "a small battery torch, a box of card, tracing paper, black paper",
      "three new blades, tape, a set of leaves",
      "a film or glass with four lines in a millimetre (sold as a hundred to the inch)",
      "for the stand: a foot board, an upright, two pegs, felt, a hinge, two long screws, a strap",
    ],
    alone:
      "All but the blades and the drill: for these wait for somebody. A tester may be borrowed; a mirror is tested a few evenings.",
    steps: [
      {
        do:
          "Screw the two strips onto the board, parallel, so that the block slides between them without play.",
        right: "It slides by itself when the board is tilted, and does not rock.",
        wrong: "It rocks: a strip of paper under one side.",
        adult: "Drills, safety glasses on.",
      },
      {
        do:
          `Fix a nut at the board’s end and turn the rod through it against the block. The rubber band pulls the block back onto the rod. One turn of M6 is ${
            said("slide_turn")
          }. Glue a ring of card with a hundred marks to the knob.`,
        right: `Ten turns move the block by ten millimetres on a ruler. One mark is ${
          said("slide_step")
        }. ${said("slide_travel")} of way are enough.`,
        wrong: "The first turn back does nothing: a stronger band. Read from one side only.",
      },
      {
        do:
          "Make the lamp: the torch in the box of card, tracing paper before it, a small window toward the mirror. Battery only, no mains.",
        right: "The window shines evenly, and no light comes out anywhere else.",
        minds: ["electricity beside water"],
      },
      {
        do: "Hold the leaf while the adult sets the blades. Then pull it out.",
        right: `A hair of light, ${
          from("slit")
        } wide and a few millimetres high, as wide above as below.`,
        wrong: "It is a wedge: once more. Too dim to see later: a leaf thicker.",
        adult: `Tapes two blades over the window, edges toward one another, a leaf of ${
          said("slit_leaf")
        } between them as a gauge. Tapes every free corner.`,
        minds: ["knife and lamp"],
      },
      {
        do: `Say where the knife goes: on the block, upright, ${
          said("slit_knife")
        } beside the slit or less, both at one distance from the mirror.`,
        right: "Seen from the side, slit and blade stand in one plane.",
        adult:
          "Fixes the third blade with one screw, so that it can be turned a little. Tapes its near corner.",
        drawing: "stand",
      },
      {
        do:
          "Set a screen of black paper between slit and eye. Make a frame for the grating that fits in the knife’s place, its lines upright.",
        right: "Your eye behind the knife sees nothing of the lamp.",
      },
      {
        do:
          "Say which kind you have built. Lamp and slit on the same block as knife and grating: they move together. Lamp beside the rails: it stays.",
        right: "You can show it with one turn of the knob.",
        wrong: "You do not know: the answer may be doubled or halved.",
        write: "mirror.yaml, tester, source: “moves with knife” or “fixed”.",
      },
      {
        do: `The stand: on the upright two pegs that carry the rim of ${
          mm(aperture)
        }, 45° either side of its lowest point, and three pads of felt behind it. The strap goes round it loosely.`,
        right: "A wooden disc as heavy as the mirror rattles in it and cannot fall forward.",
        wrong: "It is held tight: the strap only catches, it does not hold.",
      },
      {
        do:
          "Hinge the upright to its foot. One long screw tilts it back and forth; a second one turns the foot on the table.",
        right: "Half a turn moves the returned light by about a hand.",
        wrong: "It creeps back: a rubber band against each screw.",
      },
      {
        do: `Put both on their tables, ${
          mm(radius)
        } apart, and bring slit, knife and the mirror’s middle to one height with blocks.`,
        right: "A string from the slit to the middle of the disc runs level.",
        write: "A note: what was built, distance, heights.",
      },
    ],
  };
}
