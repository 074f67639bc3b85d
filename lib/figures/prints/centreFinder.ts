/** Rings to find a disc's centre by, and the ring that marks it for collimation. */
import { safe } from "../html.ts";
import { circle, cross, line, words } from "./mmPen.ts";
import { drawingToPrint, type Printable } from "./printable.ts";

/** The collimation mark's ring, mm: outer and inner diameter. COMMON PRACTICE */
const markRing = { outer: 12, inner: 6 } as const;

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
      "Lay the disc on it, back down, its rim even with a ring all round; prick the centre through a hole in a second print laid on top. The small ring is the mark: stick it on the mirror’s centre, after coating, without touching the face.",
    width: size,
    height: size + 18,
    finding:
      `Rings each 10 mm round a cross for a disc of ${aperture} mm, with three directions, and a ring of ${markRing.outer} mm.`,
    contents: safe`${circle([middle, middle], radius, { width: 0.3 })}${
      rings.map((r) => circle([middle, middle], r, { width: r % 50 === 0 ? 0.25 : 0.1 }))
    }${cross([middle, middle], middle, { width: 0.12 })}${
      circle([middle, middle], 1, { width: 0.3 })
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
