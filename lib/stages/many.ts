/** The stage of the class: who is where, who is first, who waits for what, and where the leader goes. */
import type { DataFrame } from "nodejs-polars";
import { note, readingsTable, type TableRow, yours as yoursBlock } from "../figures/blocks.ts";
import { decide } from "../figures/decide.ts";
import { type Html, safe } from "../figures/html.ts";
import { asShown, type Showable, type Shown } from "../figures/show.ts";
import { type Attention, attention } from "../knowledge/classAttention.ts";
import type { Reason } from "../knowledge/orderOfHelp.ts";
import type { ClassAtHand } from "../knowledge/classBeside.ts";
import type { ClassRow } from "../knowledge/classRow.ts";
import { mixedRoom } from "../knowledge/classRoom.ts";
import { mindOfStages } from "../knowledge/nextStepCautions.ts";
import { markOf } from "../knowledge/tellClass.ts";
import { findStage } from "../lessons/course.ts";
import { measured } from "../quantity/measured.ts";
import { decision } from "../record/tables.ts";
import { countOf } from "./base.ts";

function tableRow(row: ClassRow): TableRow {
  const { focal, sagitta, targetSagitta } = row;
  return {
    cells: [
      row.title,
      over(row.stage, markOf(row)),
      focal && measured(focal.value, focal.u, "mm"),
      sagitta && measured(1000 * (sagitta.value - targetSagitta), 1000 * sagitta.u, "µm"),
    ],
  };
}

/** The records that cannot be read, each with its first sentence; nothing where there is none. */
function unreadableBlock({ many: { unreadable } }: ClassAtHand): Shown[] {
  if (unreadable.length === 0) return [];
  const rows = unreadable.map(({ record, why, refusals }): TableRow => ({
    cells: [record, why[0], refusals],
  }));
  return [readingsTable("Records that cannot be read", [
    { title: "Folder", text: true },
    { title: "Mend this first", text: true },
    { title: "Places" },
  ], rows)];
}

/** What is to be minded before the next steps of the class: it stands above every table that names them. */
export function mindFirst(at: ClassAtHand): Shown {
  const mind = mindOfStages(at.many.rows.map(({ stage }) => stage)), room = mixedRoom(at.many.rows);
  if (mind.length === 0) return note("No record lies here yet.");
  const title = "Mind, before the next step";
  const said = [
    ...mind.map(({ stages, short }) => `${short} (${stages.join(", ")})`),
    ...(room === undefined ? [] : [room.said]),
  ];
  const items = said.map((one) => safe`<li>${one}</li>\n`);
  return ofClass(at, {
    html: safe`<div class="mind"><b>${title}</b>\n<ul>\n${items}</ul></div>`.markup,
    text: [title, ...said].join("\n"),
  });
}

/** Where each mirror is: what comes next, what to look for, focal length, and the depth against the wanted one. */
export function classTable(at: ClassAtHand): Shown {
  const table = readingsTable("Where each mirror is", [
    { title: "Mirror", text: true },
    { title: "Next, and what to look for", text: true },
    { title: "Focal length", unit: "mm" },
    { title: "Too deep by", unit: "µm" },
  ], at.many.rows.map(tableRow));
  const photos = at.many.rows.some(({ photosNotRead }) => photosNotRead > 0);
  return ofClass(
    at,
    table,
    ...unreadableBlock(at),
    note(
      "Too deep by: the sagitta less the wanted one, below 0 still too shallow. A dash means: not measured yet. " +
        "After ± stands each maker’s own standard uncertainty.",
      photos ? " Photographs are not read here; deno task check of the one record reads them." : "",
    ),
  );
}

/**
 * Any polars frame as a table: texts at the left, numbers at the right.
 *
 * @param frame   up to a few dozen rows
 * @param digits  after the point, for numbers that are not whole
 */
export function frameTable(label: string, frame: DataFrame, digits = 1): Shown {
  const records = frame.toRecords();
  const isText = (name: string): boolean => records.every((row) => typeof row[name] !== "number");
  return readingsTable(
    label,
    frame.columns.map((title) => ({ title: title.replaceAll("_", " "), text: isText(title) })),
    records.map((row) => ({
      cells: frame.columns.map((name) => {
        const value: unknown = row[name];
        if (value === null || value === undefined) return undefined;
        if (typeof value !== "number") return String(value);
        return Number.isInteger(value) ? value : value.toFixed(digits);
      }),
    })),
  );
}

