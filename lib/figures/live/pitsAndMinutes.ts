/** Live: how deep the pits of the last grade still are after so many minutes of the next. */
import { damageDepth, type Grade, pitDepth, removalAfter } from "../../shaping/grinding/grade.ts";
import { fineLadder, usualLadder } from "../../shaping/grinding/ladder.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, type Point, rect, stroke, through, words } from "../pen.ts";
import { fixed, scale, ticks } from "../scale.ts";
import { type Control, levels, type LiveFigure, once, valueOf, type Values } from "./figure.ts";

/** Middle grains of the usual ladder, um, as in data/tables/abrasives.csv. */
export const grains: readonly number[] = [185, 109, 58, 29.2, 12.8, 6.5, 3];
const ladder: readonly Grade[] = usualLadder.map((name, i) => ({
  ...{ name, scale: "F" as const },
  ds50Um: grains[i] ?? NaN,
}));

/** A grade at work on the pits of a former one; depths um. */
export interface PitsLeft {
  readonly grade: Grade;
  readonly former: Grade;
  /** glass off each disc in a minute */
  readonly perMinute: number;
  /** glass off so far */
  readonly off: number;
  /** of the former grade's deepest pits; 0 when their floor is reached */
  readonly left: number;
  /** of the pits that this grade makes anew all the time, the deepest */
  readonly own: number;
  /** at the least, and to be careful: half of the former grain, and all of it */
  readonly minutes: { readonly least: number; readonly most: number };
  /** until the floor of the deepest pit of the former grade */
  readonly toFloor: number;
}

/**
 * Pits of a former grade under the next.
 *
 * @param values  grade 1 to 6, from F120 to F1200; skipped 1 where the grade before it was left out; minutes; pace: your rate over
 *   the usual one
 * @example F120 after F80: pits of 62 um are 30 deep after ten minutes
 * ```ts
 * import assert from "node:assert/strict";
 * const { left, minutes } = pitsLeft({ grade: 1, skipped: 0, minutes: 10, pace: 1 });
 * assert.deepEqual([left.toFixed(0), minutes.least.toFixed(0)], ["30", "29"]);
 * ```
 */
export function pitsLeft(values: Values): PitsLeft {
  const at = Math.round(valueOf(values, "grade")), pace = valueOf(values, "pace");
  const skipped = Math.round(valueOf(values, "skipped")) === 1 && at > 1;
  const grade = ladder[at], former = ladder[at - (skipped ? 2 : 1)];
  if (grade === undefined || former === undefined) {
    throw new RangeError(`pitsLeft requires a grade from 1 to 6, got grade=${at}`);
  }
  const [rung] = fineLadder([former, grade], 150);
  const perMinute = pace * removalAfter(former).least / (rung?.minutes.least ?? NaN);
  const off = perMinute * valueOf(values, "minutes"), deepest = pitDepth(former).most;
  return {
    ...{ grade, former, perMinute, off },
    left: Math.max(0, deepest - off),
    own: pitDepth(grade).most,
    minutes: {
      least: (rung?.minutes.least ?? NaN) / pace,
      most: (rung?.minutes.most ?? NaN) / pace,
    },
    toFloor: deepest / perMinute,
  };
}

const seen = once(pitsLeft);

/** Pits across the section, as shares of the deepest: INVENTED, so that not all go at once. */
const pits = [0.55, 1, 0.7, 0.4, 0.85, 0.6, 0.95, 0.5, 0.75, 0.9] as const;

/** The glass in section: its face comes down, its pits stay where their floors are. */
function section({ former, off, own }: PitsLeft): Html {
  const deepest = pitDepth(former).most, cracked = damageDepth(former).most;
  const y = scale(0, deepest * 1.9, 26, 116), wide = 344 / pits.length;
  const face = Math.min(off, deepest * 1.85), top = y(face);
  return group(
    words([0, 13], `The glass in section, pits of ${former.name}`),
    rect("body", [0, top], 344, 116 - top),
    pits.flatMap((share, i): Html[] => {
      const floor = y(share * deepest), middle = (i + 0.5) * wide;
      if (floor <= top) return [];
      const half = 0.42 * wide * share * (floor - top) / (floor - y(0));
      const crack = Math.min(116, y(share * Math.min(cracked, 1.7 * deepest)));
      return [
        path(
          "theirs",
          through([[middle - half, top], [middle, floor], [middle + half, top]]),
          "stroke:none",
        ),
        path("dim", through([[middle - half, top], [middle, floor], [middle + half, top]])),
        stroke("lead", [middle, floor], [middle + 3, crack], "stroke:var(--ink)"),
      ];
    }),
    ownPits(top, (y(own) - y(0)) / 2),
    stroke("lead", [0, y(0)], [344, y(0)], "stroke-dasharray:3 3;stroke:var(--soft)"),
    stroke("polished", [0, top], [344, top]),
  );
}

