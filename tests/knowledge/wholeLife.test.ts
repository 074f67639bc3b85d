/**
 * Whole lives of a mirror, day by day, each day's next step as it was read by a person and found right. The hollow grows by the
 * rates written here, and the maker reads it through leaves, the Sun or a lamp; what the diary says stands in it from that day on.
 * The polished glass is a hidden one, worked by the plan of each day and read by a knife. What each day says is kept as text:
 *
 *     RECORD=1 deno test -A tests/knowledge/wholeLife.test.ts
 */
import assert from "node:assert/strict";
import { summarize } from "../../lib/knowledge/summary.ts";
import type { Summary } from "../../lib/knowledge/summaryTypes.ts";
import { inInches } from "../../lib/quantity/inches.ts";
import { read } from "../record/bench.ts";
import { assertSnapshots } from "../snapshots.ts";
import { HiddenGlass } from "./hiddenGlass.ts";

/** What one day adds to a record, and what its next step must be. */
interface Day {
  readonly day: string;
  readonly grinding?: readonly string[];
  readonly sagitta?: readonly string[];
  readonly sun?: readonly string[];
  readonly lamp?: readonly string[];
  readonly diary?: readonly string[];
  readonly mirror?: string;
  readonly zones?: readonly string[];
  /** stage, grade and minutes, "-" where there is none; absent where the day follows the step before it */
  readonly step?: readonly [stage: string, grade: string, minutes: number | "-"];
  readonly says?: RegExp;
  readonly because?: RegExp;
}

/** Days on which the maker does as the day before said, until the mirror is sent away. */
interface Figuring {
  readonly glass: HiddenGlass;
  /** ISO, of the first of them */
  readonly from: string;
}

interface Life {
  readonly mirror: string;
  readonly depthHead: string;
  readonly days: readonly (Day | Figuring)[];
}

/** Edges of the mask's openings, mm. */
const EDGES = [0, 10, 20, 30, 37.5, 45, 51, 57, 62, 67, 71, 74];
const MASK = `mask: [${EDGES.map((edge) => `${edge} mm`).join(", ")}]\n`;

const MIRROR = "aperture: 150 mm\nfocal_length: 1200 mm\nbevel: 1 mm\n";

const HEADS = {
  grinding: "date,abrasive,position,minutes,side_mm,length_mm",
  sun: "date,after_min,distance_mm",
  lamp: "date,after_min,distance_mm",
  diary: "date,what,where_mm,amount",
  zones: `date,run,angle_deg,knife_deg,${EDGES.slice(1).map((_, i) => `zone_${i + 1}_mm`)}`,
} as const;

/** The summary after some days. */
async function after({ mirror, depthHead }: Life, days: readonly Day[]): Promise<Summary> {
  const files = Object.entries({ ...HEADS, sagitta: depthHead }).flatMap(([table, head]) => {
    const rows = days.flatMap((one) =>
      (one[table as keyof typeof HEADS] ?? []).map((row) => `${one.day},${row}`)
    );
    return rows.length === 0 ? [] : [[`${table}.csv`, `${[head, ...rows].join("\n")}\n`]];
  });
  const yaml = days.findLast((one) => one.mirror !== undefined)?.mirror ?? mirror;
  const record = await read({ ...Object.fromEntries(files), "mirror.yaml": `${yaml}${MASK}` });
  assert.deepEqual(record.warnings, [], `${days.at(-1)?.day}: the record itself is sound`);
  return summarize(record);
}

/** Runs of the glass in one seat, rows of zones.csv. */
function runsOf(glass: HiddenGlass, angle: number, knife: number, count: number): string[] {
  return Array.from({ length: count }, (_, run) =>
    [
      `${angle} ${knife} ${run + 1}`,
      angle,
      knife,
      ...EDGES.slice(1).map((outer, i) =>
        glass.reading(EDGES[i] ?? 0, outer, angle, knife).toFixed(2)
      ),
    ].join(","));
}

/** The summary of each day, the record growing from day to day. */
async function lived(life: Life): Promise<{ readonly day: Day; readonly summary: Summary }[]> {
  const all: { day: Day; summary: Summary }[] = [], days: Day[] = [];
  const add = async (day: Day): Promise<Summary> => {
    days.push(day);
    const summary = await after(life, days);
    all.push({ day, summary });
    return summary;
  };
  for (const one of life.days) {
    if ("glass" in one) await figured(one, add);
    else await add(one);
  }
  return all;
}

