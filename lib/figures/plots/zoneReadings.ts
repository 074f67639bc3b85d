/** Knife readings as strokes over the openings they were read through, with the curve a perfect mirror would give. */
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { extent, fixed } from "../scale.ts";
import type { Shown } from "../show.ts";
import { lines, onPaper, Plot, plotDocument, styledPlot } from "./style.ts";
import type { Opening } from "./surfaceProfile.ts";

/** One run: a reading for each opening, mm; `undefined` where none was taken. */
export interface ZoneRun {
  readonly run: string;
  readonly readings: readonly (number | undefined)[];
}

/** Zone readings as they were taken; lengths mm. */
export interface ZoneTable {
  readonly openings: readonly Opening[];
  readonly runs: readonly ZoneRun[];
  /** radius of curvature, for the curve of a perfect mirror */
  readonly radius: number;
  /** whether the lamp moves with the knife */
  readonly source: "moves" | "fixed";
  readonly wanted?: "paraboloid" | "sphere";
  readonly whose?: "yours" | "demo";
}

interface Stroke extends Opening {
  readonly reading: number;
}

function strokes({ openings, runs }: ZoneTable): Stroke[] {
  return runs.flatMap(({ readings }) =>
    readings.flatMap((reading, i) => {
      const opening = openings[i];
      return reading === undefined || opening === undefined ? [] : [{ ...opening, reading }];
    })
  );
}

/** The mean of each opening that has readings. */
function means(table: ZoneTable): Stroke[] {
  const all = strokes(table);
  return table.openings.flatMap((opening) => {
    const here = all.filter((s) => s.inner === opening.inner && s.outer === opening.outer);
    const sum = here.reduce((total, s) => total + s.reading, 0);
    return here.length === 0 ? [] : [{ ...opening, reading: sum / here.length }];
  });
}

function effective({ inner, outer }: Opening): number {
  return Math.sqrt((inner ** 2 + outer ** 2) / 2);
}

/** Readings a perfect mirror would give, moved along the axis to fit the means. */
function ideal(table: ZoneTable, found: readonly Stroke[]): { radius: number; reading: number }[] {
  const share = table.wanted === "sphere" ? 0 : table.source === "moves" ? 0.5 : 1;
  const at = (r: number): number => share * r ** 2 / table.radius;
  const shift = found.reduce((sum, s) => sum + s.reading - at(effective(s)), 0) /
    (found.length || 1);
  const rim = Math.max(...table.openings.map((o) => o.outer));
  return Array.from({ length: 41 }, (_, i) => {
    const radius = rim * i / 40;
    return { radius, reading: at(radius) + shift };
  });
}

function draw(table: ZoneTable, width: number, finding: string): Html {
  const all = strokes(table),
    found = means(table),
    curve = found.length > 0 ? ideal(table, found) : [];
  const rim = Math.max(...table.openings.map((o) => o.outer)), end = curve.at(-1);
  const demo = table.whose === "demo", colour = demo ? "var(--graphite)" : "var(--glass)";
  const domain = extent([...all.map((s) => s.reading), ...curve.map((p) => p.reading)], 0.1);
  const gap = 0.006 * rim;
  const across = {
    x1: (s: Stroke) => s.inner + gap,
    x2: (s: Stroke) => s.outer - gap,
    ...{ y1: "reading", y2: "reading" },
  } as const;
  return styledPlot({
    width,
    height: isNarrow(width) ? 280 : 300,
    finding,
    marginRight: 24,
    x: { title: "Distance from the centre (mm)", domain: [0, rim * 1.02] },
    y: {
      title: isNarrow(width)
        ? "Knife position (mm)"
        : "Knife position, larger is farther from the mirror (mm)",
      domain,
    },
    marks: [
      Plot.ruleX(table.openings.slice(1).map((o) => o.inner), {
        stroke: "var(--hair)",
        strokeDasharray: "2 3",
      }),
      Plot.line(curve, { x: "radius", y: "reading", ...lines.wanted }),
      Plot.link(all, {
        ...across,
        stroke: colour,
        strokeWidth: 1,
        strokeOpacity: 0.75,
      }),
      Plot.link(found, { ...across, stroke: colour, strokeWidth: table.runs.length > 1 ? 3 : 2 }),
      ...(end === undefined ? [] : [
        Plot.text([end], {
          ...{ x: "radius", y: "reading", ...onPaper, textAnchor: "end", dx: -6, dy: -12 },
          text: () => `a perfect ${table.wanted ?? "paraboloid"}`,
        }),
      ]),
      Plot.text(table.openings.map((o, i) => ({ ...o, name: String(i + 1) })), {
        ...{ x: (o: Opening) => (o.inner + o.outer) / 2, text: "name", fill: "var(--soft)" },
        ...{ frameAnchor: "bottom", dy: -6 },
      }),
    ],
  }, plotDocument());
}

function check({ openings, runs, radius }: ZoneTable): void {
  const sound = openings.every((o) => o.inner >= 0 && o.outer > o.inner) && radius > 0;
  const long = runs.find((run) => run.readings.length > openings.length);
  if (openings.length === 0 || !sound || long !== undefined) {
    throw new RangeError(
      `zoneReadings requires openings with 0 <= inner < outer in mm, a reading or less for each, and a radius above 0, got ${
        JSON.stringify(openings)
      }, radius=${radius}${
        long === undefined ? "" : `, run ${long.run} with ${long.readings.length} readings`
      }`,
    );
  }
}

/**
 * Zone readings over their openings.
 *
 * @param table  lengths in mm; readings larger = farther from the mirror, zero arbitrary
 * @throws {RangeError} without openings, with edges out of order, or with more readings than openings in a run
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = zoneReadings({
 *   openings: [{ inner: 0, outer: 30 }, { inner: 30, outer: 45 }],
 *   runs: [{ run: "1", readings: [12.34, 12.46] }],
 *   radius: 2396,
 *   source: "moves",
 * });
 * assert.match(shown.text, /means 12.34, 12.46 mm/);
 * ```
 */
export function zoneReadings(table: ZoneTable): Shown {
  check(table);
  const found = means(table), list = found.map((s) => fixed(s.reading, 2)).join(", ");
  const count = table.runs.length, wanted = table.wanted ?? "paraboloid";
  const finding = found.length === 0
    ? "Knife position against distance from the centre: no readings yet, only the openings of the mask."
    : `Knife position against distance from the centre, ${count} run${
      count === 1 ? "" : "s"
    } through ${table.openings.length} openings: means ${list} mm.`;
  return figure({
    finding,
    caption:
      safe`<b>Each zone has its own centre; the spread is the shape.</b> A thin stroke is one reading over its opening, a thick one the mean. The ink line is a perfect ${wanted} with ${
        table.source === "moves" ? "a source that moves along" : "a fixed source"
      }; zones are numbered from the centre.${
        table.whose === "demo" && " Demo mirror, not yours."
      }`,
    draw: (width) => draw(table, width, finding),
  });
}
