/** The mirror's own page: what is known with its trail, the files, what was set aside, and the next step. */
import {
  demo as demoBlock,
  facts,
  note,
  notYet,
  readingsTable,
  type TableRow,
  yours as yoursBlock,
} from "../figures/blocks.ts";
import { decide, verdict } from "../figures/decide.ts";
import { safe } from "../figures/html.ts";
import { type Shown, together } from "../figures/show.ts";
import { type Stage as PathStage, timeline } from "../figures/timeline.ts";
import { hazards } from "../knowledge/hazards.ts";
import type { Mirror } from "../knowledge/open.ts";
import { fromQ } from "../knowledge/q.ts";
import { grainUm, ladder } from "../knowledge/rules.ts";
import type { Q, Summary } from "../knowledge/summaryTypes.ts";
import { course, findStage } from "../lessons/course.ts";
import type { WorkshopPlan } from "../lessons/workshop/plan.ts";
import { formatMeasured } from "../quantity/format.ts";
import type { Measured } from "../quantity/measured.ts";
import { roughSizeUm } from "../shaping/grinding/grindingLog.ts";
import { glasses } from "../record/tables.ts";
import { countOf } from "./base.ts";
import { discMass } from "./discs.ts";
import { workshopPlan } from "./plan.ts";

/** One known quantity: its name, what that means, itself, what was wanted. */
interface Known {
  readonly name: string;
  /** in words that need no other */
  readonly means: string;
  readonly found: Q | undefined;
  readonly wanted?: string;
}

function knownOf(summary: Summary): readonly Known[] {
  const { design, curve, grinding, figure } = summary;
  const plain = (q: Q, digits: number): string => `${Number(q.value.toFixed(digits))} ${q.unit}`;
  return [
    {
      name: "Radius of curvature",
      means: "of the ball into which the hollow would fit",
      found: curve?.radius,
      wanted: plain(design.radius, 1),
    },
    {
      name: "Focal length",
      means: "from the mirror to the picture of a star: half of that radius",
      found: curve?.focalLength,
      wanted: plain(design.focalLength, 1),
    },
    {
      name: "Sagitta",
      means: "how deep the hollow is in the middle",
      found: curve?.sagitta,
      wanted: plain(design.sagitta, 3),
    },
    {
      name: "Deepens, mirror on top",
      means: "how fast grinding makes it deeper",
      found: grinding?.rates.mirrorOnTop,
    },
    {
      name: "Flattens, tool on top",
      means: "how fast grinding makes it flatter, the other disc on top",
      found: grinding?.rates.toolOnTop,
    },
    {
      name: "Conic constant",
      means:
        "which curve it is: 0 for a piece of a ball, −1 for the one that brings far light to one point",
      found: figure?.zones?.conic,
    },
    {
      name: "Glass, P-V",
      means:
        "from the lowest to the highest point of what is wrong with the glass; a nanometre is a millionth of a millimetre",
      found: figure?.zones?.surfacePv,
    },
    {
      name: "Wavefront, P-V",
      means: "the same in the light that comes back, in waves of light: twice the glass",
      found: figure?.zones?.wavefrontPv,
    },
    {
      name: "Strehl ratio",
      means: "how bright the middle of a star’s picture is, beside that of a perfect mirror",
      found: figure?.zones?.strehl,
    },
  ];
}

function knownRow({ name, found, wanted }: Known): TableRow {
  return {
    cells: [
      name,
      found === undefined ? undefined : fromQ(found),
      wanted,
      found?.from?.map((file) => file.replace(/\.(csv|yaml)$/, "")).join(", ") ??
        (found === undefined ? "not yet" : undefined),
    ],
  };
}

/** Everything known of a mirror: value, uncertainty, what was wanted, and the tables it rests on. */
export function whatIsKnown(mirror: Mirror): Shown {
  const known = knownOf(mirror.summary), rows = known.map(knownRow);
  return yoursBlock(
    mirror.summary.title,
    readingsTable("What is known", [
      { title: "Quantity", text: true },
      { title: "Found" },
      { title: "Wanted" },
      { title: "From the table", text: true },
    ], rows),
    note(
      "A dash means: not measured yet. After ± stands the standard uncertainty: two times out of three the truth is no farther off.",
    ),
    readingsTable(
      "What the names mean",
      [{ title: "Name", text: true }, { title: "What it means", text: true }],
      known.map(({ name, means }) => ({ cells: [name, means] })),
    ),
  );
}

