/** The stage of the discs: what mirror.yaml tells of them, what their rims tell, how much powder, whether to begin. */
import { facts, note, readingsTable, type TableRow } from "../figures/blocks.ts";
import { decide, decisionScale } from "../figures/decide.ts";
import type { Shown } from "../figures/show.ts";
import type { Mirror } from "../knowledge/open.ts";
import { chordOf } from "../measuring/gauges.ts";
import { sagitta } from "../optics/sphere.ts";
import { wasWritten } from "../record/readings.ts";
import { abrasives, decision, glasses } from "../record/tables.ts";
import {
  classQuantities,
  fineLadder,
  glassToRemove,
  roughWork,
  type Rung,
  usualLadder,
} from "../shaping/grinding/ladder.ts";
import { chordRoutine, minutesOf } from "../shaping/grinding/routine.ts";
import { closedWear, wearSettings } from "../shaping/grinding/wearLaws.ts";
import { ownOrDemo, type Part } from "./base.ts";

/**
 * Mass of a disc, g: pi r^2 t rho.
 *
 * @param aperture        diameter, mm, above 0
 * @param thickness       mm, above 0
 * @param densityKgPerM3  of the glass, above 0; soda-lime 2500
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(discMass(150, 25, 2500).toFixed(0), "1104");
 * ```
 */
export function discMass(aperture: number, thickness: number, densityKgPerM3: number): number {
  if (![aperture, thickness, densityKgPerM3].every((v) => v > 0 && v < Infinity)) {
    throw new RangeError(
      `discMass requires aperture and thickness in mm and a density above 0, got ${aperture}, ${thickness}, ${densityKgPerM3}`,
    );
  }
  return Math.PI * aperture * aperture / 4 * thickness * densityKgPerM3 / 1e6;
}

/** What four thicknesses of the rim say. */
export interface RimWedge {
  /** thickest less thinnest place of the rim, were both faces flat, mm */
  readonly wedge: number;
  /** what no wedge explains, mm: a reading's scatter, or a face that is not flat */
  readonly left: number;
}

/**
 * The wedge of a disc from four rim thicknesses, a quarter turn apart.
 *
 *     wedge = sqrt((t0 - t2)^2 + (t1 - t3)^2),  left = |t0 - t1 + t2 - t3| / 4
 *
 * @param rim  mm, above 0, in order round the rim
 * @throws {RangeError} for a thickness that is not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const { wedge, left } = rimWedge([25.03, 25.04, 24.97, 24.96]);
 * assert.deepEqual([wedge.toFixed(2), left.toFixed(2)], ["0.10", "0.00"]);
 * ```
 */
export function rimWedge(rim: readonly [number, number, number, number]): RimWedge {
  if (!rim.every((t) => t > 0 && t < Infinity)) {
    throw new RangeError(`rimWedge requires four thicknesses above 0 mm, got ${rim.join(", ")}`);
  }
  const [t0, t1, t2, t3] = rim;
  return { wedge: Math.hypot(t0 - t2, t1 - t3), left: Math.abs(t0 - t1 + t2 - t3) / 4 };
}

const keys = ["thickness", "bevel", "glass"] as const;

const discsPart: Part = {
  name: "the discs",
  noun: "number",
  count: (mirror) => keys.filter((key) => wasWritten(mirror.record, key)).length,
  show: (mirror) => {
    const { settings } = mirror.record, { aperture, thickness, bevel, glass } = settings;
    const density = glasses().find(({ name }) => name === glass)?.densityKgPerM3;
    const mm = (value: number): string => `${Number(value.toFixed(2))}\u2009mm`;
    const chord = chordOf(settings), forgotten = 100 * ((aperture / chord) ** 2 - 1);
    const taken = keys.filter((key) => !wasWritten(mirror.record, key));
    return [
      facts([
        ["Disc", `${mm(aperture)} by ${mm(thickness)}, ${glass}`],
        [
          "It should weigh",
          density && `${(discMass(aperture, thickness, density) / 1000).toFixed(2)}\u2009kg`,
        ],
        ["Diameter over thickness", (aperture / thickness).toFixed(1)],
        [
          "Bevel, as seen on the face",
          settings.unknownBevel === undefined
            ? mm(bevel)
            : `not written: 0 to ${mm(settings.unknownBevel)}`,
        ],
        ["Chord between the bevels", mm(chord)],
        ["R too long, were the bevel forgotten", `${forgotten.toFixed(1)}\u2009%`],
      ]),
      ...(taken.length > 0
        ? [note(`Taken as usual, since mirror.yaml says nothing: ${taken.join(", ")}.`)]
        : []),
    ];
  },
  how:
    "Measure the thickness at four places of the rim, and the bevel’s width as seen on the face, on both discs. " +
    "Write thickness, bevel and glass into mirror.yaml.",
};

/** The reader's discs as mirror.yaml tells of them; the demo's where it says nothing. */
export function yourDiscs(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(discsPart, yours, demo);
}

