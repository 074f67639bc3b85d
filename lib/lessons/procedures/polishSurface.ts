/** One visit of polishing, and when it is over. */
import { about, type BenchNumbers, from, mm, said, type Work } from "./procedure.ts";

/** Polishing, a visit at a time. */
export function polishSurface({ aperture, length }: BenchNumbers): Work {
  const area = (aperture / 150) ** 2;
  return {
    title: "Polish for a visit",
    who:
      "a learner; after two visits anybody with an adult in the house; warming a lap a trained adult",
    bench: [
      "the lap on a wet cloth between cleats, the mirror",
      "oxide in a closed bottle, a dropper, a soft brush, gloves",
      `a room of ${about("room")}, steady to a degree`,
      `a loupe of ${said("loupe_fine")}, a torch, the field card`,
    ],
    alone: "You may polish alone with gloves on and a window open. Never warm a lap alone.",
    steps: [
      {
        do: `Put lap, mirror and slurry into the room ${
          said("room_before")
        } before. Shake one spoon of oxide with ${
          said("slurry_water")
        } of water, by the same spoon (${from("slurry_water")}).`,
        right: "Milk that leaves no grain between two wet fingers.",
        wrong: "A grain: sieve it through a stocking, wash the bottle.",
        minds: [
          "skin and lungs",
          "food and children",
          "slippery discs",
          "electricity beside water",
        ],
      },
      {
        do: "Rinse lap and mirror. Feel the lap with a wet clean fingertip.",
        right: "Smooth facets, no grain.",
        wrong: "A grain: wash it, brush every channel.",
      },
      {
        do: `Press cold for ${said("press_cold")}. Look through the back with slurry under it.`,
        right: "Every facet one dull tone.",
        wrong: "A bright ring or patch: press until it is gone. It stays: stage 08, step 14.",
        drawing: "contact",
      },
      {
        do: `Give ${
          said("polish_charge", area)
        } of slurry, and spread it with the mirror in circles.`,
        right: "A thin film, no pool at the rim.",
      },
      {
        do: `Polish with the mirror on top: strokes over the centre, ${mm(length)} long, ${
          from("pace")
        }. Mirror and hands together press ${said("press_polish", area)}.`,
        right: "A slow, even, silky drag, and a faint hiss.",
        wrong:
          "A squeak or a jerk: dry, a few drops of water. No drag: too wet, or no contact, press. A tick: lift, wash both.",
        drawing: "posture",
      },
      {
        do: `After ${said("turn_strokes")} turn by the one rule: ${said("turn_upper")} and ${
          said("turn_lower")
        }.`,
        right: "As in stage 03, without thinking.",
        drawing: "turn",
      },
      {
        do: `Slurry again every ${
          from("polish_charge_lasts")
        }, or when the drag rises. In between only water. Let the last charge run until it is nearly clear.`,
        right: "The last strokes are the heaviest and the finest.",
      },
      {
        do: `Stop after ${about("pause_after")}. Slide the mirror off sideways. Press ${
          said("press_between")
        }, then the next session.`,
        right: "Two sessions make a visit of an hour.",
        wrong: `The edge of the lap stands over: trim it, wet and cold, ${
          from("trim")
        } inside the mirror’s rim, as in stage 08, step 9: goggles, the blade away from your body, an adult beside. Wash off each crumb.`,
        write: "grinding.csv: abrasive, position, minutes. A note: room, lap trimmed.",
      },
      {
        do: `After each hour rinse, dry, and count pits with the loupe of ${
          said("loupe_fine")
        }: one field in the middle, two at seven tenths of the radius, ${
          said("fields_polished")
        } just inside the bevel. Hold the torch at a slant.`,
        right: "The middle clears first, the rim last.",
        write: "diary.csv: pits, where_mm, amount; a row for each field.",
        drawing: "clearing",
      },
      {
        do: "Write the rim’s counts hour by hour under one another.",
        right: `They fall. The time in which they halve tells the rest. Budget about ${
          about("polish_hours")
        }.`,
        wrong:
          "They do not fall for two hours: the lap does not touch there. Press, trim, count again. All of one size and wide: an older grade’s. Find which by the tiles, and go back to it.",
      },
      {
        do: `Stop when ten rim fields show none, twice, ${
          said("pits_again_polished")
        } apart, with the torch at a slant and with the torch behind the glass.`,
        right: "No pit. Shine says nothing.",
        write: "diary.csv: no pits.",
      },
      {
        do: "Look for sleeks: hairlines with smooth sides, seen at a slant only.",
        right: "None.",
        wrong: "Some: wash lap and mirror, press longer. They go within an hour or two.",
      },
      {
        do:
          "Rinse both. Dry the mirror and lay it in its own box. Put the lap level in its box, face up, never with the mirror on it.",
        right: `The box stands at ${
          from("lap_store")
        }, out of the sun. The slurry’s water settles in the bucket, then to the bin.`,
        wrong: "It stood for a week: press for half an hour first.",
        minds: ["sludge"],
      },
    ],
  };
}
