/** A pitch lap seen from above, to scale: its facets and channels, and the rings that facets would rub too often. */
import { fixed } from "../scale.ts";
import { figure } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { across, dot, drawing, group, stroke, words } from "../pen.ts";
import type { Shown } from "../show.ts";

/** A lap to draw; mm. */
export interface DrawnLap {
  readonly diameter: number;
  readonly spacing: number;
  readonly channel: number;
  readonly offset: readonly [x: number, y: number];
  /** share of pitch that touches, 0 to 1 */
  readonly contact: number;
  /** rings rubbed too often (above 0) or too seldom */
  readonly ridges?: readonly {
    readonly from: number;
    readonly to: number;
    readonly excess: number;
  }[];
  /** the finding in bold */
  readonly says: string;
}

function channels(lap: DrawnLap, middle: number, px: number): Html {
  const { diameter, spacing, channel, offset } = lap, radius = diameter / 2;
  const style = `stroke:var(--paper);stroke-width:${fixed(channel * px, 1)};stroke-linecap:butt`;
  const places = (from: number): number[] => {
    const first = Math.ceil((-radius - from) / spacing);
    return Array.from(
      { length: Math.ceil(diameter / spacing) + 1 },
      (_, i) => from + (first + i) * spacing,
    ).filter((at) => Math.abs(at) < radius);
  };
  const half = (at: number): number => Math.sqrt(radius * radius - at * at) * px;
  return group(
    places(offset[0]).map((x) =>
      stroke(
        "axis",
        [middle + x * px, middle - half(x)],
        [middle + x * px, middle + half(x)],
        style,
      )
    ),
    places(-offset[1]).map((y) =>
      stroke(
        "axis",
        [middle - half(y), middle + y * px],
        [middle + half(y), middle + y * px],
        style,
      )
    ),
  );
}

function draw(lap: DrawnLap, width: number, finding: string): Html {
  const { diameter, ridges = [] } = lap, size = Math.min(width - 20, 380), top = 14;
  const px = (size - 20) / diameter, left = (width - size) / 2, middle = size / 2;
  const radius = diameter / 2 * px;
  const plan = group(
    dot("zone-b", [middle, middle], radius, "stroke:var(--line)"),
    channels(lap, middle, px),
    dot("rim", [middle, middle], radius, "fill:none"),
    ridges.flatMap(({ from, to }) =>
      [from, to].filter((r) => r * px > 3).map((r) =>
        dot("limit", [middle, middle], r * px, "fill:none")
      )
    ),
    stroke("rim", [middle - 5, middle], [middle + 5, middle]),
    stroke("rim", [middle, middle - 5], [middle, middle + 5]),
    across(middle - radius, middle + radius, size + 6),
    words([middle, size + 24], `${fixed(diameter)} mm`, { anchor: "middle" }),
  );
  const moved = safe`<g transform="translate(${fixed(left, 1)} ${top})">${plan}</g>`;
  return drawing({ width, height: size + 50, finding, contents: [moved] });
}

function findingOf(lap: DrawnLap): string {
  const { diameter, spacing, channel, offset, contact, ridges = [] } = lap;
  const rings = ridges.map(({ from, to, excess }) =>
    `${fixed(from)} to ${fixed(to)} mm, ${fixed(Math.abs(excess) * 100)} % ${
      excess > 0 ? "more" : "less"
    }`
  );
  return `A lap of ${fixed(diameter)} mm: facets of ${
    fixed(spacing - channel, 1)
  } mm, channels of ${fixed(channel, 1)} mm, the nearest crossing ${fixed(offset[0], 1)} and ${
    fixed(offset[1], 1)
  } mm off the centre. ${fixed(contact * 100)} % of it touches. ${
    rings.length === 0
      ? "No ring is rubbed more than 5 % off the mean."
      : `Rubbed otherwise than the rest: ${rings.join("; ")}.`
  }`;
}

/**
 * The plan of a lap.
 *
 * @throws {RangeError} for sizes that are not above 0, or channels as wide as their spacing
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = lapPlan({ diameter: 150, spacing: 25, channel: 5, offset: [6, 9], contact: 0.637, says: "Off centre." });
 * assert.match(shown.text, /64 % of it touches/);
 * ```
 */
export function lapPlan(lap: DrawnLap): Shown {
  const { diameter, spacing, channel } = lap;
  if (!(diameter > 0 && spacing > channel && channel > 0 && spacing < diameter)) {
    throw new RangeError(
      `lapPlan requires 0 < channel < spacing < diameter, got ${channel}, ${spacing}, ${diameter}`,
    );
  }
  const finding = findingOf(lap);
  return figure({
    finding,
    caption: safe`<b>${lap.says}</b> To scale, from above; the cross is the centre. ${
      (lap.ridges ?? []).length > 0 && "Between dashes: rings rubbed more than 5 % off the mean."
    }`,
    draw: (width) => draw(lap, width, finding),
  });
}
