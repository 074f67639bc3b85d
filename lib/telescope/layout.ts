/** The whole layout from the parts at hand: where the hole goes, which flat, what it costs. */
import { CannotTell } from "../numeric/cannotTell.ts";
import { contrastAt } from "../optics/contrast.ts";
import { flatFor, flatHad, type MainMirror } from "./flat.ts";
import { given, requireAbove0, requireNot0Less } from "./ranges.ts";
import { illumination, magnitudeLoss } from "./vignetting.ts";

/** Tube and focuser; lengths mm. */
export interface Bend {
  /** of the tube */
  readonly innerDiameter: number;
  /** thickness of the tube's wall */
  readonly wall: number;
  /** of the focuser, racked in, from the tube's outside */
  readonly height: number;
  /** spare travel inward */
  readonly margin: number;
}

/**
 * Flat's centre to the focus: half the tube, its wall, the focuser racked in, and the spare travel inward.
 *
 * @param bend  mm; tube and focuser above 0, wall and margin 0 or more
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(flatToFocus({ innerDiameter: 180, wall: 3, height: 70, margin: 15 }), 178);
 * ```
 */
export function flatToFocus({ innerDiameter, wall, height, margin }: Bend): number {
  requireAbove0("flatToFocus", { innerDiameter });
  requireNot0Less("flatToFocus", { wall, height, margin });
  return innerDiameter / 2 + wall + height + margin;
}

/** What a layout is made from; lengths mm. */
export interface LayoutParts extends MainMirror {
  /** tube and focuser */
  readonly bend: Bend;
  /** from the flat's centre to the tube's front end; default the tube's inner diameter */
  readonly frontLength?: number;
  /** width of the field wanted without any loss; default 0 */
  readonly fullyLit?: number;
  /** minor axes to be had; without any, the needed one is taken */
  readonly flats?: readonly number[];
  /** width of the field seen; default the width wanted without loss */
  readonly fieldStop?: number;
}

/** A telescope laid out; lengths mm, shares 0 to 1. */
export interface Layout {
  /** from the flat's centre to the focal plane */
  readonly flatToFocus: number;
  /** from the main mirror's vertex to the flat's centre along the axis: here goes the hole */
  readonly flatFromVertex: number;
  /** least minor axis that gives the field wanted */
  readonly neededFlat: number;
  /** minor axis taken */
  readonly flat: number;
  /** shift of the flat's centre away from the focuser */
  readonly offset: number;
  /** the same shift along the flat's face */
  readonly offsetAlongFace: number;
  /** below 0: no point of the field gets all the light */
  readonly fullyLit: number;
  /** flat's minor axis over the aperture */
  readonly obstructionByDiameter: number;
  /** share of the aperture's area that the flat hides */
  readonly obstructionByArea: number;
  /** light lost to the flat, magnitudes */
  readonly magnitudeLoss: number;
  /** of fine detail, 0 to 1, at shares of the cutoff frequency */
  readonly contrast: readonly { readonly ofCutoff: number; readonly value: number }[];
  /** share of the axis's light at the edge of the field stop */
  readonly illuminationAtStop: number;
  /** least inner diameter of the tube that cuts no light of the field seen */
  readonly tubeBore: number;
  /** whether the tube's inner diameter is `tubeBore` or more */
  readonly tubeIsWideEnough: boolean;
  /** sentences on what will not work, empty where all is well */
  readonly problems: readonly string[];
}

/** The smallest flat that holds the cone; the largest where none does. */
function chooseFlat(needed: number, flats: readonly number[]): number {
  if (flats.length === 0) return needed;
  const rising = [...flats].sort((a, b) => a - b);
  return rising.find((flat) => flat >= needed) ?? rising.at(-1) ?? needed;
}

