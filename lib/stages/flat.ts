/** The stage of the flat: the reader's layout drawn to scale, what each flat would cost, and whether to drill. */
import { facts, readingsTable } from "../figures/blocks.ts";
import { decide } from "../figures/decide.ts";
import type { Shown } from "../figures/show.ts";
import { telescopeSection } from "../figures/drawings/telescopeSection.ts";
import { contrastAt } from "../optics/contrast.ts";
import { formatMeasured } from "../quantity/format.ts";
import type { Mirror } from "../knowledge/open.ts";
import { fromQ } from "../knowledge/q.ts";
import type { TelescopeSummary } from "../knowledge/summaryTypes.ts";
import { decision } from "../record/tables.ts";
import { flatHad, type MainMirror } from "../telescope/flat.ts";
import { illumination } from "../telescope/vignetting.ts";
import { ownOrDemo, type Part } from "./base.ts";

const mm = (value: number | undefined, digits = 1): string =>
  value === undefined ? "not known" : `${value.toFixed(digits).replace("-", "−")}\u2009mm`;
const percent = (share: number | undefined, digits = 1): string =>
  share === undefined ? "not known" : `${(100 * share).toFixed(digits)}\u2009%`;

/** The layout to scale; `undefined` where tube or focuser are not written. */
function sectionOf({ record, summary }: Mirror): Shown | undefined {
  const { settings } = record, { telescope: parts } = settings, t = summary.telescope;
  const tube = parts?.tube, focuser = parts?.focuser;
  const [toFocus, flat, offset, lit] = [
    t?.flatToFocus,
    t?.flatMinorAxis,
    t?.flatOffset,
    t?.fullyLitField,
  ];
  if (!tube || !focuser || !t || !toFocus || !flat || !offset || !lit) return undefined;
  return telescopeSection({
    aperture: settings.aperture,
    focalLength: t.focalLength.value,
    thickness: settings.thickness,
    tube: { ...tube, frontLength: tube.frontLength ?? tube.innerDiameter },
    focuserHeight: focuser.height,
    flatToFocus: toFocus.value,
    flat: flat.value,
    offset: offset.value,
    fullyLit: lit.value,
  });
}

/** The focal length with its uncertainty, or that it is only the plan's. */
function focalOf({ focalLength: focal }: TelescopeSummary): string {
  return focal.u === undefined
    ? `${mm(focal.value)}, the plan’s`
    : `${formatMeasured(fromQ(focal))}, measured`;
}

function numbersOf(t: TelescopeSummary): Shown {
  const rows: [string, string][] = [
    ["Focal length", focalOf(t)],
    ["Flat’s centre to the focus, L", mm(t.flatToFocus?.value)],
    ["Hole, from the mirror’s middle", mm(t.flatFromVertex?.value)],
    [
      "Flat needed, and taken",
      `${mm(t.flatMinorAxisNeeded?.value)}, ${mm(t.flatMinorAxis?.value)}`,
    ],
    ["Offset, each way", mm(t.flatOffset?.value, 2)],
    ["Offset, along the face", mm(t.flatOffsetAlongFace?.value, 2)],
    ["Fully lit field", mm(t.fullyLitField?.value)],
    ["Light the flat takes", percent(t.obstructionByArea)],
    ["Light left at the field’s edge", percent(t.illuminationAtFieldStop, 0)],
    ["Bore of the tube, needed at its front", mm(t.tubeBoreNeeded?.value)],
  ];
  return facts(rows);
}

const layoutPart: Part = {
  name: "layout",
  noun: "drawing",
  count: (mirror) => sectionOf(mirror) === undefined ? 0 : 1,
  show: (mirror) => {
    const section = sectionOf(mirror), t = mirror.summary.telescope;
    return section === undefined || t === undefined ? [] : [section, numbersOf(t)];
  },
  how:
    "Measure the tube’s bore and wall, and the focuser’s height with its drawtube all the way in. Write them into mirror.yaml " +
    "under telescope: tube and focuser, with the flats you can get.",
};

/** The reader's telescope to scale with its numbers; where it is not written yet, how to, and the demo's beside. */
export function yourLayout(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(layoutPart, yours, demo);
}

