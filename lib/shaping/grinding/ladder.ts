/** The ladder of grades for one mirror: how much each takes off, how long, how much powder and water. */
import { capVolume, sagitta } from "../../optics/sphere.ts";
import { type Grade, type RangeUm, removalAfter } from "./grade.ts";
import type { GrainSize } from "./grindingLog.ts";
import { type Overhang, removalFor } from "./wearLaws.ts";

/** One rung of the ladder. */
export interface Rung {
  /** name and grain */
  readonly grade: Grade;
  /** glass to take off each disc, um: half of the former grain, or all of it */
  readonly removal: RangeUm;
  /** at 40 strokes a minute and the usual pressure, min */
  readonly minutes: RangeUm;
  /** helpings of powder and water for the lesser time, each lasting long or short */
  readonly charges: { readonly least: number; readonly most: number };
  /** g to have ready for one mirror: the most charges, and as much again for what is spilt and washed away */
  readonly grams: number;
  /** ml of water that goes on with it */
  readonly waterMl: number;
}

/** How the work is done; the defaults are the usual ones. */
export interface LadderWork {
  /** length of a stroke from end to end over the aperture; default a third */
  readonly travelShare?: number;
  /** default 40 */
  readonly strokesPerMinute?: number;
  /** glass that F80 takes off each disc, um/min; default by Preston's law with k = 4e-10 m2/N */
  readonly f80UmPerMinute?: number;
}

/** COMMON PRACTICE: each about half of the one before. */
export const usualLadder: readonly string[] = [
  "F80",
  "F120",
  "F220",
  "F320",
  "F500",
  "F800",
  "F1200",
];

/** Middle grain for which the rate is given, um. */
const f80Um = 185;
/** Glass off each disc by F80, um per metre of path: 4e-10 m2/N x 3395 Pa x 1 m. An assumption, see `wearSettings`. */
const f80UmPerMetre = 1.358122;

/**
 * Fine grinding from a rough grade down.
 *
 *     minutes = removal / (rate of F80 x grain / 185 um)
 *
 * @param grades    in the order of use, the first being the rough one, at least two, each finer than the one before
 * @param aperture  diameter of the mirror, mm, above 0
 * @throws {RangeError} where two grades are not coarse to fine, or mix loose grit with coated paper
 * @example F120 after F80 on 150 mm: half an hour
 * ```ts
 * import assert from "node:assert/strict";
 * const grades = [["F80", 185], ["F120", 109]] as const;
 * const [rung] = fineLadder(grades.map(([name, ds50Um]) => ({ name, scale: "F", ds50Um })), 150);
 * assert.equal(rung?.minutes.least.toFixed(0), "29");
 * ```
 */
export function fineLadder(
  grades: readonly Grade[],
  aperture: number,
  work: LadderWork = {},
): Rung[] {
  requireLadder(grades, aperture);
  const { travelShare = 1 / 3, strokesPerMinute = 40 } = work;
  const metres = 2 * travelShare * aperture * strokesPerMinute / 1000;
  const f80 = work.f80UmPerMinute ?? f80UmPerMetre * metres;
  if (!(f80 > 0 && f80 < Infinity)) {
    throw new RangeError(
      `fineLadder requires strokes and a rate above 0, got ${f80} um/min of F80`,
    );
  }
  return grades.slice(1).map((grade, i) => {
    const removal = removalAfter(grades[i] ?? grade);
    const rate = f80 * grade.ds50Um / f80Um;
    const minutes = { least: removal.least / rate, most: removal.most / rate };
    return { grade, removal, minutes, ...supplies(minutes.least, grade, aperture) };
  });
}

/** One helping of a grade. */
export interface Charge {
  /** of powder */
  readonly grams: number;
  /** how long it cuts, min */
  readonly life: { readonly least: number; readonly most: number };
  /** ml of water with it */
  readonly waterMl: number;
}

/**
 * One charge on a mirror of this size: 4 g of F80 on 150 mm, 1.5 g of the finest; it cuts for 3 to 6 min coarse, 5 to 10 min
 * fine.
 *
 * @param grade     only its grain is asked for
 * @param aperture  mm, above 0; a charge goes with the area
 * @see rules of thumb: common practice, an order of magnitude
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(chargeOf({ ds50Um: 185 }, 150), { grams: 4, life: { least: 3, most: 6 }, waterMl: 3 });
 * ```
 */
