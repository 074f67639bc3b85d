/** The stage of the weight: the glass on its points, the tube on its pivot, and whether it all holds. */
import { facts, note, readingsTable } from "../figures/blocks.ts";
import { decide } from "../figures/decide.ts";
import { sagMap } from "../figures/drawings/sagMap.ts";
import type { Shown } from "../figures/show.ts";
import type { Mirror } from "../knowledge/open.ts";
import { decision, fact, factRow, glasses } from "../record/tables.ts";
import { focuserAt } from "../knowledge/telescopeSummary.ts";
import { bearingRadiusFor } from "../telescope/balance.ts";
import {
  type Disc,
  type Points,
  REFOCUSED_RADIUS,
  SUPPORTS,
  supportSag,
} from "../telescope/cell.ts";
import type { PointRing } from "../telescope/plate.ts";
import { ownOrDemo, type Part } from "./base.ts";

/** A glass by its row's name, as a disc; `undefined` where the table has no such glass. */
export function discOf({ record: { settings } }: Mirror): Disc | undefined {
  const glass = glasses().find(({ name }) => name === settings.glass);
  if (glass === undefined || settings.thickness > settings.aperture / 2) return undefined;
  return {
    aperture: settings.aperture,
    thickness: settings.thickness,
    youngGPa: glass.youngGPa,
    poisson: glass.poisson,
    densityKgPerM3: glass.densityKgPerM3,
  };
}

/**
 * The sag of a disc on its points, as a map.
 *
 * @param disc     mm and its glass
 * @param support  3, 6, 9 or 18 points
 */
export function discOnPoints(disc: Disc, support: Points): Shown {
  const sag = supportSag(disc, support);
  const points = SUPPORTS[support].flatMap(({ points: count, radius, turn = 0 }) =>
    Array.from({ length: count }, (_, i) => ({
      radius: (radius * disc.aperture) / 2,
      angle: turn + (2 * Math.PI * i) / count,
    }))
  );
  return sagMap({
    aperture: disc.aperture,
    at: sag.at,
    rms: sag.rms,
    points,
    name: `${support} points`,
  });
}

/** Three points at two places and at the rim, six, nine, eighteen: sag of the glass, RMS, as it is and refocused. */
export function supportsCompared(disc: Disc): Shown {
  const ring = (radius: number): readonly PointRing[] => [{ points: 3, radius }];
  const rows: [string, Points | readonly PointRing[]][] = [
    ["3 points at 0.645", 3],
    [`3 points at ${REFOCUSED_RADIUS.toFixed(2)}`, ring(REFOCUSED_RADIUS)],
    ["3 points at the rim", ring(1)],
    ["6 points", 6],
    ["9 points", 9],
    ["18 points", 18],
  ];
  return readingsTable(
    "Cells side by side",
    [
      { title: "Carried by", text: true },
      { title: "Thin plate", unit: "nm" },
      { title: "With shear", unit: "nm" },
      { title: "Refocused", unit: "nm" },
    ],
    rows.map(([name, support]) => {
      const { rms, rmsThick, rmsThickRefocused } = supportSag(disc, support);
      return { cells: [name, ...[rms, rmsThick, rmsThickRefocused].map((nm) => nm.toFixed(2))] };
    }),
  );
}

/** RMS of the wavefront from three points, waves; with shear. */
function wavefrontOf(mirror: Mirror): number | undefined {
  const disc = discOf(mirror);
  if (disc === undefined) return undefined;
  return (2 * supportSag(disc, 3).rmsThick) / mirror.record.settings.goal.wavelength;
}

const cellPart: Part = {
  name: "cell",
  noun: "disc",
  count: (mirror) => discOf(mirror) === undefined ? 0 : 1,
  show: (mirror) => {
    const disc = discOf(mirror), wave = wavefrontOf(mirror);
    if (disc === undefined || wave === undefined) return [];
    const sag = supportSag(disc, 3);
    return [
      discOnPoints(disc, 3),
      facts([
        ["Three points, from the middle", `${(sag.radii[0] ?? 0).toFixed(1)}\u2009mm`],
        ["Sag of the glass, RMS, with shear", `${sag.rmsThick.toFixed(1)}\u2009nm`],
        ["On the wavefront", `${wave.toFixed(3)}\u2009wave`],
      ]),
    ];
  },
  how: "Write glass and thickness into mirror.yaml, as data/tables/glasses.csv names them.",
};

const kg = (grams: number): string => (grams / 1000).toFixed(2);

