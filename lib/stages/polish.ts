/** The stage of polishing: the reader's hours and what was seen, the hours foreseen, and when it is over. */
import { facts, note, readingsTable, type TableRow } from "../figures/blocks.ts";
import { decide } from "../figures/decide.ts";
import { safe } from "../figures/html.ts";
import { pitsAgainstHours } from "../figures/plots/pitsAgainstHours.ts";
import type { Shown } from "../figures/show.ts";
import type { Mirror } from "../knowledge/open.ts";
import { grainUm, ladder } from "../knowledge/rules.ts";
import { abrasives, fact } from "../record/tables.ts";
import type { GrindingRow } from "../record/types.ts";
import { gradeOf, pitDepth, type RangeUm } from "../shaping/grinding/grade.ts";
import { polishTime } from "../shaping/lap/polish.ts";
import { ownOrDemo, type Part } from "./base.ts";

/** Rows of oxide up to the first zone reading: later ones are figuring. */
function polishRows({ record }: Mirror): readonly GrindingRow[] {
  const tested = record.zones.map(({ date = "" }) => date).filter((date) => date !== "").sort()[0];
  return record.grinding.filter(({ abrasive, date = "" }) =>
    grainUm(abrasive) === undefined && (tested === undefined || date < tested)
  );
}

const hoursPart: Part = {
  name: "the hours",
  noun: "line",
  count: (mirror) => polishRows(mirror).length,
  show: (mirror) => {
    const rows = polishRows(mirror);
    let minutes = 0;
    const lines = rows.map((row): TableRow => {
      minutes += row.minutes;
      return { cells: [row.date ?? "undated", (minutes / 60).toFixed(1), row.note ?? ""] };
    });
    return [
      readingsTable("Hours, and what was seen", [
        { title: "Date", text: true },
        { title: "Hours so far" },
        { title: "Seen", text: true },
      ], lines),
      facts([["In all", `${(minutes / 60).toFixed(1)}\u2009h`]]),
      note(
        safe`From <code>grinding.csv</code>, the lines of polishing before the first zone test.`,
      ),
    ];
  },
  how:
    "After each hour look at ten fields at the edge with the loupe, lamp at a slant, and write the count of pits as a note " +
    "beside the minutes in grinding.csv, with the oxide as abrasive.",
};

/** The reader's hours of polishing with what was seen; the demo's where there are none. */
export function yourHours(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(hoursPart, yours, demo);
}

/**
 * Hours until pits of some depth are gone, drawn with the range that the edge may take.
 *
 * @param pits  of the deepest ones, um
 * @param rate  at the centre, um/h
 */
export function hoursForPits(pits: RangeUm, rate: number, edgeShare: number, says: string): Shown {
  const { centre, edge } = polishTime({ pits, rate, edgeShare });
  return pitsAgainstHours({
    depth: (pits.least + pits.most) / 2,
    places: [{ name: "centre", hours: centre.hours }, { name: "edge", ...edge }],
    says,
  });
}

/** Hours at the edge after each last grade: what skipping one costs. */
export function hoursByLastGrade(rate: number, grades: readonly string[]): Shown {
  const rows = grades.map((name): TableRow => {
    const pits = pitDepth(gradeOf(name, abrasives())), { edge } = polishTime({ pits, rate });
    return {
      cells: [
        name,
        `${pits.least.toFixed(1)} to ${pits.most.toFixed(1)}`,
        edge.hours.toFixed(1),
        `${edge.least.toFixed(1)} to ${edge.most.toFixed(1)}`,
      ],
    };
  });
  return readingsTable("Polishing at the edge, by the last grade", [
    { title: "Last grade", text: true },
    { title: "Pits", unit: "µm", text: true },
    { title: "Edge", unit: "h" },
    { title: "May be", unit: "h", text: true },
  ], rows);
}

type State = "not yet" | "look" | "test";

/** What polishing calls for: the record holds hours, the loupe decides. */
export function decidePolish(mirror: Mirror): Shown {
  const hours = polishRows(mirror).reduce((sum, { minutes }) => sum + minutes, 0) / 60;
  const tested = mirror.record.zones.length + mirror.record.ronchi.length > 0;
  const state: State = tested ? "test" : hours === 0 ? "not yet" : "look";
  const last = mirror.record.grinding.findLast(({ abrasive }) => ladder.includes(abrasive));
  const says = {
    "not yet": ["the ladder and the lap first", "Polishing begins on a pressed lap, after F1200."],
    look: [
      "look at the edge",
      "Press, polish an hour, and count the pits in ten fields at the edge.",
    ],
    test: ["test", "It has been tested already: go by the bands and the zones."],
  } as const;
  const fields = fact("fields_polished");
  return decide({
    title: says[state][0],
    do: says[state][1],
    choices: [
      {
        name: "Test",
        when: `with no pit in ${fields} fields at the edge.`,
        chosen: state === "test",
      },
      {
        name: "Polish on",
        when: "while the count falls; press first when it does not.",
        chosen: state === "look",
      },
      {
        name: "Back to the ladder",
        when:
          "for pits all of one size, wider than the F1200 tile’s: to the grade whose tile looks like them; and while the ladder is not done.",
        chosen: state === "not yet",
      },
    ],
    ...(hours === 0 ? {} : {
      after: `Your log: ${hours.toFixed(1)} h${
        last === undefined ? "" : ` after ${last.abrasive}`
      }. Hours never decide; the last pit does.`,
    }),
  });
}
