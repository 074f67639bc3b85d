/** The cell, balance and base: all tried with a dummy first. */
import { type BenchNumbers, from, mm, said, type Work } from "./procedure.ts";
import { fact } from "../../record/tables.ts";

/** Cell, balance, base. */
export function carryWeight({ aperture }: BenchNumbers): Work {
  return {
    title: "Hold the mirror, balance the tube",
    who: "a learner with an adult; power tools an adult who knows them; two people lift the tube",
    bench: [
      "a dummy as wide and heavy as the mirror",
      "pads of felt or cork, three screws with springs",
      "a spring scale, a tape",
    ],
    alone: "Build the cell alone. Lift the tube and try the base with somebody.",
    steps: [
      {
        do: `Stick three pads, ${said("pad")} wide, at ${
          mm(fact("pad_radius") * aperture / 2)
        } from the middle, a third of a turn apart.`,
        right: `Each bears a third. From ${from("pad_radius")} does too.`,
        minds: ["power tools and glue", "a coated mirror in sunlight"],
        drawing: "cell",
      },
      {
        do:
          "Put three screws with springs under the plate, and let the adult drill what is to be drilled.",
        right: "A turn of one screw tilts the dummy smoothly.",
        wrong: "It jumps: a stiffer spring, a drop of grease.",
        adult: "Drills, safety glasses on, the mirrors out of the room.",
      },
      {
        do: `Set posts at the rim with ${
          said("rim_air")
        } of air, and clips as far above the face, covering ${said("clip_covers")} at most.`,
        right: "A faint rattle when you shake it.",
        wrong: "Silent: it is pinched. File.",
      },
      {
        do: "Turn cell and dummy upside down, over a cushion.",
        right: "Nothing comes out.",
        wrong: "It does: longer clips. The mirror comes last of all, in the last two steps.",
      },
      {
        do:
          "Put everything into the tube, the dummy for the mirror, the heaviest eyepiece too. Lay the tube on a pencil until it balances.",
        right: "Mark that place: there is the pivot.",
        wrong:
          "The place moves by a hand’s breadth with another eyepiece: a heavier weight at the mirror’s end.",
        write: "mirror.yaml: parts with mass and place.",
      },
      {
        do: "Two people lift the tube onto the base.",
        right: "Fingers are out of the bearings.",
        minds: ["a heavy tube"],
      },
      {
        do: `Tip test: tube at three heights, pull with ${
          said("tip_pull")
        } on a spring scale at the eyepiece, four ways.`,
        right: "No foot lifts.",
        wrong: "One lifts: feet farther out.",
        drawing: "tip",
      },
      {
        do: "Push the tube’s front with two fingers.",
        right: "It starts smoothly, and stays with the heaviest eyepiece when it lies low.",
        wrong: "It falls: larger bearings or a counterweight. It jerks: wax, or new pads.",
      },
      {
        do: "Swap the eyepiece with one hand on the tube, or with a strap to the base.",
        right: "The tube stays where it was.",
        write:
          "On the label inside the tube: pad radius, gaps, mass, balance point, tip test in kilograms.",
      },
      {
        do:
          "Now the mirror comes, dry and at rest on a soft bed. Print the sheet of the centre mark. Lay a ring of card on the bevel that leaves the middle open, lower the paper ring with tweezers, and press it with a cotton bud. Nothing else touches the face.",
        right: "By ruler from the bevel at four places it is central within a millimetre.",
        wrong: "It is not: draw it off wet, and try again. No pen, no point on the metal.",
      },
      {
        do:
          "Two people, over a cushion: take the dummy out. One holds the cell level, the other lowers the mirror by its rim onto the pads, arrow at the mark. Set posts and clips as they were.",
        right: "The faint rattle again. Turned slowly on edge over the cushion, it stays.",
        wrong: "Silent: a clip presses. Back it off by a sheet of paper.",
      },
    ],
  };
}
