/** The grid of a pitch lap's channels at true size, its centre moved as the plan says. */
import { type Lap, requireLap } from "../../shaping/lap/lap.ts";
import { safe } from "../html.ts";
import { circle, cross, line, words } from "./mmPen.ts";
import { drawingToPrint, type Printable } from "./printable.ts";

/** Middles of channels that cross the lap, mm from its centre. */
function placesOf(offset: number, spacing: number, radius: number): number[] {
  const first = Math.ceil((-radius - offset) / spacing);
  const last = Math.floor((radius - offset) / spacing);
  return Array.from({ length: last - first + 1 }, (_, i) => offset + (first + i) * spacing)
    .filter((at) => Math.abs(at) < radius);
}

/**
 * The channels of a lap, each as its two edges, on the outline of the lap.
 *
 * @param lap   as `usualLap` plans it, mm
 * @param mind  what to mind before the pitch is touched
 * @throws {RangeError} as `requireLap`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { usualLap } from "../../shaping/lap/lap.ts";
 * assert.match(channelGridToPrint(usualLap(150)).whole?.markup ?? "", /Facets 20 mm, channels 5 mm/);
 * ```
 */
export function channelGridToPrint(lap: Lap, mind = ""): Printable {
  const { diameter, spacing, channel, offset } = requireLap(lap), radius = diameter / 2, pad = 4;
  const middle = radius + pad, size = diameter + 2 * pad;
  const edges = (offset: number): number[] =>
    placesOf(offset, spacing, radius).flatMap((at) => [at - channel / 2, at + channel / 2])
      .filter((at) => Math.abs(at) < radius);
  const half = (at: number): number => Math.sqrt(radius * radius - at * at);
  const down = edges(offset[0]).map((x) =>
    line([middle + x, middle - half(x)], [middle + x, middle + half(x)], { width: 0.2 })
  );
  const across = edges(-offset[1]).map((y) =>
    line([middle - half(y), middle + y], [middle + half(y), middle + y], { width: 0.2 })
  );
  const legend = `Facets ${
    spacing - channel
  } mm, channels ${channel} mm; the nearest crossing lies ${offset[0]} mm right and ${
    offset[1]
  } mm up of the centre.`;
  return drawingToPrint({
    name: "channel-grid",
    title: `Channels of the pitch lap, ${diameter} mm`,
    use:
      "Lay it under the wet lap’s rim marks, or prick the ends of the lines on the lap’s edge. Never centre the grid: a ring would be rubbed into the glass. Cut cold pitch wet, goggles on.",
    mind,
    width: size,
    height: size + 8,
    finding: `The channels of a pitch lap of ${diameter} mm. ${legend}`,
    contents: safe`${circle([middle, middle], radius, { width: 0.3 })}${down}${across}${
      cross([middle, middle], 4, { width: 0.4 })
    }${words([pad, size + 4], legend, { size: 2.6 })}`,
  });
}
