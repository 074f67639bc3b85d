/** Sending the mirror to be coated, and looking at it when it comes back. */
import { type BenchNumbers, mm, said, type Work } from "./procedure.ts";

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
    alone:
      "Pack it alone; an adult sends it, and opens the parcel. No silver bath, no acid, no vacuum at home: this is a firm’s work.",
    steps: [
      {
        do:
          "Look once more: no pits in ten rim fields, the goal shown for the whole surface (arrow at 0, 45 and 90, both knives), two pictures of bands kept.",
        right: "You would send it today.",
        wrong: "You would not: a coating hides nothing and helps nothing.",
        minds: ["silver and acid"],
      },
      {
        do: `Tell the firm in writing: one bare mirror, ${mm(aperture)} wide and ${
          mm(thickness)
        } thick, the kind of glass, that the hollow face is the one, that its back is ground, that it must not be polished, and at which rim it may be held.`,
        right: "Nobody has to guess anything.",
      },
      {
        do:
          "Ask it in the same letter: aluminium with which cover, how much light it sends back at 550 nm, whether the old film can be taken off later, price, weeks, who insures the parcel, whether pencil on the back may stay, within how many days a fault must be told.",
        right: `An answer that names ${mm(aperture)} and ${mm(thickness)}.`,
        wrong: "No written answer: another firm.",
      },
      {
        do: "Wash with a little soap, rinse, then distilled water. Dry it on edge.",
        right: "Water runs off as a sheet.",
        wrong:
          "It beads: grease. Once more. A lamp stands dry and away. Old pitch on rim or back: a night in the refrigerator, then wood; what stays an adult takes off outdoors, cold, with what the data sheet names.",
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
          "When it comes back, on the same day: photograph the parcel before you open it. Hold the mirror before a dim lamp in a dark room and count pinholes. Look for smears, scratches, chips at the rim, shadows of clips, and at the back for your mark.",
        right: "A few tiny pinholes are usual. It is your mirror.",
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
    ],
  };
}