const balancePart: Part = {
  name: "tube",
  noun: "part",
  count: ({ record }) => record.settings.telescope?.parts?.length ?? 0,
  show: ({ record, summary }) => {
    const { parts = [], bearing, swap } = record.settings.telescope ?? {}, t = summary.telescope;
    const at = focuserAt(record.settings.telescope ?? {});
    const rows: [string, string][] = [];
    const add = (name: string, value: number | undefined, digits: number, unit: string): void => {
      if (value !== undefined) rows.push([name, `${value.toFixed(digits)}\u2009${unit}`]);
    };
    add("Together", t?.totalMass?.value, 2, "kg");
    add("Balances, from the rear end", t?.balancePoint?.value, 1, "mm");
    add("Bearing, radius", bearing?.radius, 0, "mm");
    add("Moment of the bearings’ friction", t?.frictionMoment?.value, 2, "N m");
    add("Moment of a swapped eyepiece", t?.swapMoment?.value, 2, "N m");
    return [
      readingsTable("Parts of the tube", [
        { title: "Part", text: true },
        { title: "Mass", unit: "kg" },
        { title: "At", unit: "mm" },
      ], parts.map(({ name, mass, at: place }) => ({ cells: [name, kg(mass), place.toFixed(0)] }))),
      facts(rows),
      ...(swap === undefined || at === undefined
        ? []
        : [note(`Swapped: ${kg(swap)} kg more, ${at.toFixed(0)} mm from the rear end.`)]),
    ];
  },
  how:
    "Weigh each part on a kitchen scale, measure where its middle sits from the tube’s rear end, and write both into " +
    "mirror.yaml under telescope: parts.",
};

/** The reader's disc on three points; works as soon as glass and thickness are known. */
export function yourCell(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(cellPart, yours, demo);
}

/** The reader's parts, where they balance, and whether the bearings hold. */
export function yourBalance(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(balancePart, yours, demo);
}

type State = "weigh" | "cell" | "bearing" | "on";

function stateOf(mirror: Mirror): State {
  const t = mirror.summary.telescope, wave = wavefrontOf(mirror);
  if (wave === undefined || wave > decision("support_wavefront_rms_most")) return "cell";
  if (t?.frictionMoment === undefined || t.swapMoment === undefined) return "weigh";
  const holds = t.frictionMoment.value >= decision("friction_margin_least") * t.swapMoment.value;
  return holds ? "on" : "bearing";
}

/** Bearings that would hold, as a sentence. */
function bearingLine({ record, summary }: Mirror): string | undefined {
  const bearing = record.settings.telescope?.bearing, t = summary.telescope;
  if (bearing === undefined || t?.swapMoment === undefined || t.totalMass === undefined) {
    return undefined;
  }
  const radius = bearingRadiusFor(
    t.swapMoment.value,
    1000 * t.totalMass.value,
    bearing,
    decision("friction_margin_least"),
  );
  const { low = bearing.friction } = factRow("pad_friction");
  const slippery = low < bearing.friction
    ? `; if they grip by ${low} only, as pads may, ${
      Math.ceil(radius * bearing.friction / low)
    } mm: try it on the tube`
    : "";
  return `A bearing of ${
    Math.ceil(radius)
  } mm radius or more would hold, with your pads${slippery}.`;
}

const SAYS: Readonly<Record<State, readonly [title: string, what: string]>> = {
  weigh: [
    "weigh the parts",
    "Weigh every part and write down where it sits; then the pivot follows.",
  ],
  cell: ["a better cell", "Carry the glass on more points, or take thicker glass."],
  bearing: [
    "larger bearings",
    "Make the bearings larger, or hang a counterweight at the rear: the tube would let go.",
  ],
  on: ["go on", "Glass and tube hold. Go on to the alignment."],
};

/** Go on, or change cell or bearings. */
export function decideWeight(mirror: Mirror): Shown {
  const state = stateOf(mirror), [title, what] = SAYS[state], after = bearingLine(mirror);
  const waves = decision("support_wavefront_rms_most"), margin = decision("friction_margin_least");
  return decide({
    title,
    do: what,
    choices: [
      {
        name: "Go on",
        when:
          `when the cell costs at most ${waves} wave RMS, the bearings hold ${margin} times the swap, and clips are ${
            fact("rim_air")
          } mm loose.`,
        chosen: state === "on",
      },
      {
        name: "Weigh first",
        when: "while parts or bearings are not written down.",
        chosen: state === "weigh",
      },
      { name: "A better cell", when: `over ${waves} wave RMS.`, chosen: state === "cell" },
      {
        name: "Larger bearings",
        when: `under ${margin} times the swapped eyepiece’s moment.`,
        chosen: state === "bearing",
      },
    ],
    ...(after === undefined ? {} : { after }),
  });
}
