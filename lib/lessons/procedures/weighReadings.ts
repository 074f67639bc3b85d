/** Reading again so that readings mean something: blind, in turn, each written at once. */
import { decision } from "../../record/tables.ts";
import { type BenchNumbers, said, type Work } from "./procedure.ts";

/** Blind readings of one depth. */
export function weighReadings(_: BenchNumbers): Work {
  return {
    title: "Read the same depth blind",
    who: "anybody; two people are better than one",
    bench: ["leaves and straight-edge", "a sheet for each reader", "a cloth, a clock"],
    alone:
      "Cover your former readings with a card, mix the leaves between readings, and read on two days.",
    steps: [
      {
        do: `Let the glass lie ${said("reading_rest")} after it was touched. Wipe it.`,
        right: "Dry, and as warm as the room.",
      },
      {
        do: "Let one person read and another write. The reader does not see what was written.",
        right: "Nobody says a number aloud but the reader.",
        wrong:
          "Somebody says “that cannot be”: the rest of the series is worth nothing. Begin again tomorrow.",
      },
      {
        do: "Take the straight-edge off and set it down anew for each reading. Mix the leaves.",
        right: "Each reading is a new one.",
        wrong: "The leaves still lie as before: that is one reading, not two.",
        drawing: "leaves",
      },
      {
        do: "Read ten times, at the same mark.",
        right: "They scatter a little: by a leaf or two.",
        wrong:
          "All ten are alike: your leaves are coarser than your hand. Their step is your doubt.",
        write: "sagitta.csv: ten rows, with the date.",
      },
      {
        do: "Change places, and do it again.",
        right: "Both readers’ means differ by less than their scatter.",
        wrong: "They differ by more: one of you pushes the leaves. Find out who, without blame.",
      },
      {
        do: `Set nothing aside before there are ${
          decision("set_aside_readings_least")
        } readings. A slip is struck through with its reason before anybody knows the mean.`,
        right: "Everything that was read is still on the sheet.",
        wrong: "A reading was left out because it did not fit: write it down again, with a note.",
        write: "sagitta.csv: note.",
      },
    ],
  };
}
