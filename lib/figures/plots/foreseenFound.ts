/** What sessions of figuring were foreseen to leave, and what the next test found: one bar and one mark a session. */
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { extent, fixed } from "../scale.ts";
import type { Shown } from "../show.ts";
import { band, dots, lines, onPaper, Plot, plotDocument, styledPlot } from "./style.ts";

/** One session between two tests; RMS of the glass, nm. */
export interface ForetoldSession {
  /** day of the test after it; absent where none was written */
  readonly date?: string;
  readonly before: number;
  /** low, middle and high of what it should leave, 95 % */
  readonly foreseen: readonly [low: number, middle: number, high: number];
  readonly after: number;
}

export interface DrawnSessions {
  /** in the order of time, one or more */
  readonly sessions: readonly ForetoldSession[];
  readonly says: string;
  readonly whose?: "yours" | "demo";
}

const HALF_BAR = 0.12;

function draw({ sessions, whose = "demo" }: DrawnSessions, width: number, finding: string): Html {
  const bars = sessions.map(({ foreseen: [low, middle, high], after }, i) => (
    { at: i + 1, low, middle, high, after }
  ));
  const path = [
    { at: 0, rms: sessions[0]?.before ?? 0 },
    ...bars.map(({ at, after }) => (
      { at, rms: after }
    )),
  ];
  const all = [...path.map(({ rms }) => rms), ...bars.map(({ high }) => high)];
  return styledPlot({
    width,
    height: isNarrow(width) ? 280 : 300,
    finding,
    x: {
      title: "Sessions, with a test after each",
      domain: [-0.4, sessions.length + 0.6],
      ticks: sessions.length + 1,
      format: (value) => Number.isInteger(value) && value <= sessions.length ? fixed(value) : "",
    },
    y: { title: "RMS of the glass (nm)", domain: [0, extent([0, ...all], 0.12)[1]] },
    marks: [
      Plot.rect(bars, {
        x1: ({ at }: { at: number }) => at - HALF_BAR,
        x2: ({ at }: { at: number }) => at + HALF_BAR,
        y1: "low",
        y2: "high",
        ...band,
      }),
      Plot.link(bars, {
        x1: ({ at }: { at: number }) => at - HALF_BAR,
        x2: ({ at }: { at: number }) => at + HALF_BAR,
        y1: "middle",
        y2: "middle",
        ...lines.forecast,
      }),
      Plot.line(path, { x: "at", y: "rms", ...(whose === "demo" ? lines.demo : lines.yours) }),
      Plot.dot(path, { x: "at", y: "rms", ...(whose === "demo" ? dots.demo : dots.yours) }),
      Plot.text(path.slice(0, 1), {
        x: "at",
        y: "rms",
        ...onPaper,
        dx: 8,
        dy: -8,
        text: () => "found",
      }),
      Plot.text(bars.slice(0, 1), {
        x: ({ at }: { at: number }) => at + HALF_BAR,
        y: "high",
        ...onPaper,
        dx: 6,
        dy: 4,
        text: () => "foreseen",
      }),
    ],
  }, plotDocument());
}

/**
 * Sessions as they were foreseen and as they came out.
 *
 * @throws {RangeError} without a session
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = foreseenFound({ sessions: [{ before: 30, foreseen: [8, 14, 24], after: 12 }], says: "One session." });
 * assert.match(shown.text, /session 1: from 30 nm, foreseen 8 to 24, found 12/);
 * ```
 */
export function foreseenFound(drawn: DrawnSessions): Shown {
  const { sessions, says } = drawn;
  if (sessions.length === 0) throw new RangeError("foreseenFound requires a session or more");
  const told = sessions.map(({ before, foreseen: [low, , high], after }, i) =>
    `session ${i + 1}: from ${fixed(before)} nm, foreseen ${fixed(low)} to ${fixed(high)}, found ${
      fixed(after)
    }`
  );
  const finding = `RMS of the glass, ${told.join("; ")}.`;
  return figure({
    finding,
    caption:
      safe`<b>${says}</b> Bar: what the session should have left, 95 %, by the sessions before it alone. Dashes: the middle of that. Marks: what each test found.`,
    draw: (width) => draw(drawn, width, finding),
  });
}
