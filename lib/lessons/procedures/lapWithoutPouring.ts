/** A lap for whoever has nobody to pour it: bought on the own tool, or pads for polishing out. */
import { usualLap } from "../../shaping/lap/lap.ts";
import { about, type BenchNumbers, from, mm, said, type Work } from "./procedure.ts";

/** A bought lap, or pads. */
export function lapWithoutPouring({ aperture, radius }: BenchNumbers): Work {
  const lap = usualLap(aperture), area = (aperture / 150) ** 2;
  return {
    title: "Without pouring: a bought lap, or pads",
    who: "a learner, an adult within call; warming a lap a trained adult",
    bench: [
      "the tool, rinsed and dry",
      "for a bought lap: a box in which it travels flat and cool",
      "for pads: self-adhesive pads sold for polishing glass with oxide, a blade, a ruler",
      "goggles, a net, weights, oxide in water",
    ],
    alone: "All that is cold. Whatever has to be warmed waits for a trained adult.",
    steps: [
      {
        do: `A bought lap: send your own tool. Write: width ${mm(aperture)}, domed to R ${
          mm(radius)
        }, a room of ${from("room")}, ${mm(lap.thickness)} of pitch, channels every ${
          mm(lap.spacing)
        }, ${mm(lap.channel)} wide, the tool’s middle ${lap.offset[0]} and ${
          mm(lap.offset[1])
        } off a crossing. Ask for the pitch’s name and grade.`,
        right: "A written answer that names the room’s temperature.",
        wrong: "“It does for every room”: it does not. Another seller.",
      },
      {
        do: "When it comes: lay it level, face up, in the polishing room for a day.",
        right: "No crack, no facet gone, nothing has run over the rim.",
        wrong:
          "It has run: it travelled warm or on edge. A trained adult warms and presses it anew.",
        write: "diary.csv: lap poured, with the note: bought, and the grade.",
        minds: ["hot pitch", "skin and lungs"],
      },
      {
        do: "Press your thumbnail into its rim, and count.",
        right: `A mark in ${from("nail")}.`,
        wrong:
          "At once or never: it is not for this room. Change the room by two degrees before you change the lap.",
        drawing: "nail",
      },
      {
        do:
          "Are channels cut, and is the rim trimmed? If not: steps 9 and 10 above, cold, goggles on, an adult beside.",
        right: "Open channels, and no pitch over the tool’s rim.",
        drawing: "channels",
      },
      {
        do: `Press cold: oxide in water, the mirror, ${said("press_weight", area)}, ${
          said("press_first")
        }, moved a little every two minutes, with somebody beside it. Then steps 11 to 13 above.`,
        right: "Through the back every facet is one dull tone.",
        wrong: "After three such pressings still pale: it wants warming, by a trained adult.",
        drawing: "contact",
      },
      {
        do: `Pads instead: the adult cuts squares of ${
          mm(lap.spacing - lap.channel)
        }. Stick them on the clean dry tool in the grid of the channel sheet, its middle off a crossing, none over the rim.`,
        right: "All lie flat, with gaps as wide as a channel.",
        wrong: "One stands up at a corner: a new pad. It would scratch.",
        adult: "Cuts on a board, the blade away from the body.",
      },
      {
        do: `Polish with pads as page 09 says, with the same strokes, turning and pressure (${
          said("press_polish", area)
        }), and count the same fields.`,
        right:
          "The counts fall from hour to hour. The shine is a little grey, the rim less sure: that is what pads do.",
        wrong: `They cut quicker than pitch and keep no shape: measure R after each visit of ${
          about("pause_after")
        }.`,
        write: "grinding.csv: minutes. diary.csv: pits.",
      },
      {
        do:
          "Pits gone: leave the pads. The last hours and all figuring need pitch: a bought lap, a day at a workshop, or a firm.",
        right: "You know before you begin which of them it will be.",
        wrong: "Figuring on pads: the surface stays rough and the edge goes.",
        write: "A note: which way.",
      },
    ],
  };
}
