/** Two discs, the grain between them and the hand above: what the wear models need to know. */
import type { GrainSize } from "./grindingLog.ts";

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