/** A place for flats to be compared in; lengths mm. */
export interface FlatPlace extends MainMirror {
  /** from the flat's centre to the focal plane */
  readonly flatToFocus: number;
  /** width of the eyepiece's field stop */
  readonly fieldStop: number;
}

/**
 * What each flat would give and take: the field it lights fully, the field's edge, the light, the contrast.
 *
 * @param place  mirror, flat's distance to the focus, width of the field stop, mm
 * @param flats  minor axes, mm
 * @throws {RangeError} outside the ranges of `flatHad`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const place = { aperture: 150, focalLength: 1198.3, flatToFocus: 178, fieldStop: 21 };
 * assert.match(flatsCompared(place, [31]).text, /31 \| 10\.1 \| 79 \| 4\.3/);
 * ```
 */
export function flatsCompared(place: FlatPlace, flats: readonly number[]): Shown {
  const { aperture, fieldStop, flatToFocus } = place;
  return readingsTable(
    "Flats side by side",
    [
      { title: "Flat", unit: "mm" },
      { title: "Fully lit", unit: "mm" },
      { title: "At the edge", unit: "%" },
      { title: "Light taken", unit: "%" },
      { title: "Contrast kept", unit: "%" },
    ],
    flats.map((flat) => ({
      cells: [
        String(flat),
        flatHad(place, flatToFocus, flat).fullyLit.toFixed(1).replace("-", "−"),
        (100 * illumination({ ...place, minorAxis: flat }, fieldStop / 2)).toFixed(0),
        (100 * (flat / aperture) ** 2).toFixed(1),
        ((100 * contrastAt(0.25, flat / aperture)) / contrastAt(0.25, 0)).toFixed(0),
      ],
    })),
  );
}

type State = "unknown" | "measure" | "tube" | "focuser" | "drill";

function stateOf({ record, summary }: Mirror): State {
  const t = summary.telescope, focuser = record.settings.telescope?.focuser;
  if (t?.flatMinorAxis === undefined || focuser === undefined) return "unknown";
  if ((t.fullyLitField?.value ?? 0) < 0 || focuser.margin < decision("margin_least")) {
    return "focuser";
  }
  if ((t.obstructionByDiameter ?? 1) > decision("obstruction_most")) return "focuser";
  if (t.tubeIsWideEnough === false) return "tube";
  const u = t.focalLength.u;
  return u !== undefined && u <= decision("drill_focal_length_u_most") ? "drill" : "measure";
}

const SAYS: Readonly<Record<State, readonly [title: string, what: string]>> = {
  unknown: [
    "write it down",
    "Write tube and focuser into mirror.yaml; without them there is nothing to drill by.",
  ],
  measure: [
    "do not drill",
    "Measure the focal length of the finished mirror first: the hole follows it, millimetre by millimetre.",
  ],
  tube: ["a wider tube", "Take a wider tube, or a shorter front: this one cuts the field’s edge."],
  focuser: [
    "lower focuser",
    "Take a lower focuser or another flat, and look at the numbers again.",
  ],
  drill: ["drill", "Measure once more on your own mirror, then drill: the hole comes last."],
};

/** Drill, measure first, or change a part. */
export function decideFlat(mirror: Mirror): Shown {
  const state = stateOf(mirror), [title, what] = SAYS[state];
  const u = mirror.summary.telescope?.focalLength.u;
  return decide({
    title,
    do: what,
    choices: [
      {
        name: "Drill",
        when: `with f known to ${decision("drill_focal_length_u_most")} mm, ${
          decision("margin_least")
        } mm of margin, and a flat of at most ${decision("obstruction_most")} of the aperture.`,
        chosen: state === "drill",
      },
      {
        name: "Measure f first",
        when: "while the focal length is the plan’s, or the tube is not written down.",
        chosen: state === "measure" || state === "unknown",
      },
      {
        name: "A wider tube",
        when: "when its bore is below what is needed.",
        chosen: state === "tube",
      },
      {
        name: "A lower focuser",
        when:
          "when the fully lit field is below zero, the margin is short, or the flat is too large.",
        chosen: state === "focuser",
      },
    ],
    ...(u === undefined ? {} : { after: `Your focal length is known to ${u.toFixed(1)} mm.` }),
  });
}