/** The pits that the grade in use makes anew, side by side; too small to draw for the finest. */
function ownPits(top: number, depth: number): Html | undefined {
  if (depth < 0.6) return undefined;
  const count = Math.min(60, Math.floor(344 / (3 * depth))), wide = 344 / count;
  return group(Array.from({ length: count }, (_, i) => {
    const at = (i + 0.5) * wide;
    return path("theirs", through([[at - depth, top], [at, top + depth], [at + depth, top]]));
  }));
}

function plot(values: Values, seen: PitsLeft): Html {
  const minutes = valueOf(values, "minutes"), deepest = pitDepth(seen.former).most;
  const x = scale(0, 120, 44, 340), y = scale(0, deepest, 264, 152);
  const line: Point[] = [[0, deepest], [
    Math.min(120, seen.toFloor),
    Math.max(0, deepest - 120 * seen.perMinute),
  ]];
  const { least, most } = seen.minutes, from = Math.min(120, least), to = Math.min(120, most);
  return group(
    words([0, 141], `Deepest pit of ${seen.former.name} left (µm)`),
    rect("zone-b", [x(from), 152], x(to) - x(from), 112),
    levels(ticks(0, deepest, 4), y, (um) => fixed(um, deepest < 4 ? 1 : 0)),
    path("polished", through(line.map(([t, um]): Point => [x(t), y(um)]))),
    stroke("limit", [44, y(seen.own)], [340, y(seen.own)]),
    words([338, y(seen.own) - 6], `pits of ${seen.grade.name} itself`, {
      kind: "t-rouge halo",
      anchor: "end",
    }),
    stroke("lead", [x(minutes), 152], [x(minutes), 264]),
    dot("mine", [x(minutes), y(seen.left)], 4.5),
    [0, 30, 60, 90, 120].map((t) =>
      words([x(t), 281], fixed(t), { kind: "soft", anchor: t === 120 ? "end" : "middle" })
    ),
    words([340, 298], `Minutes of ${seen.grade.name}`, { anchor: "end" }),
  );
}

function picture(values: Values): Html {
  const now = seen(values), { former, grade, off, left } = now;
  return drawing({
    width: 352,
    height: 302,
    finding: `Glass in section with the pits of ${former.name}: ${
      fixed(off, 1)
    } micrometres are off, the deepest pit is still ${
      fixed(left, 1)
    } deep. Under it that depth against the minutes of ${grade.name}.`,
    contents: group(section(now), plot(values, now)),
  });
}

function reading(values: Values): Html {
  const { former, grade, left, own, off, minutes, toFloor } = seen(values);
  const t = valueOf(values, "minutes");
  const state = left > own
    ? `it stands out: go on`
    : t < minutes.least
    ? `lost among those of ${grade.name}, but the cracks under it are not: go on`
    : t < minutes.most
    ? `gone; cracks under it may be left`
    : `gone, and the cracks with it`;
  return safe`Deepest pit of ${former.name} <big><output>${
    fixed(left, left < 10 ? 1 : 0)
  } µm</output></big> <output>${state}</output>. Taken off: ${
    fixed(off, off < 10 ? 1 : 0)
  } µm. The floor of that pit comes after ${fixed(toFloor)} min, half of the grain after <output>${
    fixed(minutes.least)
  } min</output>, all of it after ${fixed(minutes.most)}.`;
}

const controls: readonly Control[] = [
  {
    ...{ key: "minutes", label: "Minutes of this grade", min: 0, max: 120, step: 1, digits: 0 },
    ...{ unit: "min", spoken: "minutes" },
  },
  {
    ...{ key: "grade", label: "Grade in use", min: 1, max: 6, step: 1, digits: 0 },
    ...{ unit: "", spoken: "", choices: usualLadder },
  },
  {
    ...{ key: "skipped", label: "The grade before it", min: 0, max: 1, step: 1, digits: 0 },
    ...{ unit: "", spoken: "", choices: ["was done", "was left out"] },
  },
  {
    ...{ key: "pace", label: "Your rate over the usual one", min: 0.5, max: 2, step: 0.1 },
    ...{ digits: 1, unit: "times", spoken: "times" },
  },
];

/** The figure: minutes of a grade, and whether the one before it was done. */
export const pitsAndMinutes: LiveFigure = {
  name: "pits-and-minutes",
  controls,
  start: { minutes: 10, grade: 2, skipped: 0, pace: 1 },
  picture,
  reading,
  value: (values) => seen(values).left,
  caption:
    safe`<b>The tinted stretch</b> runs from half of the former grain to all of it. Pits a third of their grain deep, cracks below: rules of thumb; the rate is assumed, so the loupe decides. Places and sizes of the pits are invented.`,
};
