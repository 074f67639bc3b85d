/** The zone mask at true size: what is tinted is cut out; odd zones lie across, even ones up and down, so that card stays between. */
import { knifePosition, type Source } from "../../optics/conic.ts";
import { type MaskDesign, type MaskZone, windowOutlines } from "../../testing/zones/mask.ts";
import { bandHalfHeight, SECTOR_HALF_ANGLE } from "../../testing/zones/maskWindows.ts";
import { effectiveRadius, type Opening, type OpeningShape } from "../../testing/zones/openings.ts";
import { CUT_THE_MASK } from "../drawings/zoneMask.ts";
import { safe } from "../html.ts";
import {
  type At,
  circle,
  cross,
  drawingToPrint,
  linesOf,
  type Printable,
  through,
  words,
} from "./printable.ts";

/** A mirror and the openings of its mask, mm. */
export interface MaskToPrint {
  /** the disc's width; the mask is cut to it */
  readonly aperture: number;
  /** of curvature */
  readonly radius: number;
  readonly source: Source;
  readonly shape: OpeningShape;
  /** edges rising from the centre, the last inside the rim */
  readonly openings: readonly Opening[];
}

/** Size of the type below the drawing, mm. */
const LEGEND = 2.6;

/** The design behind the openings that a record or `designMask` gives. */
function designOf({ aperture, radius, source, shape, openings }: MaskToPrint): MaskDesign {
  const zones = openings.map((opening): MaskZone => {
    const r = effectiveRadius(opening, shape);
    return {
      ...opening,
      cutInner: opening.inner,
      cutOuter: opening.outer,
      effectiveRadius: r,
      ideal: knifePosition(r, { radius, conic: -1 }, source),
    };
  });
  const spread = (zones.at(-1)?.ideal ?? 0) - (zones[0]?.ideal ?? 0);
  return shape === "bands"
    ? { zones, spread, halfHeight: bandHalfHeight(openings, aperture) }
    : { zones, spread, halfAngle: SECTOR_HALF_ANGLE };
}

/** A zone's cuts: two windows, or for the innermost one window across the centre, two sectors tip to tip where they are sectors. */
function cuts(zone: MaskZone, design: MaskDesign): readonly (readonly At[])[] {
  const [left, right] = windowOutlines(zone, design);
  if (zone.inner > 0) return [left, right];
  const half = design.halfHeight;
  if (half === undefined) return [[...right.slice(0, 17), [0, 0], ...left.slice(0, 17), [0, 0]]];
  if (half >= zone.cutOuter) {
    const ring = Array.from({ length: 73 }, (_, i): At => {
      const angle = i * Math.PI / 36;
      return [zone.cutOuter * Math.cos(angle), zone.cutOuter * Math.sin(angle)];
    });
    return [ring];
  }
  const edge = (points: readonly At[]): At[] =>
    points.filter(([x, y]) => Math.hypot(x, y) > zone.cutOuter * 0.999);
  return [[...edge(right), ...edge(left).toReversed()]];
}

/**
 * A zone mask to print, glue on card and cut.
 *
 * @param mask  edges rising from the centre, within the disc
 * @throws {RangeError} where they are not
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const openings = [{ inner: 0, outer: 30 }, { inner: 30, outer: 45 }];
 * const mask = zoneMaskToPrint({ aperture: 150, radius: 2400, source: "moves", shape: "bands", openings });
 * assert.match(mask.whole?.markup ?? "", /^<svg[^>]*width="158mm"/);
 * ```
 */
export function zoneMaskToPrint(mask: MaskToPrint): Printable {
  const { aperture, openings } = mask, half = aperture / 2, pad = 4;
  const sound = openings.length > 0 &&
    openings.every(({ inner, outer }, i) =>
      outer > inner && inner >= (openings[i - 1]?.outer ?? 0) && outer <= half
    );
  if (!sound) {
    throw new RangeError(
      `zoneMaskToPrint requires rising openings inside the disc in mm, got ${
        JSON.stringify(openings)
      } in ${aperture}`,
    );
  }
  const design = designOf(mask), middle = half + pad, size = aperture + 2 * pad;
  const place = ([x, y]: At, turned: boolean): At =>
    turned ? [middle - y, middle + x] : [middle + x, middle + y];
  const windows = design.zones.flatMap((zone, i) =>
    cuts(zone, design).map((outline) =>
      through(outline.map((point) => place(point, i % 2 === 1)), true, {
        width: 0.2,
        fill: "#e4e4e4",
      })
    )
  );
  const numbers = design.zones.map((zone, i) => {
    const at = place([(zone.inner + zone.outer) / 2 * (zone.inner > 0 ? 1 : 0.6), 0], i % 2 === 1);
    return words([at[0], at[1] + 1.2], String(i + 1), { size: 3.4, anchor: "middle" });
  });
  const edges = [...new Set(openings.flatMap(({ inner, outer }) => [inner, outer]))];
  const legend = `Edges ${
    edges.join(", ")
  } mm from the centre. Ideal spread of the knife, zone 1 to ${openings.length}: ${
    Math.abs(design.spread).toFixed(2)
  } mm.`;
  const lines = linesOf(legend, aperture, LEGEND);
  return drawingToPrint({
    name: "zone-mask",
    title: `Zone mask, ${aperture} mm`,
    use: `Check the bars, glue it on card. ${CUT_THE_MASK}`,
    width: size,
    height: size + 4 + 3.6 * lines.length,
    finding: `A zone mask for a disc of ${aperture} mm. ${legend}`,
    contents: safe`${circle([middle, middle], half, { width: 0.3 })}${windows}${numbers}${
      cross([middle, middle], 2, { width: 0.12 })
    }${lines.map((line, i) => words([pad, size + 4 + 3.6 * i], line, { size: LEGEND }))}`,
  });
}