/** More days than these at the knife and the lap nobody spends. */
const MOST_DAYS = 12;

/** Does each day as the day before said, and reads what it asks for; ends with the mirror fit to be sent away. */
async function figured(
  { glass, from }: Figuring,
  add: (day: Day) => Promise<Summary>,
): Promise<void> {
  let at = Date.parse(from), zones = runsOf(glass, 0, 0, 3), grinding: readonly string[] = [];
  for (let count = 0; count < MOST_DAYS; count++) {
    const day = new Date(at).toISOString().slice(0, 10);
    const { nextStep: { stage, plan, readings }, verdict } = await add({ day, grinding, zones });
    if (stage === "coating") {
      assert.equal(verdict?.meetsGoal, "yes");
      // DERIVED: an eighth of 550 nm
      assert.ok(glass.truth() < 68.75, `truly ${glass.truth()} nm`);
      return;
    }
    at += 2 * 86_400_000;
    if (plan !== undefined) glass.work(plan);
    grinding = (plan ?? []).map(({ position, minutes, sideMm, lengthMm }) =>
      `cerium oxide,${position},${minutes},${sideMm},${lengthMm}`
    );
    zones = plan !== undefined
      ? runsOf(glass, 0, 0, 3)
      : (readings ?? []).flatMap(({ angleDeg, knifeDeg, runs }) =>
        runsOf(glass, angleDeg, knifeDeg, runs)
      );
    assert.ok(zones.length > 0, `${day}: the step is one that can be done`);
  }
  assert.fail("the figure is never done");
}

/** What each life said, by its name: a line for what was done, then the step. */
const told: Record<string, string> = {};

/** What a maker reads on a day. */
function sentences(
  { day, summary }: { readonly day: Day; readonly summary: Summary },
  inch: boolean,
): string {
  const { stage, do: what, until, why } = summary.nextStep;
  const done = (["grinding", "sagitta", "sun", "lamp", "diary"] as const).flatMap((table) =>
    day[table] ?? []
  );
  const runs = day.zones === undefined || day.zones.length === 0
    ? []
    : [`${day.zones.length} runs at the knife`];
  const step = [`${stage}: ${what}`, `Until ${until}`, why].join("\n");
  return [`${day.day}: ${[...done, ...runs].join("; ") || "-"}`, inch ? inInches(step) : step].join(
    "\n",
  );
}

async function live(name: string, life: Life): Promise<readonly Summary[]> {
  const days = await lived(life);
  told[name] = days.map((day) => sentences(day, life.mirror.includes("inch"))).join("\n\n");
  for (const { day: { day, step, says, because }, summary: { nextStep: next } } of days) {
    if (step !== undefined) {
      const found = [next.stage, next.grade ?? "-", next.minutes ?? "-"];
      assert.deepEqual(found, step, `${day}: ${next.do} ${next.why}`);
    }
    if (says !== undefined) assert.match(next.do, says, day);
    if (because !== undefined) assert.match(next.why, because, day);
    const all = [next.do, next.until, next.why].join(" ");
    assert.doesNotMatch(all, /undefined|NaN|Infinity|-\d+ µm|\? mm/, day);
    const { minutes, plan = [] } = next;
    const said = minutes === undefined || minutes === 60 || all.includes(String(minutes)) ||
      plan.length > 1 || minutes === 1 && /last minute/.test(all);
    assert.ok(said, `${day}: the sentence says ${minutes} minutes`);
    // whoever grinds or polishes has the strokes in numbers, and the sentence has them too
    const works = /grinding|correcting|blanks|polishing|figuring/.test(next.stage);
    assert.equal(works && minutes !== undefined, plan.length > 0, `${day}: ${next.stage}`);
    if (plan.length === 0) continue;
    assert.ok(
      Math.abs(plan.reduce((sum, one) => sum + one.minutes, 0) - (minutes ?? 0)) < 0.01,
      day,
    );
    for (const { lengthMm, sideMm, minutes: some } of plan) {
      const asSaid = some === 60 ? "hour" : some === 1 ? "minute" : `${some}`;
      assert.ok(next.do.includes(asSaid), `${day}: ${some} minutes`);
      assert.match(
        next.do,
        new RegExp(`strokes ${lengthMm} mm long`, "i"),
        day,
      );
      assert.match(
        next.do,
        sideMm === 0 ? /over the centre/ : new RegExp(`\\b${sideMm} mm (beside|to)`),
        day,
      );
    }
  }
  return days.map(({ summary }) => summary);
}

