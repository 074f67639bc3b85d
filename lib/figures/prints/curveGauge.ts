/** A gauge of the radius: one cut along the arc gives a piece for the hollow and a piece for the tool. */
import { sagitta } from "../../optics/sphere.ts";
import { safe } from "../html.ts";
import { type At, box, line, through, words } from "./mmPen.ts";
import { drawingToPrint, type Printable } from "./printable.ts";

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
