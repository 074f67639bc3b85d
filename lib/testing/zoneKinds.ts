/**
 * What hidden glass may be like, before any reading: kinds of random wiggle on the model's columns, each of many sizes.
 *
 * Two sorts: waves over the whole mirror, which forget themselves over a length of q, and patches, where a part of the
 * mirror was worked by itself. A mirror with a turned edge or a ring so needs no large waves elsewhere to be explained.
 */
import { wiggle, type ZoneModel } from "./zoneModel.ts";
import { PATCH_TERMS, PATCHES } from "./zonePatches.ts";

/** One kind of wiggle. */
export interface Kind {
  /** first of the model's columns that it uses */
  readonly from: number;
  /** standard deviations of those columns for unit size */
  readonly deviations: Float64Array;
  /** nm, evenly by ratio; beforehand a size has the density exp(-size / usual) */
  readonly sizes: readonly number[];
  readonly usual: number;
  /** of belief, beforehand */
  readonly share: number;
}

/** How far along q waves remember themselves; all alike likely beforehand. */
const LENGTHS = [0.2, 0.4, 0.8];
/** Of waves: nm of wavefront that their dL would make if it held over the whole mirror. */
const USUAL_WAVES = 550;
const WAVE_SIZES = sizesAbout(USUAL_WAVES, 0.02, 8, 8);
/** Of patches: nm of wavefront, height in the middle. */
const USUAL_PATCH = 50;
const PATCH_SIZES = sizesAbout(USUAL_PATCH, 0.05, 4, 7);
/** Patches have so much of the belief beforehand, each alike. */
const PATCHES_SHARE = 2 / 3;

/**
 * All kinds: one for each length, one for each patch.
 *
 * @param model  from `zoneModel`
 * @example their shares add up to 1
 * ```ts
 * import assert from "node:assert/strict";
 * import { zoneModel } from "./zoneModel.ts";
 * const zones = [{ inner: 0, outer: 50 }, { inner: 50, outer: 75 }];
 * const model = zoneModel(zones, { half: 75, radius: 2400, source: "moves", openings: "bands" });
 * const share = kindsOfWiggle(model).reduce((sum, kind) => sum + kind.share, 0);
 * assert.equal(share.toFixed(12), "1.000000000000");
 * ```
 */
export function kindsOfWiggle({ frequencies }: ZoneModel): Kind[] {
  const waves = LENGTHS.map((length): Kind => ({
    from: 2,
    deviations: wiggle(frequencies, length),
    sizes: WAVE_SIZES,
    usual: USUAL_WAVES,
    share: (1 - PATCHES_SHARE) / LENGTHS.length,
  }));
  const patches = PATCHES.map((_, i): Kind => ({
    from: 2 + frequencies.length + i * PATCH_TERMS,
    deviations: new Float64Array(PATCH_TERMS).fill(1),
    sizes: PATCH_SIZES,
    usual: USUAL_PATCH,
    share: PATCHES_SHARE / PATCHES.length,
  }));
  return [...waves, ...patches];
}

function sizesAbout(usual: number, from: number, to: number, count: number): number[] {
  return Array.from(
    { length: count },
    (_, i) => usual * from * (to / from) ** (i / (count - 1)),
  );
}