function rungRow(rung: Rung, forClass: string): TableRow {
  const { grade, removal, minutes, charges, grams } = rung;
  return {
    cells: [
      grade.name,
      removal.least.toFixed(0),
      minutes.least.toFixed(0),
      `${charges.least}–${charges.most}`,
      grams.toFixed(0),
      forClass,
    ],
  };
}

/**
 * Powder for one mirror and for a class: glass off each disc, minutes, charges, grams, grade by grade.
 *
 * Rough grinding by chord strokes from flat to the curve at the kit's assumed rate; each finer grade takes off half of the
 * former grain, the least that is wise.
 *
 * @param size     aperture and focal length, mm
 * @param mirrors  of the class, a whole number above 0
 * @throws {RangeError} for sizes that no mirror has
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(powderFor({ aperture: 150, focalLength: 1200 }, 12).text, /F80 \| 681 \| 125 \|/);
 * ```
 */
export function powderFor(
  { aperture, focalLength }: { readonly aperture: number; readonly focalLength: number },
  mirrors: number,
): Shown {
  const grades = abrasives().filter(({ name }) => usualLadder.includes(name));
  const [f80] = grades;
  if (f80 === undefined) {
    throw new RangeError("powderFor requires F80 in data/tables/abrasives.csv");
  }
  const routine = chordRoutine(aperture), depth = sagitta(aperture, 2 * focalLength);
  const each = closedWear(wearSettings(aperture), routine, 1).upperSagitta;
  const minutes = minutesOf(depth / each, routine), work = roughWork(minutes, f80, aperture);
  const off = 1000 * glassToRemove(aperture, 2 * focalLength, routine).meanRemoval;
  const rough: Rung = {
    ...work,
    grade: f80,
    removal: { least: off, most: off },
    minutes: { least: minutes, most: minutes },
  };
  const rungs = [rough, ...fineLadder(grades, aperture)];
  const all = classQuantities(
    rungs.map(({ grade, grams }) => ({ name: grade.name, grams })),
    mirrors,
  );
  return readingsTable(
    `Powder for ${aperture} mm of focal length ${focalLength} mm`,
    [
      { title: "Grade", text: true },
      { title: "Glass off each disc", unit: "µm" },
      { title: "Time", unit: "min" },
      { title: "Charges" },
      { title: "Powder", unit: "g" },
      { title: `For ${mirrors}`, unit: "g" },
    ],
    rungs.map((rung, i) => rungRow(rung, (all[i]?.grams ?? 0).toFixed(0))),
  );
}

type State = "measure" | "bevel" | "swap" | "on";

function stateOf(mirror: Mirror): State {
  const { aperture, thickness, bevel } = mirror.record.settings;
  if (!wasWritten(mirror.record, "bevel") || !wasWritten(mirror.record, "thickness")) {
    return "measure";
  }
  if (aperture / thickness > decision("diameter_to_thickness_most") + 1e-9) return "swap";
  return bevel < decision("bevel_least") - 1e-9 ? "bevel" : "on";
}

/** What the discs call for, as far as mirror.yaml tells; cracks, chips and the wedge are for the maker's eye. */
export function decideDiscs(mirror: Mirror): Shown {
  const { aperture, thickness, bevel } = mirror.record.settings, state = stateOf(mirror);
  const least = decision("bevel_least"),
    chip = decision("chip_most"),
    wedge = decision("wedge_most");
  const ratio = decision("diameter_to_thickness_most");
  const says: Readonly<Record<State, readonly [title: string, what: string]>> = {
    measure: [
      "measure first",
      "Measure thickness and bevel of both discs, and write them into mirror.yaml.",
    ],
    bevel: [
      "widen the bevel",
      `The bevel is ${bevel} mm: stone it to ${least} mm or more, on both discs.`,
    ],
    swap: [
      "ask the leader",
      `${aperture} mm by ${thickness} mm bends easily: take a thicker disc, or ask the leader.`,
    ],
    on: ["go on", "Bevel and thickness will do. Look once more for cracks and chips, then grind."],
  };
  const [title, what] = says[state];
  return decide({
    title,
    do: what,
    ...(wasWritten(mirror.record, "bevel") ? { scale: bevelScale(bevel, least) } : {}),
    choices: [
      {
        name: "Go on",
        when:
          `bevel ${least} mm or more on the face of both discs, no crack, no chip over ${chip} mm inside it, ` +
          `wedge under ${wedge} mm.`,
        chosen: state === "on",
      },
      {
        name: "Widen the bevel",
        when: "when it is narrower, or until it has swallowed the chip: stone, water, all round.",
        chosen: state === "bevel",
      },
      {
        name: "Measure first",
        when: "when thickness or bevel are not written yet.",
        chosen: state === "measure",
      },
      {
        name: "Swap the disc",
        when:
          `for a crack, however short; thinner than one part in ${ratio} of its width, ask the leader.`,
        chosen: state === "swap",
      },
    ],
  });
}

function bevelScale(bevel: number, least: number): Shown {
  return decisionScale({
    from: 0,
    to: Math.max(3 * least, 1.2 * bevel),
    title: "Bevel as seen on the face (mm)",
    digits: 1,
    zones: [{ name: "too narrow", to: least, limit: true }, { name: "wide enough" }],
    value: bevel,
  });
}
