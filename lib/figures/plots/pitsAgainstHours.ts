/** Depth of the last pits against hours of polishing, at the centre and at the edge: the last one decides. */
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { fixed } from "../scale.ts";
import type { Shown } from "../show.ts";
import { band, dots, lines, onPaper, Plot, plotDocument, styledPlot } from "./style.ts";

/** One place of the mirror, from its deepest pit to none. */
export interface PitLine {
  /** "centre", "edge" */
  readonly name: string;
  /** h until the last is gone, and what it may be */
  readonly hours: number;
  readonly least?: number;
  readonly most?: number;
}

export interface PitsDrawn {
  /** um at the beginning */
  readonly depth: number;
  readonly places: readonly PitLine[];
  /** what was seen on the way: hours and depth left */
  readonly seen?: readonly { readonly hours: number; readonly depth: number }[];
  readonly says: string;
  readonly whose?: "yours" | "demo";
}

function draw(drawn: PitsDrawn, width: number, finding: string): Html {
  const { depth, places, seen = [], whose = "demo" } = drawn;
  const last = Math.max(
    ...places.map(({ hours, most = hours }) => most),
    ...seen.map((s) => s.hours),
  );
  const slowest = places.reduce((a, b) => b.hours > a.hours ? b : a);
  const line = whose === "demo" ? lines.demo : lines.yours;
  const { least = slowest.hours, most = slowest.hours } = slowest;
  const steps = Array.from({ length: 41 }, (_, i) => i / 40 * most);
  return styledPlot({
    width,
    height: isNarrow(width) ? 260 : 280,
    finding,
    x: { title: "Hours of polishing", domain: [0, last * 1.05] },
    y: { title: "Deepest pits (µm)", domain: [0, depth * 1.15] },
    marks: [
      ...(most > least
        ? [Plot.areaY(steps, {
          x: (h: number) => h,
          y1: (h: number) => Math.max(0, depth * (1 - h / Math.max(least, 1e-9))),
          y2: (h: number) => Math.max(0, depth * (1 - h / most)),
          ...band,
        })]
        : []),
      ...places.flatMap((place, i) => [
        Plot.line([[0, depth], [place.hours, 0]], line),
        Plot.text([[place.hours * (0.72 - 0.3 * (i % 2)), depth * (0.28 + 0.3 * (i % 2))]], {
          ...onPaper,
          ...(i % 2 === 0 ? { textAnchor: "end", dx: -8, dy: 6 } : { dx: 8, dy: -6 }),
          text: () => place.name,
        }),
      ]),
      Plot.dot(seen, { x: "hours", y: "depth", ...dots[whose] }),
    ],
  }, plotDocument());
}

/**
 * Pits against hours.
 *
 * @throws {RangeError} without a place, or where depth or hours are not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const places = [{ name: "centre", hours: 3.9 }, { name: "edge", hours: 5.6, least: 2.8, most: 11 }];
 * assert.match(pitsAgainstHours({ depth: 5, places, says: "The edge decides." }).text, /edge after 5.6 h \(2.8 to 11.0\)/);
 * ```
 */
export function pitsAgainstHours(drawn: PitsDrawn): Shown {
  const { depth, places } = drawn;
  if (!(depth > 0 && places.length > 0 && places.every(({ hours }) => hours > 0))) {
    throw new RangeError(
      `pitsAgainstHours requires a depth and hours above 0, got depth=${depth}, ${places.length} places`,
    );
  }
  const told = places.map(({ name, hours, least, most }) =>
    `${name} after ${fixed(hours, 1)} h${
      least === undefined || most === undefined ? "" : ` (${fixed(least, 1)} to ${fixed(most, 1)})`
    }`
  );
  const finding = `Pits of ${fixed(depth, 1)} µm are gone: ${told.join(", ")}.`;
  return figure({
    finding,
    caption: safe`<b>${drawn.says}</b> The band is what the edge may take.`,
    draw: (width) => draw(drawn, width, finding),
  });
}
