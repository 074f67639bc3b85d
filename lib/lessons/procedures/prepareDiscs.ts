/** Two discs tried, bevelled and marked; the bench set up. */
import { decision } from "../../record/tables.ts";
import { type BenchNumbers, from, mm, said, type Work } from "./procedure.ts";

/** Blanks, bevel, bench. */
export function prepareDiscs({ aperture, thickness }: BenchNumbers): Work {
  const area = (aperture / 150) ** 2;
  return {
    title: "Try, bevel and mark both discs",
    who: "anybody tries and marks; a learner bevels with an adult beside",
    bench: [
      "safety glasses",
      "a screen that shows plain white, a loose polarising film",
      "scales, calipers, a ruler with half millimetres",
      "plate glass and two leaves",
      "a torch and a loupe",
      "a flat wet stone, a card cut at 45°, a sprayer",
      "a paint pen",
    ],
    alone:
      "You may do all of it, with safety glasses on and an adult within call. A young person opens no jar of powder: an adult in a mask does.",
    steps: [
      {
        do:
          "Put safety glasses on. Wash both discs with soap in lukewarm water, with both hands, and dry them. Lay one on three corks on the bench, a folded cloth below, and tap its rim with a knuckle.",
        right: "A clear ring.",
        wrong: "A dull buzz: it is cracked. Do not use it.",
        minds: ["glass edges", "slippery discs"],
      },
      {
        do:
          "Hold the film before the white screen and turn it until the screen is darkest. Put the disc between. A ground face: wet it and lay clear film on it, unstretched. Try that film alone first: it must stay dark.",
        right: "Dark, or an even weak grey with one soft cross.",
        wrong:
          "A patch that goes round with the disc: take another disc. Colours or rows of spots: it is toughened glass and bursts. Never grind it.",
        drawing: "strain",
      },
      {
        do: `Weigh the disc. Measure its width at three places and its thickness at four.`,
        right: `The mass is within ${
          said("mass_off")
        } of what width, thickness and glass give. The thickness differs by ${
          decision("wedge_most")
        } mm at most, near ${mm(thickness)}.`,
        wrong:
          "More than that: weigh and measure once more. A tenth off: it is another glass, or another thickness. Find out which.",
        write: "mirror.yaml: aperture, thickness, glass. A note: mass, all widths and thicknesses.",
      },
      {
        do: "Shine a torch in from the side in a dark room. Mark each bubble.",
        right: `No bubble within ${said("bubble_depth")} of the face that you will work.`,
        wrong: "A bubble is nearer: work the other face. An open bubble holds grit and scratches.",
        write: "A note: which face, and why.",
      },
      {
        do: "Lay each face on plate glass. Press at opposite rims.",
        right: `No click, and the leaf of ${said("leaf_flat")} enters nowhere.`,
        wrong: `A thicker leaf enters: work the other face. One of ${
          said("leaf_refuse")
        } enters: another disc.`,
        drawing: "leaves",
      },
      {
        do:
          "Mark the back: an arrow to the rim for twelve o’clock, dots at three, six and nine. Write “mirror” on one disc and “tool” on the other, and your record’s name.",
        right: "You can say in the dark where the arrow is. Nothing is marked at thirds.",
        drawing: "marks",
      },
      {
        do:
          `Bevel with a wet stone. Stand the card at the rim, lay the stone on its slope, and take the card away. Stroke along the rim for ${
            said("stone_stroke")
          }, a little inward, with about ${
            said("bevel_press")
          } of your hand. Never stroke off the edge.`,
        right: "An even soft rasp.",
        wrong: "Clicks: the stone breaks chips out. Lighter, wetter, less inward.",
        drawing: "bevel",
      },
      {
        do: `After ${
          said("stone_strokes")
        } spray, and turn the disc by two fingers’ breadth. Go on round for ${
          from("bevel_minutes")
        } an edge.`,
        right: "A grey band of one width all round.",
        wrong: "Wide in one place: you stopped there. Go round quicker.",
      },
      {
        do: "Measure both legs of the bevel under the loupe, at four places.",
        right: `${from("bevel")} on the face and as much on the side, even to ${
          said("bevel_even")
        }. Back edges: ${from("bevel_back")}.`,
        wrong: `Under ${
          said("bevel_never_under")
        } at any later stage: stone again before anything else.`,
        write: "mirror.yaml: bevel. diary.csv: bevel renewed.",
      },
      {
        do: "Rinse in a bucket, dry, and look all round with the loupe.",
        right: "No chip reaches the face.",
        wrong:
          "A chip inside the bevel does no harm. One that reaches the face: bevel on until it is gone.",
      },
      {
        do:
          `Set up the bench. Fix a board to a firm table. Lay a wet cloth on it without folds, the disc on the cloth, and three wooden cleats round it, ${
            from("cleat_below_top")
          } lower than the disc’s top, with a card’s play of ${from("cleat_play")}.`,
        right: "The disc turns by hand in two seconds. It does not rock or creep.",
        wrong: "It is held tight: a clamped disc is a bent disc. Loosen it.",
        drawing: "bench",
      },
      {
        do: `Bring the disc’s top ${from("bench_below_elbow")} below your bent elbow.`,
        right: "Shoulders low, wrists straight.",
        wrong: "An ache within ten minutes: a lower table, or a box to stand on.",
        drawing: "posture",
      },
      {
        do:
          `Put the disc on bathroom scales. Lay your palms flat near the middle, and press until they show ${
            said("press_rough", area)
          }, glass included, then ${
            said("press_fine", area)
          }. Three times each, then with closed eyes.`,
        right: `Within ${from("press_rough", area)}, and ${
          from("press_fine", area)
        }. Small hands: ${said("press_small_hands")} of it. It takes twice as long and is as good.`,
        drawing: "hands",
      },
    ],
  };
}
