/**
 * What wear does to two discs, in closed form: no pressure law is needed, only balance and equal wear on both.
 *
 * The upper disc hangs over, so its middle and the lower one's rim carry the load. The farther it hangs over, squared, the
 * faster the upper disc hollows and the lower one bulges.
 */
import type { GrainSize } from "./grindingLog.ts";

/** Where the upper disc's centre goes, mm: past the lower's at `offset`, `travel` from end to end. */
export interface Overhang {
  /** how far beside the lower disc's centre, mm */
  readonly offset: number;
  /** length of the stroke from end to end, mm */
  readonly travel: number;
}

/**
 * Mean squared distance of the two centres along the stroke, offset^2 + (travel/2)^2 / 3, in mm2.
 *
 * @throws {RangeError} where one of the numbers is below 0 or not finite
 * @example quarter of 150 mm to the side, a third long
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal((overhangSquared({ offset: 37.5, travel: 50 }) / 75 ** 2).toFixed(6), "0.287037");
 * ```
 */
export function overhangSquared({ offset, travel }: Overhang): number {
  if (!(offset >= 0 && travel >= 0 && offset + travel < Infinity)) {
    throw new RangeError(
      `overhangSquared requires offset and travel of 0 or more in mm, got offset=${offset}, travel=${travel}`,
    );
  }
  return offset * offset + travel * travel / 12;
}

/** Wear after so many strokes, heights in mm. */
export interface ClosedWear {
  /** taken off the upper and the lower disc on average */
  readonly upperRemoval: number;
  /** of the lower disc */
  readonly lowerRemoval: number;
  /** change of the sagitta, + is more hollow */
  readonly upperSagitta: number;
  /** of the lower disc */
  readonly lowerSagitta: number;
}

/**
 * Wear of two discs that have come to fit one another.
 *
 *     removal = wear x F L / (pi a^2)
 *     B = 12 F L (<d^2> + 2 q.d + (a_U^2 - a_L^2) / 2) / (pi (a_L^6 / k_L + a_U^6 / k_U)),  sagitta = B a_U^2, - B a_L^2
 *
 * For two equal discs this is 6 x removal x <d^2> / a^2. Leaning the hand by q toward the overhang adds 2 q.d.
 *
 * @param settings  discs, force, coefficients
 * @param overhang  offset and travel, mm
 * @param strokes   forward and back, 0 or more
 * @throws {RangeError} for strokes below 0, or an overhang as in `overhangSquared`
 * @see balance of forces and moments, Preston's law: derived for this kit, checked by its own wear engine
 * @example two hours of the usual rough strokes on 150 mm: 1.12 mm
 * ```ts
 * import assert from "node:assert/strict";
 * import { wearSettings } from "./wearLaws.ts";
 * const wear = closedWear(wearSettings(150), { offset: 37.5, travel: 50 }, 4800);
 * assert.equal(wear.upperSagitta.toFixed(6), "1.122714");
 * ```
 */
export function closedWear(
  settings: WearSettings,
  overhang: Overhang,
  strokes: number,
): ClosedWear {
  if (!(strokes >= 0 && strokes < Infinity)) {
    throw new RangeError(`closedWear requires strokes of 0 or more, got strokes=${strokes}`);
  }
  const { force, lean, upperRadius, lowerRadius, upperWear, lowerWear } = settings;
  const push = force * strokes * 2 * overhang.travel;
  const squared = overhangSquared(overhang) + 2 * lean[1] * overhang.offset +
    (upperRadius ** 2 - lowerRadius ** 2) / 2;
  const stiff = lowerRadius ** 6 / lowerWear + upperRadius ** 6 / upperWear;
  const bend = 12 * push * squared / (Math.PI * stiff);
  return {
    upperRemoval: upperWear * push / (Math.PI * upperRadius ** 2),
    lowerRemoval: lowerWear * push / (Math.PI * lowerRadius ** 2),
    upperSagitta: bend * upperRadius ** 2,
    lowerSagitta: -bend * lowerRadius ** 2,
  };
}

/**
 * Greatest mean squared overhang at which two equal discs stay spheres, a^2 / 3, in mm2.
 *
 * Beyond it wear would have to be below nothing at the upper disc's edge and the lower one's centre.
 *
 * @param aperture  diameter, mm, above 0
 * @example in the usual rough work 86 % of it is used
 * ```ts
 * import assert from "node:assert/strict";
 * const used = overhangSquared({ offset: 37.5, travel: 50 }) / sphereLimit(150);
 * assert.equal(used.toFixed(2), "0.86");
 * ```
 */
