/** The stage of the class: who is where, who is first, how far the makers lie apart, and what a far one says. */
import type { DataFrame } from "nodejs-polars";
import { note, readingsTable, type TableRow, yours as yoursBlock } from "../figures/blocks.ts";
import { classDots, type MakerDot } from "../figures/classDots.ts";
import { decide } from "../figures/decide.ts";
import { type Html, safe } from "../figures/html.ts";
import { asShown, type Showable, type Shown, together } from "../figures/show.ts";
import { findStage } from "../lessons/course.ts";
import { measured } from "../quantity/measured.ts";
import { type Attention, attention, type Reason } from "../record/classAttention.ts";
import type { ClassAtHand } from "../record/classBeside.ts";
import type { ClassRow } from "../record/classRow.ts";
import { type ClassSpread, classSpread, focalOf, type Quantity } from "../record/classSpread.ts";
import type { Mirror } from "../record/open.ts";
import { decision } from "../record/tables.ts";
import { markOf } from "../record/tellClass.ts";
import { countOf } from "./whose.ts";

/** More mirrors than this are not drawn one by one. */
const drawnMost = 60;

/** Blocks of a class: the reader's own barred, the demo's marked. */
function ofClass({ many, isDemo }: ClassAtHand, ...contents: Showable[]): Shown {
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
function over(words: string, under: string): Html | string {
  return under === "" ? words : safe`${words}<br><span class="note">${under}</span>`;
}

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

const reasons: Readonly<Record<Reason, string>> = {
  refused: "cannot be read",
  warned: "warned of",
  soon: "stops soon",
  idle: "goes on",
  done: "done",
};

/** Whom the leader goes to, and why. */
export function whoFirst(at: ClassAtHand, most = 12): Shown {
  const list = attention(at.many, decision("forecast_soon"));
  const idle = (days: number | undefined): string =>
    days === undefined || days === 0 ? "" : `, ${countOf(days, "day")} idle`;
  const rows = list.slice(0, most).map(({ title, reason, why, idleDays }, i): TableRow => ({
    cells: [i + 1, over(title, `${reasons[reason]}${idle(idleDays)}`), why],
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

/** How far the glass of a row is, by the course's parts. */
function glassOf(row: ClassRow): MakerDot["glass"] {
  if (row.done) return "done";
  const part = findStage(row.stage)?.part;
  return part === "Plan" || part === "Shape" || row.stage === "pitch lap" ? "ground" : "polished";
}

const names: Readonly<Record<Quantity, string>> = {
  together: "by all methods",
  leaves: "by leaves",
  "depth gauge": "by depth gauge",
  spherometer: "by spherometer",
  "sun distance": "by the Sun",
  "sun image": "by the Sun’s width",
};

function spreadSays({ sd, ownU, betweenMakers }: ClassSpread): string {
  return `The makers lie ${sd.toFixed(1)} mm apart; their own readings leave ${
    ownU.toFixed(1)
  } mm open, so ${betweenMakers.toFixed(1)} mm is the makers’.`;
}

/** The makers' focal lengths on one axis; fewer than three of one plan say so. */
export function makersApart(
  at: ClassAtHand,
  by: Quantity = "leaves",
  mended: Readonly<Record<string, number>> = {},
): Shown {
  const spread = classSpread(at.many, by, { mended });
  if (spread === undefined) {
    return ofClass(at, `Fewer than three mirrors of one plan have a focal length ${names[by]}.`);
  }
  const { rows, values, mean, sd, farthest, focalLength, leftOut } = spread;
  const says = spreadSays(spread);
  if (rows.length > drawnMost) return ofClass(at, says);
  const dots = rows.map((row, i): MakerDot => ({
    name: row.title.split(",")[0] ?? row.title,
    value: measured(values[i]?.value ?? 0, values[i]?.u ?? 0, "mm"),
    glass: glassOf(row),
    stage: row.stage,
    far: i === farthest?.index && (farthest.tooFar || row.slip !== undefined) &&
      mended[row.record] === undefined,
  }));
  const title = `Focal length ${names[by]} (mm)`;
  return ofClass(
    at,
    classDots({ dots, mean, sd, wanted: focalLength, title, says }),
    ...(leftOut > 0 ? [note(`${leftOut} left out: another plan, or no such reading yet.`)] : []),
  );
}

/** What a test of the whole class says of the farthest mirror, and what its own readings say. */
export function farthestOne(at: ClassAtHand): Shown {
  const spread = classSpread(at.many, "leaves"), far = spread?.farthest;
  const row = far && spread.rows[far.index];
  if (spread === undefined || far === undefined || row === undefined) {
    return ofClass(at, "Too few mirrors to say which one is far from the others.");
  }
  const own = (["sun distance", "spherometer"] as const).flatMap((method) => {
    const found = focalOf(row, method);
    return found === undefined ? [] : [`${names[method]} ${found.value.toFixed(0)} mm`];
  });
  const kept = far.tooFar ? "too far to be one of the heap" : "a test keeps it";
  return ofClass(
    at,
    `${row.title}: ${(spread.values[far.index]?.value ?? 0).toFixed(0)} mm by leaves, ${
      far.deviations.toFixed(2)
    } standard deviations off, limit ${far.limit.toFixed(2)}: ${kept}.`,
    own.length === 0
      ? "It has no other reading of its own: ask for one by the Sun or the spherometer."
      : `Its own other readings: ${own.join(", ")}.`,
    ...(row.slip === undefined ? [] : [row.slip]),
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

/** Where the reader's own mirror lies among the class. */
export function yourPlace({ summary }: Mirror, at: ClassAtHand): Shown {
  const { design, curve, next_step: next, title } = summary;
  const spread = classSpread(at.many, "together"), focal = curve?.focal_length;
  const where = focal === undefined
    ? "No focal length yet: read the curve, and it joins the others."
    : `Focal length ${focal.value.toFixed(1)} mm, next: ${next.stage}.`;
  const same = spread?.aperture === design.aperture.value &&
    spread.focalLength === design.focal_length.value;
  const beside = spread === undefined || focal === undefined
    ? []
    : same
    ? [`The class’s mean is ${spread.mean.toFixed(1)} mm, its spread ${spread.sd.toFixed(1)} mm.`]
    : [
      `The class’s mirrors are ${spread.aperture} mm planned at ${spread.focalLength} mm: another plan, not to be compared.`,
    ];
  return yoursBlock(title, where, ...beside);
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
      : `Go to ${first.title} first. ${first.why}`,
    choices: [
      {
        name: "Refused or warned",
        when: "a record that cannot be read, or a caution today: that bench first.",
        chosen: is("refused", "warned"),
      },
      {
        name: "Stops soon",
        when: `next, whoever is under ${soon} minutes from the forecast.`,
        chosen: is("soon"),
      },
      {
        name: "Idle longest",
        when: "then whoever has not read anything for longest; finished mirrors last.",
        chosen: is("idle", "done"),
      },
    ],
    after: "The order is of benches, not of people: the odd one is seldom a bad worker.",
  });
}

/** The whole class on one page, in the order a leader asks. */
export function classAtGlance(at: ClassAtHand): Shown {
  return together(whoFirst(at), classTable(at), makersApart(at), queues(at), decideClass(at));
}