// INVENTED hands: a fast start of 35 um and 8.8 um a minute with F80
const depth = (minutes: number): number => 0.035 + 0.0088 * minutes;
/** DERIVED: R = (r^2 + s^2) / 2s */
const radius = (sagitta: number): number => (75 * 75 + sagitta * sagitta) / (2 * sagitta);

/** DERIVED: the gap under the straight-edge on a chord of 148 mm, a leaf 12.7 mm wide riding (12.7 / 148)^2 of it higher. */
function gap(sagitta: number): number {
  const R = radius(sagitta);
  return (R - Math.sqrt(R * R - 74 * 74)) * (1 - (12.7 / 148) ** 2);
}

/** The two stacks of leaves, a hundredth of a mm apart, that hold the gap. */
function leaves(minute: number, sagitta: number): string {
  const go = Math.floor(100 * gap(sagitta)) / 100;
  return `${minute},${go.toFixed(2)},${(go + 0.01).toFixed(2)}`;
}

/** The same with leaves in thousandths of an inch, half a thousandth apart. */
function inches(minute: number, sagitta: number): string {
  const go = Math.floor(2000 * gap(sagitta) / 25.4) / 2000;
  return `${minute},${go.toFixed(4)},${(go + 0.0005).toFixed(4)}`;
}

/** Settings of the Sun's image about half of R, or of a lamp about R, so many per mille apart. */
function settings(minute: number, about: number, apart: number, count: number): string[] {
  return Array.from(
    { length: count },
    (_, i) => `${minute},${(about * (1 + apart / 1000 * (i - (count - 1) / 2))).toFixed(0)}`,
  );
}

const top = (grade: string, minutes: number): string => `${grade},mirror on top,${minutes},,`;
const tool = (grade: string, minutes: number): string => `${grade},tool on top,${minutes},,`;
const both = (
  grade: string,
  minutes: number,
): string[] => [top(grade, minutes), tool(grade, minutes)];

const TUBE = "telescope:\n  tube: { inner_diameter: 180 mm, wall: 3 mm, front_length: 150 mm }\n" +
  "  focuser: { height: 70 mm, margin: 15 mm }\n  fully_lit_field: 8 mm\n  flats: [25 mm, 31 mm, 35 mm]\n";
const SCREWS =
  "  screws: { pitch: 1 mm, radius: 60 mm, angles: [90 deg, 210 deg, 330 deg], image_at: [3 mm, -2 mm] }\n";
const PARTS =
  "  parts: [{ name: mirror and cell, mass: 2.1 kg, at: 60 mm }, { name: tube, mass: 4 kg, at: 600 mm }]\n" +
  "  bearing: { radius: 90 mm, friction: 0.15, pad_half_angle: 35 deg, altitude: 20 deg }\n";

/** From the coating to the first light, the same for all: the lamp for the finished mirror, and part after part. */
const afterwards = (minute: number, mirror: string, f: number): readonly Day[] => [
  {
    day: "2026-06-01",
    diary: ["sent to be coated,,"],
    step: ["coating", "-", "-"],
    says: /look at it against a lamp/,
  },
  {
    day: "2026-06-20",
    diary: ["coated,,"],
    lamp: settings(minute, 2 * f, 2, 5),
    step: ["flat and tube", "-", "-"],
    says: new RegExp(`Draw the tube for the measured focal length of 1[12]\\d\\d mm, never`),
  },
  {
    day: "2026-06-21",
    mirror: mirror + TUBE,
    step: ["cell", "-", "-"],
    says:
      /Buy a flat of (31|35) mm, drill for the focuser (9|10)\d\d mm in front .*three pads at 48 mm/,
  },
  {
    day: "2026-06-28",
    mirror: mirror + TUBE + SCREWS,
    step: ["mounting", "-", "-"],
    says: /last of all; weigh every part/,
  },
  {
    day: "2026-06-29",
    mirror: mirror + TUBE + SCREWS + PARTS,
    step: ["mounting", "-", "-"],
    says: /balance the tube with all parts in it, \d+ mm from its rear end/,
  },
  {
    day: "2026-07-01",
    diary: ["mounted,,"],
    step: ["alignment", "-", "-"],
    says: /the flat under the focuser first/,
  },
  {
    day: "2026-07-02",
    diary: ["aligned,,"],
    // DERIVED: still air, 25 mm of soda-lime, time constant 89 min, from 10 degrees to 1: 89 ln 10 = 205
    step: ["first light", "-", 205],
    says: /After sunset .* 205 minutes .* a little inside and outside of focus/,
  },
  {
    day: "2026-07-03",
    diary: ["star seen,,"],
    step: ["care", "-", "-"],
    says: /Moon .* down to 0\.8 seconds of arc/,
  },
];