export function chargeOf({ ds50Um }: Pick<Grade, "ds50Um">, aperture: number): Charge {
  const area = (aperture / 150) ** 2, isCoarse = ds50Um >= 60;
  const grams = (isCoarse ? 4 : ds50Um >= 40 ? 3 : ds50Um >= 10 ? 2 : 1.5) * area;
  const life = isCoarse ? { least: 3, most: 6 } : { least: 5, most: 10 };
  return { grams, life, waterMl: 3 * area };
}

function supplies(
  minutes: number,
  grade: Pick<Grade, "ds50Um">,
  aperture: number,
): Pick<Rung, "charges" | "grams" | "waterMl"> {
  const { grams, life, waterMl } = chargeOf(grade, aperture);
  const least = Math.ceil(minutes / life.most), most = Math.ceil(minutes / life.least);
  return { charges: { least, most }, grams: 2 * most * grams, waterMl: most * waterMl };
}

/** What rough grinding takes. */
export interface RoughWork extends Pick<Rung, "charges" | "grams" | "waterMl"> {
  /** at 40 strokes a minute and the usual pressure */
  readonly minutes: number;
}

/**
 * Rough grinding of one mirror, from the minutes that it takes.
 *
 * @param minutes   of grinding, 0 or more: from a log, or from `closedWear` foreseen
 * @param grade     the rough grade
 * @param aperture  mm, above 0
 * @throws {RangeError} outside those ranges
 * @example two hours of F80 on 150 mm
 * ```ts
 * import assert from "node:assert/strict";
 * const { charges, grams } = roughWork(120, { ds50Um: 185 }, 150);
 * assert.deepEqual([charges.least, charges.most, grams], [20, 40, 320]);
 * ```
 */
export function roughWork(
  minutes: number,
  grade: Pick<Grade, "ds50Um">,
  aperture: number,
): RoughWork {
  if (!(minutes >= 0 && minutes < Infinity && aperture > 0)) {
    throw new RangeError(
      `roughWork requires minutes of 0 or more and aperture above 0 mm, got minutes=${minutes}, aperture=${aperture}`,
    );
  }
  return { minutes, ...supplies(minutes, grade, aperture) };
}

/** Powder to buy for a class, g by grade, each rounded up to the next 50 g. */
export function classQuantities(
  one: readonly { readonly name: string; readonly grams: number }[],
  mirrors: number,
): { readonly name: string; readonly grams: number }[] {
  if (!(Number.isInteger(mirrors) && mirrors > 0)) {
    throw new RangeError(`classQuantities requires a whole number of mirrors, got ${mirrors}`);
  }
  return one.map(({ name, grams }) => ({ name, grams: Math.ceil(grams * mirrors / 50) * 50 }));
}

function requireLadder(grades: readonly Grade[], aperture: number): void {
  if (!(aperture > 0 && aperture < 10000)) {
    throw new RangeError(`fineLadder requires aperture above 0 mm, got aperture=${aperture}`);
  }
  if (grades.length < 2) {
    throw new RangeError(`fineLadder requires a rough grade and a finer one, got ${grades.length}`);
  }
  grades.slice(1).forEach((grade, i) => {
    const before = grades[i] ?? grade;
    if (!(grade.ds50Um < before.ds50Um)) {
      throw new RangeError(
        `fineLadder requires grades from coarse to fine, got ${before.name} (${before.ds50Um} um) before ${grade.name} (${grade.ds50Um} um)`,
      );
    }
    if (grade.scale === "P" || before.scale === "P") {
      throw new RangeError(`fineLadder requires loose grit, got coated paper ${grade.name}`);
    }
  });
}

// What the finer grades will still add to the hollow, so that rough grinding stops short of the target.

/** How fine grinding is meant to be done. */
export interface FinePlan {
  /** grades in the order of use, the first being the rough one whose pits must go, at least one */
  readonly grades: readonly GrainSize[];
  /** share of the time with the mirror on top, 0 to 1 */
  readonly mirrorOnTop?: number;
  /** each grade's removal over the grain of the grade before it; 0.5 at least, 1 to be cautious */
  readonly removalShare?: number;
  /** mean squared distance of the centres over the disc's radius squared; 1/27 for centre strokes of a third */
  readonly overhangSquared?: number;
}