/** The record's files and how many rows each holds. */
export function whatIsInTheFolder({ record }: Mirror): Shown {
  const tables = [
    ["grinding.csv", record.grinding, "minutes, strokes, abrasive, which disc on top"],
    ["sagitta.csv", record.sagitta, "leaves that pass and do not"],
    ["spherometer.csv", record.spherometer, "dial on flat glass and on the mirror"],
    ["sun.csv", record.sun, "distance and width of the Sun’s image"],
    ["lamp.csv", record.lamp, "distance of a lamp at the centre of curvature"],
    ["zones.csv", record.zones, "knife positions, opening by opening"],
    ["ronchi.csv", record.ronchi, "photographs through the grating"],
    ["diary.csv", record.diary, "acts and sights that are no readings"],
    ["observations.csv", record.observations, "what the finished telescope showed"],
  ] as const;
  const rows = tables.map(([file, table, what]): TableRow => ({
    cells: [file, table.length === 0 ? undefined : table.length, what],
  }));
  return readingsTable(`The folder ${record.name}`, [
    { title: "File", text: true },
    { title: "Rows" },
    { title: "Holds", text: true },
  ], [{ cells: ["mirror.yaml", undefined, "the plan, the gauges, the tester"] }, ...rows]);
}

/** What the kit took as usual, what it doubts, and what it set aside: never hidden. */
export function whatToLookAt({ record, summary }: Mirror): Shown {
  const aside = (summary.curve?.setAside ?? []).map((row): TableRow => ({
    cells: [row.file, row.line, row.value.toFixed(3)],
    setAside: row.why,
  }));
  const warnings = summary.warnings.map(({ file, line, message }): TableRow => ({
    cells: [file ?? "", line, message],
  }));
  const blocks = [
    ...(aside.length > 0
      ? [readingsTable("Set aside", [
        { title: "File", text: true },
        { title: "Line" },
        { title: "Value" },
      ], aside)]
      : []),
    ...(warnings.length > 0
      ? [readingsTable("Warnings", [
        { title: "File", text: true },
        { title: "Line" },
        { title: "Look at this", text: true },
      ], warnings)]
      : []),
    ...(record.defaults.length > 0
      ? [note(`Taken as usual, since nothing else was written. ${record.defaults.join("; ")}.`)]
      : []),
  ];
  if (blocks.length === 0) return note("Nothing was set aside, and nothing looks unlikely.");
  return together(...blocks);
}

/** The one thing to do next, after what to mind before it; until when, and why. */
export function nextStep({ summary }: Mirror): Shown {
  const { stage, do: what, until, why, caution } = summary.nextStep;
  return yoursBlock(
    `next step: ${findStage(stage)?.title ?? stage}`,
    {
      html: safe`<p class="mind"><b>Mind first:</b> ${caution}</p>`.markup,
      text: `Mind first: ${caution}`,
    },
    { html: safe`<p><b>${what}</b></p>`.markup, text: what },
    facts([["Until", until], ["Why", why]]),
  );
}

function verdictOf(summary: Summary): Shown {
  const { verdict: found, figure } = summary;
  if (found === undefined) return note("No verdict yet.");
  const glass = figure?.zones?.surfacePv;
  const says = {
    "yes": found.scope === "whole surface"
      ? "The surface meets its goal."
      : "Along the one diameter that was read the surface meets its goal.",
    "no": "The surface does not meet its goal yet.",
    "not shown": "These readings cannot show that the surface meets its goal.",
  }[found.meetsGoal];
  const numbers = glass === undefined ? "" : `Glass, P-V: ${formatMeasured(fromQ(glass))}. `;
  return verdict({
    meetsGoal: found.meetsGoal,
    says,
    because: numbers + found.why.charAt(0).toUpperCase() + found.why.slice(1),
  });
}

/** The verdict on the surface; where the reader has none yet, how to get one, and the demo's beside. */
export function verdictOrDemo(yours: Mirror, demo: Mirror): Shown {
  if (yours.summary.verdict !== undefined) {
    return yoursBlock(yours.summary.title, verdictOf(yours.summary));
  }
  return together(
    notYet(
      "the verdict",
      "It needs zone readings: three runs at least through all openings of the mask, in zones.csv. Until then the demo’s is shown.",
    ),
    demoBlock(demo.summary.title, verdictOf(demo.summary)),
  );
}

