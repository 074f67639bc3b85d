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
import { formatMeasured } from "../quantity/format.ts";
import type { Measured } from "../quantity/measured.ts";
import { roughSizeUm } from "../shaping/grinding/grindingLog.ts";
import { countOf } from "./base.ts";

/** One known quantity: its name, itself, what was wanted. */
interface Known {
  readonly name: string;
  readonly found: Q | undefined;
  readonly wanted?: string;
}

function knownOf(summary: Summary): readonly Known[] {
  const { design, curve, grinding, figure } = summary;
  const plain = (q: Q, digits: number): string => `${Number(q.value.toFixed(digits))} ${q.unit}`;
  return [
    { name: "Radius of curvature", found: curve?.radius, wanted: plain(design.radius, 1) },
    { name: "Focal length", found: curve?.focalLength, wanted: plain(design.focalLength, 1) },
    { name: "Sagitta", found: curve?.sagitta, wanted: plain(design.sagitta, 3) },
    { name: "Deepens, mirror on top", found: grinding?.rates.mirrorOnTop },
    { name: "Flattens, tool on top", found: grinding?.rates.toolOnTop },
    { name: "Conic constant", found: figure?.zones?.conic },
    { name: "Glass, P-V", found: figure?.zones?.surfacePv },
    { name: "Wavefront, P-V", found: figure?.zones?.wavefrontPv },
    { name: "Strehl ratio", found: figure?.zones?.strehl },
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
  const rows = knownOf(mirror.summary).map(knownRow);
  return yoursBlock(
    mirror.summary.title,
    readingsTable("What is known", [
      { title: "Quantity", text: true },
      { title: "Found" },
      { title: "Wanted" },
      { title: "From the table", text: true },
    ], rows),
    note("A dash means: not measured yet. After ± stands the standard uncertainty."),
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
