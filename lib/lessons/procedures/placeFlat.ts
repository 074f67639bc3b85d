/** Tube, focuser and flat. */
import { decision } from "../../record/tables.ts";
import { type BenchNumbers, mm, said, type Work } from "./procedure.ts";

/** The flat and the hole for it. */
export function placeFlat({ aperture, focalLength }: BenchNumbers): Work {
  return {
    title: "Cut the hole and hang the flat",
    who: "anybody measures and paints; power tools an adult who knows them",
    bench: [
      "the measured focal length, not the plan’s",
      "a dummy: a wooden disc as wide and heavy as the mirror",
      "a tape, a file, matt black paint, card",
    ],
    alone:
      "Measure, paint and glue by day with the window open. Let drilling and sawing wait for somebody.",
    steps: [
      {
        do:
          "Put both mirrors out of the room, in their closed boxes. The flat to order is as wide as the kit says on this page, and flat to a tenth of a wave or better where its light is used.",
        right: "Only the dummy stands on the bench.",
        minds: ["power tools and glue", "a coated mirror in sunlight"],
      },
      {
        do: `Write down the measured focal length and its doubt. The plan said ${mm(focalLength)}.`,
        right: `Its standard uncertainty is ${decision("drill_focal_length_u_most")} mm or less.`,
        wrong: "It is more: measure R again before anything is cut.",
        drawing: "telescope",
      },
      {
        do:
          "Reckon the hole’s place: focal length less the way from flat to focus, from the middle of the mirror’s face. Mark it on the tube. Measure it twice, from both ends.",
        right: "Both marks meet.",
        wrong: "They do not: one of the tube’s ends is not square.",
        write: "On a label inside the tube: f, the hole’s place.",
      },
      {
        do: "Let the adult drill, the tube empty. File each edge round.",
        right: "You can run a finger round it.",
        adult: "Safety glasses on, tube held fast: drills, from small to large.",
      },
      {
        do: "Set the focuser on. Put a card cross into its bore and one on the wall opposite.",
        right: `Looking through, both crosses meet within two millimetres. ${
          said("spare_travel")
        } of travel are left inward.`,
        wrong: "They do not: a sliver of card under one foot.",
      },
      {
        do: `Check the tube’s bore: ${said("tube_over")} more than ${mm(aperture)}.`,
        right: "Warm air finds its way along the wall, beside the light.",
        wrong: "It is less: no lining inside but paint.",
      },
      {
        do: "Round every cut edge, cap the screws of the vanes, tape both ends of the tube.",
        right: "Your hands find nothing sharp in the dark.",
      },
      {
        do:
          "Paint everything inside matt black, flock opposite the focuser. Let it dry two days, glue and paint away from flames.",
        right:
          "Looking in through the drawtube indoors, by lamplight, the curtains drawn: black, and nothing else.",
        wrong: "A bright ring: a longer drawtube or a ring of card.",
      },
      {
        do:
          "Only now, everything dry: bring the flat in. Hang it on three or four thin straight vanes, edge on, or on one stout stalk. Its holder has a lip, so that it cannot fall.",
        right: "A tap on the tube: the flat does not tremble on.",
        wrong: "It trembles: tighter vanes.",
      },
      {
        do:
          "Shift the flat a little away from the focuser and as much toward the mirror, as the kit says.",
        right: "Seen through the focuser its rim is round and central.",
        wrong: "It looks cut off on one side: you shifted it the wrong way.",
        write: "On the label: offset both ways.",
      },
    ],
  };
}