/** What this page was for: go on to the next stage, mend a line, or measure more. */
export function decideNext({ record, summary }: Mirror): Shown {
  const { grinding, sagitta, spherometer, sun, lamp, zones } = record;
  const tables = [grinding, sagitta, spherometer, sun, lamp, zones];
  const readings = tables.reduce((sum, rows) => sum + rows.length, 0);
  const warned = summary.warnings.length;
  return decide({
    title: findStage(summary.nextStep.stage)?.title ?? summary.nextStep.stage,
    mind: summary.nextStep.caution,
    do: summary.nextStep.do,
    choices: [
      {
        name: "Do the next step",
        when: "when nothing on this page surprises you.",
        chosen: warned === 0,
      },
      {
        name: "Look first",
        when: `at what is warned of: ${countOf(warned, "warning")} now.`,
        chosen: warned > 0,
      },
      {
        name: "Mend a line",
        when: "when the kit refuses the folder: it says which line, and how.",
      },
    ],
    after: `This page rests on ${countOf(readings, "row")} in your folder.`,
  });
}

// The whole job as a path, filled as far as a mirror's record goes.

/** What the record knows of a stage, in a number or a few words. */
interface Got {
  readonly got: Measured | string;
  readonly from: string;
}

function minutesOf({ record }: Mirror, wanted: (abrasive: string) => boolean): Got | undefined {
  const rows = record.grinding.filter(({ abrasive }) => wanted(abrasive));
  if (rows.length === 0) return undefined;
  const minutes = rows.reduce((sum, row) => sum + row.minutes, 0);
  return { got: `${Number(minutes.toFixed(1))} min`, from: "minutes, from grinding.csv" };
}

/** Stage by stage; a stage that no table tells of has nothing. */
function gotOf(name: string, mirror: Mirror): Got | undefined {
  const { summary } = mirror;
  const isRough = (abrasive: string): boolean => (grainUm(abrasive) ?? 0) >= roughSizeUm;
  switch (name) {
    case "open-record":
      return { got: mirror.record.name, from: "the folder" };
    case "choose-mirror":
      return {
        got: `${summary.design.aperture.value} mm f/${
          Number(summary.design.focalRatio.toFixed(2))
        }`,
        from: "the plan, from mirror.yaml",
      };
    case "grind-hollow":
      return minutesOf(mirror, (one) => isRough(one) && !ladder.includes(one));
    case "measure-curve":
      return summary.curve?.radius === undefined
        ? undefined
        : { got: fromQ(summary.curve.radius), from: "radius of curvature" };
    case "correct-depth":
      return summary.grinding === undefined
        ? undefined
        : { got: fromQ(summary.grinding.sagittaNow), from: "sagitta, from the log" };
    case "smooth-surface":
      return minutesOf(mirror, (one) => ladder.includes(one));
    case "polish-surface":
      return minutesOf(mirror, (one) => grainUm(one) === undefined);
    case "measure-zones":
      return summary.figure?.zones?.conic === undefined
        ? undefined
        : { got: fromQ(summary.figure.zones.conic), from: "conic constant, from zones.csv" };
    case "judge-mirror":
      return summary.verdict === undefined
        ? undefined
        : { got: `verdict: ${summary.verdict.meetsGoal}`, from: "the goal, from zones.csv" };
    default:
      return undefined;
  }
}

/**
 * The stages of the job, in order: done up to the next step, which is `here`.
 *
 * @param mirror  its summary says which stage comes next
 */
export function yourPath(mirror: Mirror): Shown {
  const here = findStage(mirror.summary.nextStep.stage)?.number ?? 0;
  return timeline(
    course.slice(0, -1).map(({ number, title, name }): PathStage => ({
      number,
      name: title,
      state: number < here ? "done" : number === here ? "here" : "ahead",
      ...gotOf(name, mirror),
    })),
  );
}

// What one person alone may do at a kitchen table, and what not: from the one list of hazards.

function column(title: string, alone: "may" | "may not"): Shown {
  const rows = hazards().filter((one) => one.alone === alone);
  return readingsTable(
    title,
    [{ title: "Hazard", text: true }, { title, text: true }],
    rows.map(({ hazard, aloneWhat }) => ({
      cells: [
        hazard,
        alone === "may not"
          ? `Never ${aloneWhat}.`
          : `${aloneWhat.charAt(0).toUpperCase()}${aloneWhat.slice(1)}.`,
      ],
    })),
  );
}