/** Polishing until no pit is left: the same for all. */
const polished: readonly Day[] = [
  {
    day: "2026-05-01",
    diary: ["lap poured,,"],
    step: ["polishing", "-", 60],
    says: /^Press the lap cold for 15 minutes, polish the first hour/,
  },
  {
    day: "2026-05-02",
    grinding: [top("cerium oxide", 180)],
    diary: ["pits,70,12"],
    step: ["polishing", "-", 60],
    says: /polish another hour, and count again: there were 12 pits/,
    because: /^3 hours are logged\..*5\.5 hours/,
  },
  {
    day: "2026-05-03",
    grinding: [top("cerium oxide", 180)],
    diary: ["no pits,70,"],
    step: ["band test", "-", 30],
    says: /cool 30 minutes .* inside and from outside/,
  },
];

/** The finer grades in even halves, none of which moves the depth, with a reading at the end. */
const fine = (
  from: number,
  row: (minute: number) => readonly string[],
  table: "sagitta" | "sun",
): readonly Day[] => [
  {
    day: "2026-04-02",
    grinding: both("F220", 17),
    step: ["fine grinding", "F320", 34],
    says: /^Finish F220: .* then go on to F320\. Before that, read/,
  },
  {
    day: "2026-04-03",
    grinding: [...both("F320", 18), ...both("F500", 18), ...both("F800", 18)],
    step: ["fine grinding", "F1200", 37],
    says: /^Finish F800: .* then go on to F1200\. Before that, read/,
  },
  {
    day: "2026-04-04",
    grinding: both("F1200", 19),
    step: ["measuring", "-", "-"],
    says: /before a lap is poured/,
    because: /minutes were ground since the last reading/,
  },
  {
    day: "2026-04-05",
    [table]: row(from + 180),
    step: ["lap", "-", "-"],
    says: /trained adult pour a lap 7 mm thick: 136 g/,
  },
];

const START: Day = {
  day: "2026-03-01",
  step: ["blanks", "F80", 20],
  says: /bevel them, then grind 20 minutes/,
};

