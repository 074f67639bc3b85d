/** What comes after the coating, as the diary says what is done. */
import { fact } from "../record/tables.ts";
import type { Step } from "./nextStepCautions.ts";
import type { DiaryRow } from "../record/types.ts";
import type { Known, Rules } from "./rules.ts";
import type { Q } from "./summaryTypes.ts";

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

const ACTS = ["sent to be coated", "coated", "mounted", "aligned", "star seen"] as const;
type Later = typeof ACTS[number];

const isLater = (what: DiaryRow["what"]): what is Later => ACTS.some((act) => act === what);

const mm = (q: Q | undefined, digits = 0): string => `${q?.value.toFixed(digits) ?? "?"} mm`;

function sent(): Step {
  return {
    stage: "coating",
    do:
      "Wait until the mirror comes back, unpack it over a soft cloth, held by its edge, and look at it against a lamp in a dark room: pinholes, smears, scratches; then at its bands, which must look like before.",
    until:
      "a few tiny pinholes are all there is, and coated stands in diary.csv; else photograph it and write to the firm within its days.",
    why: "The diary says that the mirror was sent out.",
  };
}

/** Coated: what of the telescope is not yet written comes next, in the order in which it is built. */
function coated({ record, curve, telescope: t }: Known, rules: Rules): Step {
  const { telescope } = record.settings, focal = curve?.focalLength;
  const why = "The diary says that the mirror is coated; its figure is settled.";
  const until = "and mounted stands in diary.csv once the mirror is in its tube.";
  if (focal === undefined || (focal.u ?? 0) > rules.drillU) {
    return {
      stage: "flat and tube",
      do:
        "Measure the focal length of the finished mirror before a hole is cut, never by the Sun with a coated mirror: lamp and card on one box at the centre of curvature, five settings into lamp.csv, or the tape from the glass to the knife. Half of it is f.",
      until: `the focal length is known to ${rules.drillU} mm; then the tube is drawn.`,
      why: focal === undefined
        ? `${why} No reading tells its focal length.`
        : `${why} Its focal length is ${mm(focal)} ± ${
          mm(focal.u === undefined ? undefined : { ...focal, value: focal.u }, 1)
        }: too little to drill by.`,
    };
  }
  const f = mm(t?.builtFor ?? focal);
  if (telescope?.tube === undefined || telescope.focuser === undefined) {
    return {
      stage: "flat and tube",
      do:
        `Draw the tube for the measured focal length of ${f}, never measured by the Sun with a coated mirror: write tube and focuser into mirror.yaml under telescope, and place the flat before a hole is cut.`,
      until: "the flat, its place and the tube are chosen.",
      why,
    };
  }
  if (telescope.screws === undefined) {
    return {
      stage: "cell",
      do: `Buy a flat of ${mm(t?.flatMinorAxis)}, drill for the focuser ${
        mm(t?.flatFromVertex)
      } in front of the mirror's face, the tube empty. Then build the cell with a dummy disc: three pads at ${
        mm(t?.supportRadius)
      } from the centre, ${
        fact("rim_air")
      } mm of air at the rim, and write its screws into mirror.yaml.`,
      until: `the dummy rattles faintly in the cell; ${until}`,
      why: `The tube is drawn for ${f}. ${why}`,
    };
  }
  const balanced = t?.balancePoint === undefined
    ? "weigh every part, write parts and bearing into mirror.yaml, and balance the tube with all parts in it"
    : `balance the tube with all parts in it, ${
      mm(t.balancePoint)
    } from its rear end, and set the bearings there`;
  return {
    stage: "mounting",
    do:
      `Put the mirror into its cell last of all; ${balanced}. Try the base with the tube low and high: no foot lifts.`,
    until: "it starts smoothly with two fingers and stays, and mounted stands in diary.csv.",
    why: `Flat and cell are chosen for ${f}. ${why}`,
  };
}

function mounted({ telescope: t }: Known): Step {
  const within = t?.comaFreeRadius === undefined
    ? ""
    : `, the axis within ${t.comaFreeRadius.value.toFixed(1)} mm`;
  return {
    stage: "alignment",
    do: "Align the mirrors: the flat under the focuser first, then the mirror by its three screws.",
    until: `all circles share one centre${within}, and aligned stands in diary.csv.`,
    why: "The diary says that the mirror is mounted.",
  };
}

/** How much warmer than the air the mirror comes out of the house, and how much is left when it may be used, degrees C. COMMON PRACTICE */
const WARMER = 10, LEFT = 1;

function aligned({ telescope: t }: Known): Step {
  const wait = t?.coolDown === undefined
    ? undefined
    : 5 * Math.round(t.coolDown.value * Math.log(WARMER / LEFT) / 5);
  return {
    stage: "first light",
    do: `After sunset let the mirror cool outdoors${
      wait === undefined
        ? ""
        : `, ${wait} minutes where it is ${WARMER} degrees warmer than the air`
    }, and look at a star high in the sky, a little inside and outside of focus.`,
    until: "star seen stands in diary.csv, with what you saw.",
    why: "The diary says that the mirrors are aligned.",
    ...(wait === undefined ? {} : { minutes: wait }),
  };
}

function starSeen({ record }: Known): Step {
  const pair = (116 / record.settings.aperture).toFixed(1);
  return {
    stage: "care",
    do:
      `Observe: the Moon by low power first, then pairs of stars down to ${pair} seconds of arc, and write a row for each thing seen into observations.csv. Cap the tube when it rests, and leave dust where it is until there is much of it.`,
    until:
      "the coating grows dull; then wash it, once a year at most, and write washed into diary.csv.",
    why: "The diary says that a star was seen: the telescope works.",
  };
}

/**
 * The next step of a mirror that has left the bench; nothing where it has not, or where it was worked again since.
 */
export function afterCoating(known: Known, rules: Rules): Step | undefined {
  const { diary, grinding } = known.record;
  const worked = grinding.flatMap(({ date }) => date ?? []).sort().at(-1) ?? "";
  const said = diary.filter(({ what, date }) => isLater(what) && date >= worked)
    .toSorted((a, b) => a.date < b.date ? -1 : a.date > b.date ? 1 : 0);
  // aligned twice, or seen before it was aligned anew: the latest act decides, but nothing before the coating
  const from = said.findIndex(({ what }) => what === "sent to be coated" || what === "coated");
  const last = from < 0 ? undefined : said.at(-1)?.what;
  if (last === "sent to be coated") return sent();
  if (last === "coated") return coated(known, rules);
  if (last === "mounted") return mounted(known);
  if (last === "aligned") return aligned(known);
  return last === "star seen" ? starSeen(known) : undefined;
}