/** Whom the leader goes to, and why. */
export function whoFirst(at: ClassAtHand, most = 12): Shown {
  const list = attention(at.many, decision("forecast_soon"));
  const idle = (days: number | undefined): string =>
    days === undefined || days === 0 ? "" : `, ${countOf(days, "day")} idle`;
  const rows = list.slice(0, most).map((
    { title, reason, why, do: step, idleDays },
    i,
  ): TableRow => ({
    cells: [
      i + 1,
      over(title, `${reason === "idle" ? "goes on" : reason}${idle(idleDays)}`),
      step === undefined || why.includes(step) ? why : `${why} ${step}`,
    ],
  }));
  const left = list.length - rows.length;
  return ofClass(
    at,
    readingsTable("Whom to go to first", [
      { title: "Place" },
      { title: "Bench", text: true },
      { title: "Why", text: true },
    ], rows),
    note(
      `Idle days are counted back from ${at.many.today ?? "no day: no row has a date"}.`,
      left > 0 ? ` And ${left} more.` : "",
    ),
  );
}

/** Who waits for what, stage by stage in the order of the course. */
export function queues(at: ClassAtHand): Shown {
  const order = (stage: string): number => findStage(stage)?.number ?? 99;
  const groups = [...Map.groupBy(at.many.rows, ({ stage }) => stage)]
    .sort(([a], [b]) => order(a) - order(b));
  return ofClass(
    at,
    readingsTable(
      "Who waits for what",
      [
        { title: "Next", text: true },
        { title: "Mirrors" },
        { title: "Who, and what to mind", text: true },
      ],
      groups.map(([stage, rows]): TableRow => ({
        cells: [
          stage,
          rows.length,
          over(
            rows.length > drawnMost
              ? "many"
              : rows.map(({ title }) => title.split(",")[0] ?? title).join(", "),
            rows[0]?.caution ?? "",
          ),
        ],
      })),
    ),
  );
}

/** What the leader does now. */
export function decideClass(at: ClassAtHand): Shown {
  const soon = decision("forecast_soon");
  const first: Attention | undefined = attention(at.many, soon)[0];
  const is = (...wanted: Reason[]): boolean => first !== undefined && wanted.includes(first.reason);
  return decide({
    title: first === undefined ? "nobody yet" : `go to ${first.title}`,
    do: first === undefined
      ? "No record lies here yet: begin one for each bench."
      : `Go to ${first.title} first. ${first.why} ${first.do ?? ""}`.trim(),
    choices: [
      {
        name: "Cannot be undone",
        when:
          `whoever is under ${soon} minutes from the forecast; then who needs an adult now, then who is too deep.`,
        chosen: is("cannot be undone", "adult", "too deep"),
      },
      {
        name: "A number is wrong",
        when: "then a slip, a record that cannot be read, a bench with nothing written.",
        chosen: is("slip", "cannot be read", "nothing yet"),
      },
      {
        name: "Waits longest",
        when:
          "then who waits for the tester, and whoever has not read anything for longest; finished mirrors last.",
        chosen: is("tester", "idle", "done"),
      },
    ],
    after: "The order is of benches, not of people: the odd one is seldom a bad worker.",
  });
}

// What the blocks of a class have in common: whose they are, words in two sizes, how many are too many to draw.

/** More mirrors than this are not drawn one by one. */
export const drawnMost = 60;

/** Blocks of a class: the reader's own barred, the demo's marked. */
export function ofClass({ many, isDemo }: ClassAtHand, ...contents: Showable[]): Shown {
  const whose = `${many.name}, ${countOf(many.rows.length, "mirror")}`;
  if (!isDemo) return yoursBlock(whose, ...contents);
  const all = contents.map((thing) => asShown(thing)), tag = `Demo class, not yours · ${whose}`;
  const inside = all.map(({ html }) => html).join("\n");
  return {
    html: `${
      safe`<section class="demo" aria-label="${tag}">\n<p class="tag"><span>${tag}</span></p>\n`
        .markup
    }${inside}\n</section>`,
    text: [tag, ...all.map(({ text }) => text)].join("\n"),
  };
}

/** Words with a smaller line under them. */
export function over(words: string, under: string): Html | string {
  return under === "" ? words : safe`${words}<br><span class="note">${under}</span>`;
}