Deno.test("metric, leaves, all goes well: every day from the blank to the first light", async () => {
  const summaries = await live("metric, leaves", {
    mirror: MIRROR,
    depthHead: "date,after_min,go_mm,nogo_mm",
    days: [
      START,
      {
        day: "2026-03-02",
        grinding: [top("F80", 20)],
        sagitta: [leaves(20, depth(20))],
        step: ["rough grinding", "F80", 20],
        says: /^Grind 20 minutes more, mirror on top, and read the sagitta again/,
      },
      {
        day: "2026-03-03",
        grinding: [top("F80", 20)],
        sagitta: [leaves(40, depth(40))],
        // DERIVED: 1172 - 387 = 785 um at 8.8 a minute are 89 minutes, half of them 45
        step: ["rough grinding", "F80", 45],
        says: /^Grind 45 minutes, mirror on top, then measure/,
        because: /about four more stops after this one/,
      },
      {
        day: "2026-03-04",
        grinding: [top("F80", 43)],
        sagitta: [leaves(83, depth(83))],
        step: ["rough grinding", "F80", 24],
        says: /^Grind 24 minutes/,
        because: /about three more stops/,
      },
      {
        day: "2026-03-05",
        grinding: [top("F80", 24)],
        sagitta: [leaves(107, depth(107))],
        step: ["rough grinding", "F80", 11],
        says: /^Grind 11 minutes/,
        because: /about one more stop after/,
      },
      {
        day: "2026-03-06",
        grinding: [top("F80", 12)],
        sagitta: [leaves(119, depth(119))],
        step: ["rough grinding", "F80", 5],
        says: /^Grind 5 minutes/,
        because: /about one more stop after/,
      },
      {
        day: "2026-03-06",
        grinding: [top("F80", 5)],
        sagitta: [leaves(124, depth(124))],
        // DERIVED: 1172 - 1126 = 46 um, known to a tenth of itself and to the rate: less than the tolerance of 10 um
        step: ["rough grinding", "F80", 5.5],
        says: /^Grind the last 5\.5 minutes, mirror on top, then measure/,
        because: /this is the last stop/,
      },
      {
        day: "2026-03-07",
        grinding: [top("F80", 5)],
        sagitta: [leaves(129, depth(129))],
        step: ["fine grinding", "F120", 29],
        says: /^Stop\. Wash everything, and begin F120/,
      },
      {
        day: "2026-03-08",
        grinding: both("F120", 15),
        step: ["measuring", "-", "-"],
        says: /^Read the sagitta now/,
        because: /^30 minutes were ground since the last reading/,
      },
      {
        day: "2026-03-09",
        sagitta: [leaves(159, depth(129))],
        step: ["fine grinding", "F220", 32],
        says: /^Finish F120: .* then go on to F220\. F220 takes 32 minutes: 16 minutes/,
      },
      ...fine(
        159,
        (minute) => Array.from({ length: 3 }, () => leaves(minute, depth(129))),
        "sagitta",
      ),
      ...polished,
      // INVENTED: a hill of 60 nm in the middle of the sphere, hands that take 4 um an hour
      { glass: new HiddenGlass((r) => 60 * Math.exp(-((r / 25) ** 2)), 4), from: "2026-05-05" },
      ...afterwards(339, MIRROR, radius(depth(129)) / 2),
    ],
  });
  const sessions = summaries.filter(({ nextStep: { stage } }) => stage === "figuring").length;
  assert.ok(sessions >= 2, `${sessions} sessions of figuring`);
  const doubts = summaries.map(({ grinding }) => grinding?.sagittaNow.u ?? 0);
  const [before = NaN, after = NaN, read = NaN] = doubts.slice(7, 10);
  assert.ok(after > 3 * before && read < after / 3, "thirty minutes unread, then read");
  const { value = NaN, u = NaN } = summaries.at(-1)?.telescope?.builtFor ?? {};
  assert.ok(Math.abs(value - radius(depth(129)) / 2) < 2 * u, `built for ${value} ± ${u}`);
});

Deno.test("leaves in inches: the same life", async () => {
  await live("inches, leaves", {
    mirror: "aperture: 150 mm\nfocal_length: 47.24 in\nbevel: 1 mm\nshown_in: inch\n",
    depthHead: "date,after_min,go_in,nogo_in",
    days: [
      START,
      {
        day: "2026-03-02",
        grinding: [top("F80", 20)],
        sagitta: [inches(20, depth(20))],
        step: ["rough grinding", "F80", 20],
        says: /^Grind 20 minutes more/,
      },
      {
        day: "2026-03-03",
        grinding: [top("F80", 20)],
        sagitta: [inches(40, depth(40))],
        step: ["rough grinding", "F80", 46],
        says: /^Grind 46 minutes, mirror on top/,
      },
      {
        day: "2026-03-05",
        grinding: [top("F80", 67)],
        sagitta: [inches(107, depth(107))],
        step: ["rough grinding", "F80", 11],
        says: /^Grind 11 minutes/,
      },
      {
        day: "2026-03-06",
        grinding: [top("F80", 22)],
        sagitta: [inches(129, depth(129))],
        step: ["fine grinding", "F120", 29],
        says: /begin F120/,
      },
      {
        day: "2026-03-09",
        grinding: both("F120", 15),
        sagitta: [inches(159, depth(129))],
        step: ["fine grinding", "F220", 32],
        says:
          /then go on to F220\. F220 takes 32 minutes: 16 minutes with the mirror on top and 16/,
      },
      ...fine(159, (minute) => [inches(minute, depth(129)), inches(minute, depth(129))], "sagitta"),
      ...polished,
      ...afterwards(
        339,
        "aperture: 150 mm\nfocal_length: 47.24 in\nbevel: 1 mm\nshown_in: inch\n",
        radius(depth(129)) / 2,
      ),
    ],
  });
});

