/** Three ways to the radius: leaves, spherometer, a lamp at the centre of curvature; the Sun only by a trained adult. */
import { about, type BenchNumbers, mm, said, type Work } from "./procedure.ts";

/** Leaves, spherometer, lamp. */
export function measureCurve({ radius, depth }: BenchNumbers): Work {
  return {
    title: "Measure the curve three ways",
    who: "anybody; the Sun by a trained adult only",
    bench: [
      "leaves and straight-edge",
      "spherometer and a flat plate",
      "a torch behind a card with a hole half a centimetre wide, a white card, one box for both",
      "the mirror’s stand of page 10 with its strap, a folded towel under and before it; a room that can be dimmed, longer than R",
      "soap water in a sprayer, a long tape",
    ],
    alone:
      "Leave the Sun out: leaves, spherometer and lamp are three methods, and you may use them alone.",
    steps: [
      {
        do: `Rinse and dry the mirror. Let it lie ${
          said("reading_rest")
        }. Wipe the rim clear of grains with a wet cloth.`,
        right: "Face and bevel are bare and dry, without a grain.",
        wrong: "A chip sticks to the cloth: wipe again with a wet one, never with your hand.",
        minds: ["glass edges"],
      },
      {
        do:
          "Stand the straight-edge on its narrow side across the middle. Slide leaves in flat under its middle. Never push.",
        right: `“Go” slips with a light drag, “no-go” stops. Wanted in the end: ${mm(depth, 3)}.`,
        wrong: "A stack goes once and stops once: there is a grain. Wipe, and begin again.",
        write: "sagitta.csv: go_mm, nogo_mm, at once.",
        drawing: "leaves",
      },
      {
        do: "Do the same on two more diameters.",
        right: "They agree.",
        wrong: "They do not: look at the turning before you go on.",
        write: "sagitta.csv: angle_deg. Where there is no such field: the diameter into the note.",
      },
      {
        do: `Stand the spherometer beside the glass for ${
          said("spherometer_rest")
        }. Handle it by its feet’s ring with a cloth.`,
        right: "Both are as warm as the room.",
        wrong: "The dial creeps while you look: it is still warm. Wait.",
      },
      {
        do:
          "Set it on the flat plate five times, lifted each time and turned by a third twice. Then five times on the mirror’s middle. Then the plate again.",
        right: "Both means on the plate agree within two steps of the dial.",
        wrong: "They do not: a foot is dirty, or it was warm. Wipe, wait, repeat all of it.",
        write: "spherometer.csv: surface, dial_mm, ten rows and five.",
        drawing: "spherometer",
      },
      {
        do:
          `Stand the mirror upright, the strap round it loosely. Put torch card and white card side by side on the box, ${
            mm(radius)
          } from the mirror. Wet the face with soap water.`,
        right: `The face shines for ${about("wet_face")}.`,
        wrong: "Streaks: wet it again. The disc stands loose: never lean glass on books.",
        drawing: "lamp",
      },
      {
        do:
          "Tilt the mirror until its light comes back to the white card. Slide the box until the picture of the hole is sharpest. Look at the card only.",
        right: "A round bright spot with a clear rim beside the torch.",
        wrong:
          "No spot: look for the light on the wall, and tilt it over. Never look for the torch in the glass.",
      },
      {
        do:
          "Measure from the middle of the glass to the box. Five times, from either side of sharp in turn.",
        right: `They lie within a few centimetres. This is R, not f. One reading is good to ${
          said("lamp_u_rough")
        } after F80, to ${said("lamp_u_fine")} after F320.`,
        write: "lamp.csv: distance_mm, five rows.",
      },
      {
        do:
          "Only if a trained adult does it: stand five metres back. Read the tape when the cover is on the mirror again.",
        right: "The cover goes on first, then the tape is read.",
        wrong: "A warm card, a brown spot, a smell, visitors or wind: cover on, end.",
        adult:
          "Turns the covered mirror until a rod’s shadow is nearly gone, so that the image falls beside the light. Catches the image on a card on a stick, the cover off for one minute at most, standing beside the beam, the Sun at the side, the face turned from the mirror. Marks the rail, covers the mirror.",
        write: "sun.csv: distance_mm.",
        minds: ["the Sun on glass"],
        drawing: "sun",
      },
      {
        do: "Write every reading as it comes. Strike nothing out without its reason.",
        right: "The three methods agree within what each can tell.",
        wrong: "One lies far from the others: do not drop it. Read all three again.",
      },
    ],
  };
}
