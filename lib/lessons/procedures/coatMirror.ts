/** Sending the mirror to be coated, and looking at it when it comes back. */
import { type BenchNumbers, from, mm, said, type Work } from "./procedure.ts";

/** Coating. */
export function coatMirror({ aperture, thickness }: BenchNumbers): Work {
  return {
    title: "Pack, send, and look at it again",
    who: "an adult orders; anybody packs",
    bench: [
      "plain soap, distilled water, cotton",
      "a box with foam, a second box",
      "a stiff card, paper for a label",
    ],
    alone: "All of it. No silver bath, no acid, no vacuum at home: this is a firm’s work.",
    steps: [
      {
        do:
          "Look once more: no pits in ten rim fields, the goal shown on two diameters, two pictures of bands kept.",
        right: "You would send it today.",
        wrong: "You would not: a coating hides nothing and helps nothing.",
        minds: ["silver and acid"],
      },
      {
        do:
          "Ask the firm in writing: widest and thickest disc, aluminium with which cover, how much light it sends back at 550 nm, whether the old film can be taken off later, price, weeks, insurance, whether ink on the back may stay, how it holds the rim.",
        right: `An answer that names ${mm(aperture)} and ${mm(thickness)}.`,
        wrong: "No written answer: another firm.",
      },
      {
        do: "Wash with a little soap, rinse, then distilled water. Dry it on edge.",
        right: "Water runs off as a sheet.",
        wrong: "It beads: grease. Once more. A lamp stands dry and away.",
        minds: ["electricity beside water"],
      },
      {
        do: `Lay the disc into a ring of foam that holds its rim, ${
          said("foam")
        } thick. A stiff card stands clear of the face. Nothing lies on the face, no tissue.`,
        right: "Shaken, nothing moves and nothing touches the face.",
        drawing: "packing",
      },
      {
        do:
          "Write on the label: the record’s name, width, f, “front here, hold by the rim”, the organiser’s address. No child’s name. Photograph it. Second box round it.",
        right: "A stranger knows which side is the front.",
        write: "diary.csv: sent to be coated.",
      },
      {
        do:
          "When it comes back, on the same day: hold it before a dim lamp in a dark room and count pinholes. Look for smears, scratches, shadows of clips.",
        right: "A few tiny pinholes are usual.",
        wrong: "More: photograph it, and write within the firm’s days.",
        minds: ["a coated mirror in sunlight"],
      },
      {
        do: "Look at its bands on both sides.",
        right: "As before.",
        wrong: "Other bands: it is bent or warm. Wait a night, look again, then write.",
        write: "diary.csv: coated. ronchi.csv: two pictures.",
      },
      {
        do: "Close the box. From now on the coated mirror is covered but when light is wanted.",
        right: "The box is shut, away from every window.",
      },
      {
        do:
          `Later: dust alone is blown off with a hand bulb. Film, salt or prints: once a year at most, wash it. Soak ${
            said("wash_soak")
          } in lukewarm water with two drops of soap; draw wet cotton from the middle to the rim by its own weight, a new piece each time; rinse with distilled water; on edge.`,
        right: "Water runs off as a sheet.",
        wrong: "Never wipe it dry, never use a spray can.",
      },
      {
        do: `Have it coated anew when a third of the face is dull or spotted: ${
          from("firm_life")
        } for aluminium with a cover.`,
        right: "Dust is no reason.",
        write: "diary.csv: washed, coated.",
      },
    ],
  };
}
