/** Designs a zone mask: how many openings, where, and what a perfect mirror reads through each. */
import { knifePosition, type Source } from "../../optics/conic.ts";
import { bandHalfHeight, SECTOR_HALF_ANGLE } from "./maskWindows.ts";
import { effectiveRadius, narrower, type Opening, type OpeningShape, WIDEST } from "./openings.ts";

/** What a mask is wanted for. */
export interface MaskWish {
  /** clear aperture (less the bevel on both sides), mm */
  readonly aperture: number;
  /** radius of curvature, mm */
  readonly radius: number;
  /** whether the lamp moves with the knife */
  readonly source: Source;
  /** bands of one height, or sectors of one angle */
  readonly openings: OpeningShape;
  /** wanted, of equal areas; default as many as keep the outer window 7 mm wide, 4 to 8, the wide inner ones divided */
  readonly zones?: number;
  /** how far the mask stands before the rim, mm; default 0 */
  readonly standOff?: number;
}

/** One opening of the mask, with its ideal reading. */
export interface MaskZone extends Opening {
  /** edges to cut in the card, mm from the middle; smaller than those on the glass when the mask stands off */
  readonly cutInner: number;
  /** outer edge to cut in the card, mm from the middle */
  readonly cutOuter: number;
  /** where a reading through the opening belongs, mm from the middle */
  readonly effectiveRadius: number;
  /** reading of a paraboloid from the paraxial centre of curvature, mm */
  readonly ideal: number;
}

/** A mask to cut, and what its readings should be. */
export interface MaskDesign {
  /** from the middle outward */
  readonly zones: readonly MaskZone[];
  /** half the height of each band, or half the angle of each sector, rad: neighbours must not see one another */
  readonly halfHeight?: number;
  /** half the angle of each sector, rad */
  readonly halfAngle?: number;
  /** ideal reading of the last zone less that of the first, mm */
  readonly spread: number;
}

/** Narrowest useful window at the edge, mm: below it the knife's own diffraction blurs the balance (COMMON PRACTICE). */
const NARROWEST_WINDOW = 7;

/** Openings of a small mirror are divided from this width on, mm, so that none gets too narrow to read (COMMON PRACTICE). */
const DIVIDED_FROM = 9.5;

/**
 * Openings of equal area, so that each step from zone to zone changes the ideal reading by the same amount and each zone
 * weighs alike in the result; but none so wide that a ring of a lap's breadth could hide in it, which would forbid any yes.
 *
 *     edges  r_i = a sqrt(i / n),  wide openings divided (`narrower`),  rounded to half a millimetre
 *
 * @param wish  the mirror, the tester, and how many zones
 * @returns openings from the middle outward
 * @throws {RangeError} where lengths are out of order or zones is not a whole number from 2 to 12
 * @example a 150 mm f/8 mirror, bevel 1 mm
 * ```ts
 * import assert from "node:assert/strict";
 * const mask = designMask({ aperture: 148, radius: 2400, source: "moves", openings: "bands" });
 * assert.deepEqual(mask.zones.map((z) => z.outer), [11, 22, 33, 40, 47, 57.5, 66, 74]);
 * ```
 */
export function designMask(wish: MaskWish): MaskDesign {
  const { aperture, radius, source, openings, standOff = 0 } = wish, half = aperture / 2;
  const count = wish.zones ?? Math.min(8, Math.max(4, Math.floor(half / (2 * NARROWEST_WINDOW))));
  if (
    !(half > 0 && radius > aperture && standOff >= 0 && standOff < radius &&
      Number.isInteger(count) && count >= 2 && count <= 12)
  ) {
    throw new RangeError(
      `designMask requires aperture above 0, radius > aperture, 0 <= standOff < radius in mm and 2 to 12 whole zones, ` +
        `got aperture=${aperture}, radius=${radius}, standOff=${standOff}, zones=${count}`,
    );
  }
  const edge = (i: number): number =>
    i === count ? half : Math.round(2 * half * Math.sqrt(i / count)) / 2;
  const even = Array.from(
    { length: count },
    (_, i): Opening => ({ inner: edge(i), outer: edge(i + 1) }),
  );
  const cut = (r: number): number => (r * (radius - standOff)) / radius;
  const cuts = wish.zones === undefined
    ? narrower(even, half, Math.max(WIDEST, DIVIDED_FROM / half))
    : even;
  const zones = cuts.map((opening): MaskZone => {
    const r = effectiveRadius(opening, openings);
    return {
      ...opening,
      cutInner: cut(opening.inner),
      cutOuter: cut(opening.outer),
      effectiveRadius: r,
      ideal: knifePosition(r, { radius, conic: -1 }, source),
    };
  });
  const spread = (zones.at(-1)?.ideal ?? 0) - (zones[0]?.ideal ?? 0);
  if (openings === "sectors") return { zones, spread, halfAngle: SECTOR_HALF_ANGLE };
  const card = zones.map(({ cutInner, cutOuter }) => ({ inner: cutInner, outer: cutOuter }));
  return { zones, spread, halfHeight: bandHalfHeight(card, aperture) };
}

/** One window as a closed line of points, mm, the axis at (0, 0), ready to draw to scale. */
export type Outline = readonly (readonly [number, number])[];

/**
 * Both windows of a zone, left and right of the axis, as outlines.
 *
 * @param zone    of a design; the cut edges are drawn
 * @param design  gives the height or angle
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const mask = designMask({ aperture: 148, radius: 2400, source: "moves", openings: "bands" });
 * const [left, right] = mask.zones.slice(-1).flatMap((zone) => windowOutlines(zone, mask));
 * assert.ok(left?.every(([x]) => x < 0) && right?.every(([x]) => x > 0));
 * ```
 */
export function windowOutlines(zone: MaskZone, design: MaskDesign): readonly [Outline, Outline] {
  const right = [...arc(zone.cutOuter, design, 1), ...arc(zone.cutInner, design, -1)];
  return [right.map(([x, y]) => [-x, y] as const), right];
}

/** Points along one edge of the window, upward or downward; bands cut the circle at a height, sectors at an angle. */
function arc(
  r: number,
  { halfHeight, halfAngle }: MaskDesign,
  way: 1 | -1,
): (readonly [number, number])[] {
  const reach = halfAngle ?? Math.asin(Math.min(1, (halfHeight ?? 0) / Math.max(r, 1e-9)));
  return Array.from({ length: 17 }, (_, i) => {
    const angle = way * reach * (i / 8 - 1);
    return [r * Math.cos(angle), r * Math.sin(angle)] as const;
  });
}
