/** A gauge of the radius: one cut along the arc gives a piece for the hollow and a piece for the tool. */
import { sagitta } from "../../optics/sphere.ts";
import { type Lap, requireLap } from "../../shaping/lap/lap.ts";
import { safe } from "../html.ts";
import {
  type At,
  box,
  circle,
  cross,
  drawingToPrint,
  line,
  type Printable,
  through,
  words,
} from "./printable.ts";

/**
 * The arc of a radius over the width of a disc, between two strips of card.
 *
 * @param aperture  the disc's width, mm, above 0
 * @param radius    of curvature, mm, more than half the aperture
 * @throws {RangeError} outside the ranges of `sagitta`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(curveGaugeToPrint(150, 2400).whole?.markup ?? "", /1\.172 mm over 150 mm/);
 * ```
 */
export function curveGaugeToPrint(aperture: number, radius: number): Printable {
  const depth = sagitta(aperture, radius), strip = 28, pad = 3;
  const width = aperture + 2 * pad, height = 2 * strip + depth + 2 * pad, middle = width / 2;
  const top = pad + strip, centreY = top + depth - radius;
  const steps = Math.max(20, Math.ceil(aperture));
  const arc = Array.from({ length: steps + 1 }, (_, i): At => {
    const x = pad + aperture * i / steps;
    return [x, centreY + Math.sqrt(radius * radius - (x - middle) ** 2)];
  });
  const bottom = height - pad;
  return drawingToPrint({
    name: "curve-gauge",
    title: `Curve gauge, R ${Math.round(radius)} mm`,
    use:
      "Glue it on card, cut along the arc in one go. The upper piece lies in the hollow, the lower on the tool; light shows a tenth of a millimetre between. For a first look only: leaves decide.",
    width,
    height: height + 6,
    finding: `The arc of R ${radius.toFixed(0)} mm over ${aperture} mm, ${
      depth.toFixed(3)
    } mm deep.`,
    contents: safe`${through(arc, false, { width: 0.2 })}${
      box([pad, pad], aperture, bottom - pad, { width: 0.2 })
    }${line([middle, pad], [middle, bottom], { width: 0.12, dash: "2 1" })}${
      words(
        [middle + 2, pad + 6],
        `for the mirror: R ${radius.toFixed(0)}, f ${(radius / 2).toFixed(0)} mm`,
        { size: 3 },
      )
    }${
      words([middle + 2, bottom - 3], `for the tool: ${depth.toFixed(3)} mm over ${aperture} mm`, {
        size: 3,
      })
    }`,
  });
}

// Rings to find a disc's centre by, and the ring that marks it for collimation.

/** The collimation mark's ring, mm: outer and inner diameter; and the hole of the card that it is let down through. COMMON PRACTICE */
const markRing = { outer: 12, inner: 6, card: 13 } as const;

/**
 * Rings each centimetre with a cross and three directions, and a mark to cut out.
 *
 * @param aperture  the disc's width, mm, 20 to 2000
 * @param points    radius of the cell's three points, mm, where it is known
 * @throws {RangeError} outside that range
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(centreFinderToPrint(150).title, "Centre finder and collimation mark, 150 mm");
 * ```
 */
export function centreFinderToPrint(aperture: number, points?: number): Printable {
  if (!(aperture >= 20 && aperture <= 2000)) {
    throw new RangeError(
      `centreFinderToPrint requires 20 <= aperture <= 2000 in mm, got ${aperture}`,
    );
  }
  const radius = aperture / 2, pad = 5, middle = radius + pad, size = aperture + 2 * pad;
  const rings = Array.from({ length: Math.floor((radius - 1) / 10) }, (_, i) => 10 * (i + 1));
  const directions = [90, 210, 330].map((angle) => {
    const turn = angle * Math.PI / 180;
    const at = (r: number): [number, number] => [
      middle + r * Math.cos(turn),
      middle - r * Math.sin(turn),
    ];
    const spot = points === undefined ? undefined : at(points);
    return safe`${line(at(radius - 6), at(radius + 4), { width: 0.4 })}${
      spot && circle(spot, 2, { width: 0.3 })
    }`;
  });
  const markY = size + 9;
  return drawingToPrint({
    name: "centre-finder",
    title: `Centre finder and collimation mark, ${aperture} mm`,
    use:
      "Glue it on stiff card, and cut the rim and the grey hole in the middle, away from the mirror. The card rests on the coated mirror’s bevel, above the hollow, its rim even all round. Let the small gummed ring down through the hole with tweezers, press it with a cotton bud, lift the card off. Nothing is pricked: no point and no pen comes near the face. The three directions are the cell’s.",
    width: size,
    height: size + 18,
    finding:
      `Rings each 10 mm round a cross for a disc of ${aperture} mm, with three directions, and a ring of ${markRing.outer} mm.`,
    contents: safe`${circle([middle, middle], radius, { width: 0.3 })}${
      rings.map((r) => circle([middle, middle], r, { width: r % 50 === 0 ? 0.25 : 0.1 }))
    }${cross([middle, middle], middle, { width: 0.12 })}${
      circle([middle, middle], markRing.card / 2, { width: 0.3, fill: "#e4e4e4" })
    }${directions}${circle([pad + 8, markY], markRing.outer / 2, { width: 0.2, fill: "#d0d0d0" })}${
      circle([pad + 8, markY], markRing.inner / 2, { width: 0.2, fill: "#fff" })
    }${
      words([pad + 18, markY + 1], `mark: ${markRing.outer} mm round, hole ${markRing.inner} mm`, {
        size: 2.8,
      })
    }${
      points !== undefined &&
      words([pad + 18, markY + 5], `three points of the cell at ${points.toFixed(1)} mm`, {
        size: 2.8,
      })
    }`,
  });
}

// The grid of a pitch lap's channels at true size, its centre moved as the plan says.

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
      "Lay it on the cold lap, prick both ends of each line into the pitch’s edge, take it off, and cut along a ruler. Goggles on, cold and wet, the blade away from your body and from the hand that holds, an adult beside. Never centre the grid: a ring would be rubbed into the glass.",
    mind,
    width: size,
    height: size + 8,
    finding: `The channels of a pitch lap of ${diameter} mm. ${legend}`,
    contents: safe`${circle([middle, middle], radius, { width: 0.3 })}${down}${across}${
      cross([middle, middle], 4, { width: 0.4 })
    }${words([pad, size + 4], legend, { size: 2.6 })}`,
  });
}