export function sphereLimit(aperture: number): number {
  if (!(aperture > 0)) {
    throw new RangeError(`sphereLimit requires aperture above 0, got ${aperture}`);
  }
  return aperture * aperture / 12;
}

/**
 * Glass to take off each disc on average for a given sagitta, mm: sagitta a^2 / (6 <d^2>).
 *
 * @param sagitta   mm, 0 or more
 * @param aperture  mm, above 0
 * @throws {RangeError} for strokes over the centre of no length: they never hollow
 * @example centre strokes a third long would eat 5 mm of both discs
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(removalFor(1.172161, 150, { offset: 0, travel: 50 }).toFixed(2), "5.27");
 * ```
 */
export function removalFor(sagitta: number, aperture: number, overhang: Overhang): number {
  const squared = overhangSquared(overhang);
  if (!(sagitta >= 0 && aperture > 0 && squared > 0)) {
    throw new RangeError(
      `removalFor requires sagitta of 0 or more, aperture and overhang above 0 in mm, got sagitta=${sagitta}, aperture=${aperture}`,
    );
  }
  return sagitta * (aperture / 2) ** 2 / (6 * squared);
}

// Two discs, the grain between them and the hand above: what the wear models need to know.

/** Two discs, the load on them, and how they wear. */
export interface WearSettings {
  /** radius of the upper disc, mm */
  readonly upperRadius: number;
  /** radius of the lower disc, mm */
  readonly lowerRadius: number;
  /** weight of the upper disc and push of the hands, N */
  readonly force: number;
  /** Preston's coefficient of the upper disc: depth worn = coefficient x pressure x path, mm2/N */
  readonly upperWear: number;
  /** the same of the lower disc, mm2/N */
  readonly lowerWear: number;
  /** pressure that the layer of grains carries for each mm it is squeezed, N/mm3 */
  readonly stiffness: number;
  /** the hand leans this far off the upper disc's centre, mm: along the stroke, and toward the overhang */
  readonly lean: readonly [along: number, overhang: number];
  /**
   * How the load is shared over the overlap. `elastic layer`: by the grains squeezed between the two shapes, the upper
   * disc tilting until it balances. `flat discs`: the same, as if both stayed flat. `even`: everywhere alike, nothing
   * balanced. The last two are there to show that they fail.
   */
  readonly pressure: "elastic layer" | "flat discs" | "even";
}

/** Middle grain of F80, um, for which the coefficients below are chosen. */
const f80Um = 185;

/**
 * Settings for two discs of one size in a given grade, anything of them changed at will.
 *
 * Chosen so that F80 hollows a 150 mm f/8 in about two hours under 60 N; an assumption, to be set right by one's own log.
 * Wear and the layer's give both go with the grain. Force grows with the disc's area, so that the pressure stays.
 *
 * @param aperture  diameter of both discs, mm, above 0
 * @param grain     the grade, default F80
 * @param changes   settings that differ
 * @throws {RangeError} where one of the numbers is not above 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(wearSettings(150).force, 60);
 * assert.equal(wearSettings(150, { sizeUm: 29.2 }).upperWear.toExponential(2), "6.31e-5");
 * ```
 */
export function wearSettings(
  aperture: number,
  grain: Pick<GrainSize, "sizeUm"> = { sizeUm: f80Um },
  changes: Partial<WearSettings> = {},
): WearSettings {
  const share = grain.sizeUm / f80Um;
  return requireSettings({
    upperRadius: aperture / 2,
    lowerRadius: aperture / 2,
    force: 60 * (aperture / 150) ** 2,
    upperWear: 4e-4 * share,
    lowerWear: 4e-4 * share,
    stiffness: 0.34 / share,
    lean: [0, 0],
    pressure: "elastic layer",
    ...changes,
  });
}

function requireSettings(settings: WearSettings): WearSettings {
  const positive = ["upperRadius", "lowerRadius", "force", "upperWear", "lowerWear", "stiffness"];
  for (const [name, value] of Object.entries(settings)) {
    if (positive.includes(name) && !(value > 0 && value < Infinity)) {
      throw new RangeError(`wearSettings requires ${name} above 0, got ${name}=${value}`);
    }
  }
  if (!settings.lean.every(Number.isFinite)) {
    throw new RangeError(`wearSettings requires a finite lean in mm, got lean=${settings.lean}`);
  }
  return settings;
}
