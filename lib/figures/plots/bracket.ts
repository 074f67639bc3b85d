/** A bracket beside a plot that measures a height: peak to valley of a curve, or the goal. */
import { onPaper, Plot } from "./house.ts";

/** A bracket at the right of a plot. */
export interface Bracket {
  /** in units of the x axis, usually beyond its end */
  readonly x: number;
  readonly low: number;
  readonly high: number;
  readonly label: string;
  readonly colour: string;
  /** where the label stands; default beside */
  readonly where?: "beside" | "below" | "above";
  /** x units for 1 px */
  readonly px: number;
}

/** The bracket's marks: a line with a bar at either end, and its label. */
export function bracket(b: Bracket): Plot.Markish[] {
  const look = { stroke: b.colour, strokeWidth: 1.5 }, bar = 4 * b.px;
  const bars = [b.low, b.high].map((y) => ({ x1: b.x - bar, x2: b.x + bar, y }));
  const where = b.where ?? "beside";
  const side = where === "beside"
    ? { textAnchor: "start", dx: 8 } as const
    : { textAnchor: "middle", dy: where === "below" ? 15 : -13 } as const;
  const y = where === "beside" ? (b.low + b.high) / 2 : where === "below" ? b.low : b.high;
  return [
    Plot.link([b], { x: "x", y1: "low", y2: "high", ...look }),
    Plot.link(bars, { x1: "x1", x2: "x2", y: "y", ...look }),
    Plot.text([[b.x, y]], {
      ...onPaper,
      ...side,
      fill: b.colour,
      fontWeight: 600,
      text: () => b.label,
    }),
  ];
}