/** Strokes over the centre, a third of the diameter long: A = a / 3, and the mean of d squared is A^2 / 3. */
export const centreThird: number = 1 / 27;

/**
 * Sagitta that fine grinding adds, whatever the abrasive's rate.
 *
 *     added = 6 <d^2> / a^2  x  sum of removals  x  (share on top - share at bottom)
 *
 * @param plan  grades from the rough one on; by default 55 % of the time with the mirror on top, half of the former
 *              grain removed, centre strokes a third of the diameter long
 * @returns mm; negative where the tool is on top for longer
 * @throws {RangeError} for shares outside 0 to 1, or an overhang at which the disc tips
 * @example from F80 down to F1200, always mirror on top, all of the former grain: 89 um
 * ```ts
 * import assert from "node:assert/strict";
 * const grades = [185, 109, 58, 29.2, 12.8, 6.5, 3].map((sizeUm) => ({ name: "F", sizeUm }));
 * const added = fineAllowance({ grades, mirrorOnTop: 1, removalShare: 1 });
 * assert.equal(added.toFixed(4), "0.0890");
 * ```
 */
export function fineAllowance(plan: FinePlan): number {
  const { grades, mirrorOnTop = 0.55, removalShare = 0.5, overhangSquared = centreThird } = plan;
  const inRange = (v: number, least: number, most: number): boolean => v >= least && v <= most;
  if (
    !inRange(mirrorOnTop, 0, 1) || !inRange(removalShare, 0, 2) || !inRange(overhangSquared, 0, 1)
  ) {
    throw new RangeError(
      `fineAllowance requires mirrorOnTop 0 to 1, removalShare 0 to 2, overhangSquared 0 to 1, got ${mirrorOnTop}, ${removalShare}, ${overhangSquared}`,
    );
  }
  if (!grades.every(({ sizeUm }) => sizeUm > 0 && Number.isFinite(sizeUm))) {
    throw new RangeError("fineAllowance requires grades with grains above 0 um");
  }
  const removal = grades.slice(0, -1).reduce((sum, { sizeUm }) => sum + sizeUm, 0) / 1000;
  return 6 * overhangSquared * removalShare * removal * (2 * mirrorOnTop - 1);
}

// Glass that must go to make the hollow.

/** The glass between a flat disc and the hollow. */
export interface GlassToRemove {
  /** depth at the centre, mm */
  readonly sagitta: number;
  /** of the hollow alone, mm3 */
  readonly volume: number;
  /** of the hollow alone, g */
  readonly grams: number;
  /** taken off each disc on average by the given strokes, mm; the hollow's own mean depth is about half the sagitta */
  readonly meanRemoval: number;
  /** of all the glass taken off one disc, mm3 */
  readonly wornVolume: number;
}

/**
 * Glass to remove for a curve, the hollow alone and what the strokes really take.
 *
 * @param aperture            mm, above 0
 * @param radius              of curvature, mm
 * @param overhang            of the rough strokes, see `chordRoutine`
 * @param densityKgPerM3      of the glass, above 0; soda-lime 2500
 * @throws {RangeError} outside the ranges of `sagitta` and `removalFor`
 * @example 150 mm f/8: 26 g of hollow
 * ```ts
 * import assert from "node:assert/strict";
 * const glass = glassToRemove(150, 2400, { offset: 37.5, travel: 50 }, 2510);
 * assert.equal(glass.grams.toFixed(1), "26.0");
 * assert.equal((glass.wornVolume / 1000).toFixed(2), "12.03");
 * ```
 */
export function glassToRemove(
  aperture: number,
  radius: number,
  overhang: Overhang,
  densityKgPerM3 = 2500,
): GlassToRemove {
  if (!(densityKgPerM3 > 0 && densityKgPerM3 < 20000)) {
    throw new RangeError(
      `glassToRemove requires a density above 0 kg/m3, got densityKgPerM3=${densityKgPerM3}`,
    );
  }
  const depth = sagitta(aperture, radius), volume = capVolume(aperture, radius);
  const meanRemoval = removalFor(depth, aperture, overhang);
  return {
    sagitta: depth,
    volume,
    grams: volume * densityKgPerM3 / 1e6,
    meanRemoval,
    wornVolume: meanRemoval * Math.PI * aperture * aperture / 4,
  };
}
