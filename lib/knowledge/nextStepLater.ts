/** What comes after the coating, as the diary says what is done. */
import type { Step } from "./nextStepCautions.ts";
import type { DiaryRow, MirrorRecord } from "../record/types.ts";

/** Stages in which nothing is done to the glass any more. */
export const AFTER_FIGURE: readonly string[] = [
  "coating",
  "flat and tube",
  "cell",
  "mounting",
  "alignment",
  "first light",
  "care",
];

type Later = Readonly<
  Record<
    "sent to be coated" | "coated" | "mounted" | "aligned" | "star seen",
    Step
  >
>;

const LATER: Later = {
  "sent to be coated": {
    stage: "coating",
    do: "Wait until the mirror comes back, and unpack it over a soft cloth, held by its edge.",
    until: "its coating has been looked at against a lamp, and coated stands in diary.csv.",
    why: "The diary says that the mirror was sent out.",
  },
  "coated": {
    stage: "flat and tube",
    do:
      "Draw the tube with the focal length that was measured, never by the Sun with a coated mirror, and place the flat before a hole is cut.",
    until: "the flat, the tube and the cell are chosen, and mounted stands in diary.csv.",
    why: "The diary says that the mirror is coated; its figure is settled.",
  },
  "mounted": {
    stage: "alignment",
    do: "Align the mirrors: the flat under the focuser first, then the mirror by its three screws.",
    until: "all circles share one centre, and aligned stands in diary.csv.",
    why: "The diary says that the mirror is mounted.",
  },
  "aligned": {
    stage: "first light",
    do:
      "Let the mirror cool outdoors, and look at a star high in the sky, a little inside and outside of focus.",
    until: "star seen stands in diary.csv, with what you saw.",
    why: "The diary says that the mirrors are aligned.",
  },
  "star seen": {
    stage: "care",
    do:
      "Observe. Cap the tube when it rests, and leave dust where it is until there is much of it.",
    until: "the coating grows dull; then wash it, and write washed into diary.csv.",
    why: "The diary says that a star was seen: the telescope works.",
  },
};

const isLater = (what: DiaryRow["what"]): what is keyof Later => what in LATER;

/**
 * The next step of a mirror that has left the bench; nothing where it has not, or where it was worked again since.
 */
export function afterCoating({ diary, grinding }: MirrorRecord): Step | undefined {
  const worked = grinding.flatMap(({ date }) => date ?? []).sort().at(-1) ?? "";
  const said = diary.filter(({ what, date }) => isLater(what) && date >= worked)
    .toSorted((a, b) => a.date < b.date ? -1 : a.date > b.date ? 1 : 0);
  // aligned twice, or seen before it was aligned anew: the latest act decides, but nothing before the coating
  const from = said.findIndex(({ what }) => what === "sent to be coated" || what === "coated");
  const last = from < 0 ? undefined : said.at(-1)?.what;
  if (last === undefined || !isLater(last)) return undefined;
  const step = LATER[last];
  return step;
}