/** Two tables: first what one person alone may not do, then what she may. */
export function aloneAtHome(): Shown {
  return together(
    column("Never alone, or not at all", "may not"),
    column("One person alone may", "may"),
  );
}

// What will have been made, what it takes: in words that need no explanation, and numbers that grow with the record.

/** To two figures, without a nought behind. */
const about = (value: number): string => String(Number(value.toPrecision(2)));

/** What the glass of a disc weighs, kg, and all powder, pitch and oxide for one mirror, g; hours of the hands; nothing beyond the usual sizes. */
function costOf(
  { settings: { aperture, focalLength, thickness, glass } }: Mirror["record"],
):
  | {
    readonly disc: number;
    readonly plan: WorkshopPlan;
    readonly grams: readonly [number, number, number];
  }
  | undefined {
  try {
    const focalRatio = focalLength / aperture;
    const plan = workshopPlan({ learners: 1, aperture, focalRatio, days: 6, hoursPerDay: 6.5 });
    const density = glasses().find(({ name }) => name === glass)?.densityKgPerM3 ?? NaN;
    const gramsOf = (kind: RegExp): number =>
      plan.materials.filter(({ name, unit }) => unit === "g" && kind.test(name))
        .reduce((sum, { amount }) => sum + amount, 0);
    return {
      disc: discMass(aperture, thickness, density) / 1000,
      plan,
      grams: [gramsOf(/^abrasive/), gramsOf(/^pitch/), gramsOf(/oxide/)],
    };
  } catch (error) {
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}

/** How hollow the glass is, and how hollow it is to become. */
function hollowOf({ summary: { design, curve, grinding } }: Mirror): string {
  const now = curve?.sagitta ?? grinding?.sagittaNow, wanted = design.sagitta.value.toFixed(2);
  return now === undefined
    ? `${wanted} mm in the middle, when it is done; nothing is measured yet`
    : `${wanted} mm in the middle is wanted; ${now.value.toFixed(2)} mm is measured`;
}

/**
 * The mirror in short, for somebody who has read nothing yet: what it becomes, what it takes, how long, what is done.
 *
 * @param mirror  its plan, its log and what was measured
 */
export function yourMirrorInShort(mirror: Mirror): Shown {
  const { record, summary } = mirror, { aperture, thickness } = record.settings;
  const focal = summary.curve?.focalLength ?? summary.design.focalLength;
  const far = `${wholeMm(focal.value)} mm`;
  const cost = costOf(record);
  const minutes = record.grinding.reduce((sum, row) => sum + row.minutes, 0);
  const nights = new Set(record.observations.map(({ date }) => date)).size;
  const hours = cost?.plan.hours;
  const rows: [string, string][] = [
    ["What it becomes", `a hollow mirror, ${aperture} mm wide, the heart of a telescope`],
    ["What it does", `it gathers a star’s light into a point ${far} in front of it`],
    ["How hollow", hollowOf(mirror)],
    ...(cost === undefined || hours === undefined ? [] : [
      [
        "Glass",
        `two round discs, ${aperture} mm wide, ${about(thickness)} mm thick, ${
          about(cost.disc)
        } kg each`,
      ],
      [
        "Powder to grind with",
        `${about(cost.grams[0] / 1000)} kg in all, from coarse to fine, and water`,
      ],
      [
        "To polish with",
        `${about(cost.grams[1] / 1000)} kg of pitch, a black resin, and ${
          about(cost.grams[2])
        } g of polishing powder`,
      ],
      [
        "Hours of work",
        `${hours.least.toFixed(0)} to ${hours.most.toFixed(0)}: ${
          about(hours.rough)
        } to hollow the glass, ${about(hours.fine)} to smooth it, ${
          about(hours.polish)
        } to polish it, the rest to measure and wash`,
      ],
    ] as [string, string][]),
    [
      "Done so far",
      minutes === 0
        ? "nothing yet: the log is empty"
        : `${about(minutes / 60)} hours stand in the log`,
    ],
    ...(nights === 0 ? [] : [["Nights under the sky", String(nights)] as [string, string]]),
  ];
  return together(
    readingsTable(
      "Your mirror in short",
      [{ title: "What", text: true }, { title: "Your mirror", text: true }],
      rows.map((cells) => ({ cells })),
    ),
    note(
      "A trained adult pours the hot pitch. A firm lays on the metal. Everything else hands can do.",
    ),
  );
}

/** To the millimetre. */
const wholeMm = (value: number): string => String(Number(value.toFixed(0)));