function problemsOf(parts: LayoutParts, layout: Omit<Layout, "problems">): string[] {
  const mm = (value: number): string => `${Number(value.toFixed(1))} mm`;
  const { innerDiameter } = parts.bend, problems: string[] = [];
  if (layout.fullyLit < 0) {
    problems.push(
      `the flat of ${
        mm(layout.flat)
      } is smaller than the light of a single star on the axis: nothing is fully lit; ` +
        "take a larger flat or a lower focuser",
    );
  } else if (layout.flat < layout.neededFlat) {
    problems.push(
      `no flat at hand holds the cone: ${mm(layout.neededFlat)} is needed for the field wanted, ${
        mm(layout.flat)
      } is the largest`,
    );
  }
  if (innerDiameter < parts.aperture) {
    problems.push(
      `the tube of ${mm(innerDiameter)} is narrower than the mirror's light, ${
        mm(parts.aperture)
      }: it cuts the rim off; take a wider tube`,
    );
  } else if (!layout.tubeIsWideEnough) {
    problems.push(
      `the tube of ${mm(innerDiameter)} cuts light for the edge of the field: ${
        mm(layout.tubeBore)
      } is needed at its front`,
    );
  }
  return problems;
}

/**
 * Lays out a telescope.
 *
 * @param parts  mm; see `LayoutParts`
 * @throws {RangeError} where a length is out of range, or where the focus cannot come out of the tube
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const bend = { innerDiameter: 180, wall: 3, height: 70, margin: 15 };
 * const plan = layOut({ aperture: 150, focalLength: 1198.3, bend, fullyLit: 8, flats: [25, 31, 35] });
 * assert.equal(plan.flatFromVertex.toFixed(1), "1020.3");
 * assert.equal(plan.flat, 31);
 * ```
 */
export function layOut(parts: LayoutParts): Layout {
  const { aperture, focalLength, bend, fullyLit = 0, flats = [] } = parts;
  flats.forEach((flat) => requireAbove0("layOut", { aperture, focalLength, flat }));
  const distance = flatToFocus(bend);
  if (distance >= focalLength) {
    throw new RangeError(
      `layOut requires a focus outside the tube, flatToFocus < focalLength in mm, got ${
        given({ flatToFocus: distance, focalLength })
      }: no place for a flat is left`,
    );
  }
  const mirror = { aperture, focalLength }, flatFromVertex = focalLength - distance;
  const needed = flatFor(mirror, distance, fullyLit).minorAxis, flat = chooseFlat(needed, flats);
  if (!(needed > 0 && Number.isFinite(needed))) {
    throw new CannotTell(
      "tube, focuser and fully lit field leave no place for a flat: look at the three numbers",
    );
  }
  const had = flatHad(mirror, distance, flat), ratio = flat / aperture;
  const edge = (parts.fieldStop ?? fullyLit) / 2;
  const bore = tubeBore(mirror, flatFromVertex + (parts.frontLength ?? bend.innerDiameter), edge);
  const layout = {
    flatToFocus: distance,
    flatFromVertex,
    neededFlat: needed,
    flat,
    offset: had.offset,
    offsetAlongFace: had.offsetAlongFace,
    fullyLit: had.fullyLit,
    obstructionByDiameter: ratio,
    obstructionByArea: ratio ** 2,
    magnitudeLoss: magnitudeLoss(1 - ratio ** 2),
    contrast: [0.25, 0.5, 0.75].map((ofCutoff) => ({
      ofCutoff,
      value: contrastAt(ofCutoff, ratio),
    })),
    illuminationAtStop: illumination({ ...mirror, flatToFocus: distance, minorAxis: flat }, edge),
    tubeBore: bore,
    tubeIsWideEnough: bend.innerDiameter >= bore,
  };
  return { ...layout, problems: problemsOf(parts, layout) };
}

/**
 * Least bore of the tube at its front end, so that light for the edge of the field still gets in.
 *
 * A warm tube wants 10 to 25 mm more, for the air that rises along its wall (common practice).
 *
 * @param mirror      mm
 * @param front       of the tube's front end from the mirror's vertex, mm; 0 or more
 * @param fieldRadius half the field stop, mm; 0 or more
 * @returns mm: D + 2 x h / f
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const mirror = { aperture: 150, focalLength: 1198.3 };
 * assert.equal(tubeBore(mirror, 1170.3, 10.5).toFixed(1), "170.5");
 * ```
 */
export function tubeBore(mirror: MainMirror, front: number, fieldRadius: number): number {
  requireAbove0("tubeBore", { ...mirror });
  requireNot0Less("tubeBore", { front, fieldRadius });
  return mirror.aperture + (2 * front * fieldRadius) / mirror.focalLength;
}
