/** The first evening, in order. */
import { decision } from "../../record/tables.ts";
import { type BenchNumbers, from, said, type Work } from "./procedure.ts";

/** First light. */
export function observeSky(_: BenchNumbers): Work {
  return {
    title: "The first evening",
    who: "anybody, an adult beside young people",
    bench: [
      "a low-power eyepiece, a dim red torch, a chair",
      "a watch, card and pencil",
      "a dew cap of black card, a cloth, something warm to drink",
    ],
    alone: "Say where you are and when you come back. No young person alone.",
    steps: [
      {
        do:
          `Walk the ground in daylight: cables flat, nothing to fall over. Carry the telescope out ${
            from("outside_before")
          } before, into shade, covered, pointing down and away from the west. Two people carry it.`,
        right: "The tube cools while you eat.",
        minds: [
          "the Sun in a telescope",
          "a coated mirror in sunlight",
          "a heavy tube",
          "night and road",
          "lasers",
        ],
      },
      {
        do: `The Sun has set, it is still light: sight along the tube to a lamp or mast ${
          said("lamp_far")
        } away or more.`,
        right: "It stands in the middle of the low-power field.",
        wrong: "Nothing there: both eyes open, move the tube in small circles.",
        drawing: "sighting",
      },
      {
        do: "Now turn the finder’s screws, and leave the tube alone.",
        right: "The finder’s cross stands on the lamp.",
        wrong: "The lamp left the eyepiece meanwhile: centre it again, then the screws.",
        drawing: "finder",
      },
      {
        do:
          "Moon first, half of it is best. It dazzles and does no harm. Low power. Turn the focuser through and back.",
        right: "Craters snap sharp.",
        wrong: "Never sharp: write down which way the travel was short.",
        drawing: "moon",
      },
      {
        do:
          "Spectacles: off for near and far sight, and focus for yourself. On where you need them for astigmatism.",
        right: "A star is a point.",
        wrong: "An oval that turns with your head is your eye.",
      },
      {
        do:
          "Follow with two fingers at the front of the tube. Put the object ahead of the middle, and let it come.",
        right: `A star near the equator crosses the field in about ${said("star_crosses")}.`,
        wrong: "It jerks, or wobbles for seconds: tighten the base.",
      },
      {
        do: "Take the next power only when the picture at the last one is steady.",
        right: "More to see, not only larger.",
      },
      {
        do: `Give your eyes ${said("dark_eyes")} in the dark, the red torch dim.`,
        right: "Faint things come out when you look beside them and tap the tube.",
        wrong: "You see a faint grey patch where photographs show colour: that is what eyes see.",
      },
      {
        do:
          "Dew: put the dew cap on, one tube’s width long. A fogged eyepiece goes into your pocket.",
        right: "The flat stays clear.",
        wrong: "A fogged mirror: stop. Bring it in covered, let it dry in the open, do not wipe.",
        drawing: "dew",
      },
      {
        do: `Let others look: ${
          said("visitors")
        } each, hands behind the back. A child stands on a step that an adult holds.`,
        right: "Nobody holds on to the tube.",
      },
      {
        do:
          "Draw for ten minutes. Write the date, the hour with its zone, the eyepiece, and the air from 1 to 5.",
        right: "You saw more in the ninth minute than in the first.",
        write: "diary.csv: star seen. observations.csv: a row for each thing seen.",
      },
      {
        do: `Stop before you are cold. Never point within ${
          decision("sun_distance_least")
        }° of where the Sun is or will rise. Cover both ends, then carry.`,
        right: "The covers are on before it is light.",
      },
    ],
  };
}