Deno.test("the Sun alone, no leaves: forecast all the same, the Sun's caution before every look, a lamp at the end", async () => {
  const sun = (minute: number, apart: number): string[] =>
    settings(minute, radius(depth(Math.min(minute, 129))) / 2, apart, 5);
  const summaries = await live("the Sun alone", {
    mirror: MIRROR,
    depthHead: "date,after_min,go_mm,nogo_mm",
    days: [
      START,
      {
        day: "2026-03-02",
        grinding: [top("F80", 20)],
        sun: sun(20, 10),
        step: ["rough grinding", "F80", 20],
        says:
          /^Grind 20 minutes more, mirror on top, and read the curve \(by a lamp .*; by the Sun only with a trained adult/,
      },
      {
        day: "2026-03-03",
        grinding: [top("F80", 40)],
        sun: sun(60, 6),
        step: ["rough grinding", "F80", 35],
        says: /^Grind 35 minutes/,
        because: /^609 µm to go/,
      },
      {
        day: "2026-03-05",
        grinding: [top("F80", 50)],
        sun: sun(110, 3),
        step: ["rough grinding", "F80", 10],
        says: /^Grind 10 minutes/,
      },
      {
        day: "2026-03-06",
        grinding: [top("F80", 19)],
        sun: sun(129, 2),
        step: ["fine grinding", "F120", 29],
        says: /begin F120/,
      },
      {
        day: "2026-03-09",
        grinding: both("F120", 15),
        sun: sun(159, 2),
        step: ["fine grinding", "F220", 32],
        says:
          /then go on to F220\. F220 takes 32 minutes: 16 minutes with the mirror on top and 16/,
      },
      ...fine(159, (minute) => sun(minute, 2), "sun"),
      ...polished,
      ...afterwards(339, MIRROR, radius(depth(129)) / 2),
    ],
  });
  for (const { grinding, nextStep: { stage, caution } } of summaries.slice(1, 4)) {
    assert.equal(grinding?.from, "sun distance");
    assert.match(caution, /never.*Sun/i, stage);
  }
});

Deno.test("everything goes wrong: spent charge, overshoot, chip, scratch, wrong focal length, pits that stay, a turned edge", async () => {
  const short = MIRROR.replace("1200", "1144"), now = 1.2285;
  const summaries = await live("everything goes wrong", {
    mirror: MIRROR,
    depthHead: "date,after_min,go_mm,nogo_mm",
    days: [
      START,
      {
        day: "2026-03-02",
        grinding: [top("F80", 20)],
        sagitta: [leaves(20, 0.2)],
        step: ["rough grinding", "F80", 20],
        says: /^Grind 20 minutes more/,
      },
      {
        day: "2026-03-03",
        grinding: [top("F80", 20)],
        sagitta: [leaves(40, 0.376)],
        step: ["rough grinding", "F80", 45],
        says: /^Grind 45 minutes/,
      },
      {
        day: "2026-03-04",
        grinding: [top("F80", 20)],
        sagitta: [leaves(60, 0.374)],
        step: ["rough grinding", "F80", 5],
        says:
          /^Renew the charge: rinse both discs, 4\.0 g of fresh F80 and 3 ml of water, then grind 5 minutes/,
        because: /^The last 20 minutes changed the depth by 0 µm where 1\d\d were to be expected/,
      },
      {
        day: "2026-03-05",
        grinding: [top("F80", 5)],
        sagitta: [leaves(65, 0.42)],
        // DERIVED: 752 um at some 8.7 a minute, the minutes that cut nothing left out, are 87; half of them
        step: ["rough grinding", "F80", 43],
        says: /^Grind 43 minutes/,
      },
      {
        day: "2026-03-06",
        grinding: [top("F80", 60)],
        sagitta: [leaves(125, 0.93)],
        step: ["rough grinding", "F80", 14],
        says: /^Grind 14 minutes/,
      },
      {
        day: "2026-03-07",
        grinding: [top("F80", 40)],
        sagitta: [leaves(165, 1.27)],
        step: ["correcting", "F80", 7],
        says: /^Grind 7 minutes, tool on top/,
        because: /^9\d µm too deep/,
      },
      {
        day: "2026-03-08",
        grinding: [tool("F80", 5)],
        sagitta: [leaves(170, 1.235)],
        diary: ["chip,74,2"],
        step: ["correcting", "F80", 6],
        says:
          /^First wipe with a wet cloth.* write bevel renewed into diary\.csv\. Then: Grind 6 minutes, tool on top/,
      },
      {
        day: "2026-03-09",
        diary: ["bevel renewed,,"],
        step: ["correcting", "F80", 6],
        says: /^Grind 6 minutes, tool on top/,
      },
      {
        day: "2026-03-11",
        grinding: [...both("F120", 16), ...both("F220", 17)],
        sagitta: [leaves(236, 1.23)],
        diary: ["scratch,30,45"],
        step: ["fine grinding", "F120", 16],
        says: /^Wash everything and find the stray grain; then go back to F120: 16 minutes/,
        because: /scratch of 45 mm 30 mm from the centre .* longer than 30 mm/,
      },
      {
        day: "2026-03-13",
        grinding: [...both("F120", 8), ...both("F220", 17)],
        sagitta: [leaves(286, 1.23)],
        // DERIVED: 54 um at 8.5 um a minute of F80, with grain of 60 in place of 185 um, are some 20 minutes
        step: ["correcting", "F220", 20],
        says: /^Mend the depth before a finer grade, .* 20 minutes with F220, tool on top/,
      },
      {
        day: "2026-04-02",
        grinding: [
          ...both("F320", 18),
          ...both("F500", 18),
          ...both("F800", 18),
          ...both("F1200", 19),
        ],
        sagitta: [leaves(432, now), leaves(432, now), leaves(432, now)],
        step: ["correcting", "F220", 28],
        says:
          /^Pour no lap yet; decide\. Either go back: .* 28 minutes with F220, tool on top, .* `focal_length: 1147 mm`/,
        because:
          /^The hollow is 5\d µm too deep\. Living with it: a tube 5\d mm shorter.* 328 nm .* in place of 286/,
      },
      {
        day: "2026-04-03",
        mirror: short,
        step: ["lap", "-", "-"],
        says: /pour a lap/,
      },
      ...polished.slice(0, 1),
      {
        day: "2026-05-02",
        grinding: [top("cerium oxide", 180)],
        diary: ["pits,70,9", "scratch,30,12"],
        step: ["polishing", "-", 60],
        says:
          /^First wash the lap and the mirror.* rough sides is left where it is\. Then: Press the lap/,
        because: /0\.003 % of the mirror/,
      },
      {
        day: "2026-05-03",
        grinding: [top("cerium oxide", 120)],
        diary: ["pits,70,10", "edge turned,,"],
        step: ["polishing", "-", 60],
        says: /^First trim the lap .* Then: Count pits in ten fields/,
        because: /The count has not fallen in 2 hours: 9 pits, then 10/,
      },
      {
        day: "2026-05-04",
        grinding: [top("cerium oxide", 120)],
        diary: ["no pits,70,"],
        step: ["band test", "-", 30],
        says: /photograph the bands/,
      },
      // INVENTED: 60 nm along the mark and as much less across it
      {
        glass: new HiddenGlass((r) => 40 * Math.exp(-((r / 25) ** 2)), 4, 60, 3),
        from: "2026-05-05",
      },
      // the days between are those of the other lives
      ...afterwards(432, short, radius(now) / 2).filter((_, day) => day < 3 || day === 7),
    ],
  });
  const choice = summaries.find(({ grinding }) => grinding?.choice !== undefined)?.grinding?.choice;
  const { accept } = choice ?? assert.fail("the choice is offered");
  // DERIVED: f = R / 2 of the depth that was read, its paraboloid r^4 / 8 R^3 deep
  assert.ok(
    Math.abs(accept.focalLength.value - radius(now) / 2) < 5,
    `${accept.focalLength.value}`,
  );
  const R = 2 * accept.focalLength.value;
  assert.ok(Math.abs(accept.sphereDeparture.value / (1e6 * 75 ** 4 / (8 * R ** 3)) - 1) < 0.02);
  assert.ok(
    summaries.every(({ nextStep: { stage } }, i) => stage !== "lap" || i > 11),
    "no lap before the choice",
  );
});

Deno.test("every day's sentences are those that were read", () =>
  assertSnapshots(new URL("snapshots/lives/", import.meta.url), told));
