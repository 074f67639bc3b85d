/** The stage of fine grinding: the reader's ladder grade by grade, what it does to the curve, and when to go on. */
import { note, readingsTable, type TableRow } from "../figures/blocks.ts";
import { decide } from "../figures/decide.ts";
import { safe } from "../figures/html.ts";
import type { Shown } from "../figures/show.ts";
import type { Mirror } from "../knowledge/open.ts";
import { grainUm, ladder } from "../knowledge/rules.ts";
import { abrasives, decision } from "../record/tables.ts";
import type { GrindingRow } from "../record/types.ts";
import { damageDepth, type Grade, pitDepth } from "../shaping/grinding/grade.ts";
import { fineLadder, type Rung, usualLadder } from "../shaping/grinding/ladder.ts";
import { curveThroughLadder } from "../shaping/grinding/leaveGrade.ts";
import { ownOrDemo, type Part } from "./base.ts";

/** The course's grades from F80 down, as rows of the table. */
export function courseGrades(): readonly Grade[] {
  return usualLadder.flatMap((name) => abrasives().find((row) => row.name === name) ?? []);
}

function fineRows({ record }: Mirror): readonly GrindingRow[] {
  return record.grinding.filter(({ abrasive }) => ladder.includes(abrasive));
}

function gradeRow(rows: readonly GrindingRow[], rungs: readonly Rung[]): TableRow {
  const minutes = rows.reduce((sum, row) => sum + row.minutes, 0);
  const top = rows.filter(({ position }) => position === "mirror on top");
  const share = top.reduce((sum, row) => sum + row.minutes, 0) / minutes;
  const name = rows[0]?.abrasive ?? "", rung = rungs.find(({ grade }) => grade.name === name);
  const wanted = rung === undefined
    ? undefined
    : `${rung.minutes.least.toFixed(0)} to ${rung.minutes.most.toFixed(0)}`;
  return { cells: [name, minutes, `${(share * 100).toFixed(0)} %`, wanted] };
}

const ladderPart: Part = {
  name: "the ladder",
  noun: "line",
  count: (mirror) => fineRows(mirror).length,
  show: (mirror) => {
    const groups = [...Map.groupBy(fineRows(mirror), ({ abrasive }) => abrasive).values()];
    const rungs = fineLadder(courseGrades(), mirror.record.settings.aperture);
    return [
      readingsTable("Minutes by grade", [
        { title: "Grade", text: true },
        { title: "Done", unit: "min" },
        { title: "Mirror on top" },
        { title: "Foreseen", unit: "min", text: true },
      ], groups.map((rows) => gradeRow(rows, rungs))),
      note(
        safe`From <code>grinding.csv</code>. Foreseen: half of the former grain, or all of it, at a rate that is assumed.`,
      ),
    ];
  },
  how:
    "Write each grade into grinding.csv when it is done: minutes with the mirror on top, minutes with the tool on top, " +
    "and in the note what the loupe and the pencil said.",
};

/** The reader's fine grinding by grade, with the minutes foreseen; the demo's where there is none. */
export function yourLadder(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(ladderPart, yours, demo);
}

/** What each grade leaves and what the next must take: pits, cracks under them, removal, minutes. */
export function whatGradesLeave(aperture: number): Shown {
  const grades = courseGrades(), rungs = fineLadder(grades, aperture);
  const range = ({ least, most }: { least: number; most: number }, digits = 0): string =>
    `${least.toFixed(digits)} to ${most.toFixed(digits)}`;
  const rows = rungs.map(({ grade, removal, minutes }, i): TableRow => {
    const former = grades[i] ?? grade;
    return {
      cells: [
        `${former.name} → ${grade.name}`,
        range(pitDepth(former), 1),
        range(damageDepth(former), 0),
        range(removal),
        range(minutes),
      ],
    };
  });
  return readingsTable("What each grade leaves to the next", [
    { title: "From, to", text: true },
    { title: "Pits", unit: "µm", text: true },
    { title: "Cracks, at most", unit: "µm", text: true },
    { title: "Take off", unit: "µm", text: true },
    { title: "In", unit: "min", text: true },
  ], rows);
}

/**
 * The curve at the end of the ladder for shares of the time with the mirror on top.
 *
 * @param sagitta  mm, when F80 is left
 */
export function curveByShare(
  sagitta: number,
  aperture: number,
  shares: readonly number[],
): Shown {
  const grades = courseGrades().map(({ name, ds50Um }) => ({ name, sizeUm: ds50Um }));
  const rows = shares.map((mirrorOnTop): TableRow => {
    const last = curveThroughLadder({ grades, sagitta, aperture, mirrorOnTop }).at(-1);
    const added = (last?.sagitta ?? sagitta) - sagitta;
    return {
      cells: [
        `${(mirrorOnTop * 100).toFixed(0)} %`,
        (added * 1000).toFixed(1).replace("-", "−"),
        last?.radius.toFixed(0),
      ],
    };
  });
  return readingsTable("The curve after F1200", [
    { title: "Mirror on top", text: true },
    { title: "Added to the sagitta", unit: "µm" },
    { title: "Radius then", unit: "mm" },
  ], rows);
}

type State = "not yet" | "on the ladder" | "done";

/** What fine grinding calls for. */
export function decideSmooth(mirror: Mirror): Shown {
  const rows = fineRows(mirror), last = rows.at(-1)?.abrasive;
  const polished = mirror.record.grinding.some(({ abrasive }) => grainUm(abrasive) === undefined);
  const state: State = last === undefined && !polished
    ? "not yet"
    : polished || last === ladder.at(-1)
    ? "done"
    : "on the ladder";
  const next = ladder[ladder.indexOf(last ?? "") + 1] ?? ladder[0] ?? "";
  const says = {
    "not yet": ["the right depth first", "Bring the hollow to its depth, then begin F120."],
    "on the ladder": ["look, then go on", `Look at five fields, draw the grid; then ${next}.`],
    done: ["pour the lap", "The ladder is done: look once more for pits, then go on to the lap."],
  } as const;
  const fields = decision("pit_fields"), scratch = decision("scratch_longest");
  const off = decision("radius_off_most") * 100;
  return decide({
    title: says[state][0],
    do: says[state][1],
    choices: [
      {
        name: "Next grade",
        when:
          `with no pit of the former one in ${fields} fields, and the pencil gone with one charge.`,
        chosen: state !== "not yet",
      },
      { name: "Back one grade", when: `for one scratch longer than ${scratch} mm.` },
      {
        name: "Back to the curve",
        when: `while the depth is not right, or the radius more than ${off} % off.`,
        chosen: state === "not yet",
      },
    ],
    ...(last === undefined ? {} : { after: `Last in your log: ${last}.` }),
  });
}
