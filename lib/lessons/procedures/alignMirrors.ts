/** Aligning the mirrors with a cap, then on a star. */
import { decision } from "../../record/tables.ts";
import { type BenchNumbers, said, type Work } from "./procedure.ts";

/** Collimation. */
export function alignMirrors(_: BenchNumbers): Work {
  return {
    title: "Align both mirrors",
    who:
      "anybody with the cap; a laser, of class 1 or 2, only a trained adult, and no young people in the room",
    bench: [
      `a cap with a hole of ${said("cap_hole")}`,
      "white paper, a screwdriver on a string",
      "a helper",
    ],
    alone: "You may do it alone: turn a screw, walk back, look. It takes three times as long.",
    steps: [
      {
        do:
          "Go indoors or into shade that no sunlight reaches within an hour. Lay the tube level, at a plain wall. Tie the screwdriver to your wrist.",
        right: "No sunlight can come into the tube.",
        minds: ["the Sun in a telescope", "a coated mirror in sunlight", "lasers"],
      },
      {
        do:
          "Look through the hole of the cap. Hold white paper behind the flat. Slide the flat’s stem until the flat is round and central under the drawtube.",
        right: "A round rim with an even gap all round.",
        drawing: "cap",
      },
      {
        do:
          "Look for the mirror in the flat, and its three clips. Tilt the flat by eighths of a turn.",
        right: "All three clips, alike.",
        wrong: "One is missing: tilt the flat toward it.",
      },
      {
        do:
          "Only then the mirror. The helper turns one screw by an eighth. You say “toward” or “away”.",
        right: "You know what each screw does.",
        write: "A note: what each screw did.",
      },
      {
        do: "Bring the cap’s dark dot into the ring on the mirror.",
        right: "The dot stands in the ring.",
        wrong: "It runs away: the other way round with the same screw.",
        drawing: "cap",
      },
      {
        do: "Tighten the screws, and look again.",
        right: `Still in the ring. For planets it must stand ${
          Math.round(1 / decision("planet_share"))
        } times nearer to the ring’s middle than the kit allows elsewhere.`,
        wrong: "Tightening moved it: bring it back, and tighten less.",
      },
      {
        do:
          "After sunset, the mirror cool: put a bright star near the middle of a high-power field, just out of focus.",
        right: "Rings round one another on both sides of focus.",
        wrong: "Rings to one side: an eighth of a screw. Keep it if it is rounder.",
        drawing: "star-rings",
      },
      {
        do: "Turn your head, look at the star on both sides of focus.",
        right: "Rings stay as they are.",
        wrong:
          "The oval turns with your head: it is your eye. It turns by a quarter between both sides: pinch, air or glass. It boils: not tonight.",
        write: "diary.csv: aligned, star seen.",
      },
    ],
  };
}
