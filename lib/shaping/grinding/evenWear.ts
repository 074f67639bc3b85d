/**
 * Grinding with perfect turning: both discs stay figures of revolution, so one radius of each is enough.
 *
 * Fast enough to follow a slider. It knows no astigmatism and no trefoil; what remains of the shape reads too smooth, the
 * sagitta is right to a percent.
 */
import { DiscProfile } from "./discProfile.ts";
import { contactsOf, wearAt } from "./evenContact.ts";
import type { Overhang } from "./wearLaws.ts";
import type { WearSettings } from "./wearSettings.ts";

export interface EvenDetail {
  /** default 20 */
  readonly rings?: number;
  /** directions in each half ring, at Gauss's nodes; default 8 */
  readonly directions?: number;
  /** places on half of the stroke; default 3 */
  readonly places?: number;
  /** longest step, as the share of a misfit that it wears away; below 2; default 0.9 */
  readonly step?: number;
}

/** Shapes after some strokes, of discs that began flat. */
export interface EvenWorn {
  /** mm, + is hollow, of the best sphere */
  readonly upperSagitta: number;
  readonly lowerSagitta: number;
  /** strokes and sagittas on the way, mm */
  readonly course: readonly {
    readonly strokes: number;
    readonly upperSagitta: number;
    readonly lowerSagitta: number;
  }[];
  /** heights above the best sphere, um, ring after ring from the centre */
  readonly upperZones: readonly { readonly radius: number; readonly heightUm: number }[];
  readonly lowerZones: readonly { readonly radius: number; readonly heightUm: number }[];
}

/**
 * Wears two flat discs with perfectly even turning.
 *
 * @param settings  discs, force, grain
 * @param overhang  offset and travel of the strokes, mm; travel above 0
 * @param strokes   forward and back, 0 or more
 * @throws {RangeError} for strokes longer than the disc, an overhang at which the upper disc tips, strokes below 0
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { wearSettings } from "./wearSettings.ts";
 * const worn = wearEvenly(wearSettings(150), { offset: 37.5, travel: 50 }, 2400);
 * assert.ok(worn.upperSagitta > 0.55 && worn.lowerSagitta < -0.53);
 * ```
 */
export function wearEvenly(
  settings: WearSettings,
  overhang: Overhang,
  strokes: number,
  detail: EvenDetail = {},
): EvenWorn {
  const { rings = 20, directions = 8, places = 3, step = 0.9 } = detail;
  requireWork(settings, overhang, strokes);
  const { upperWear, lowerWear, stiffness } = settings;
  const mating = (upperWear + lowerWear) * stiffness * 2 * overhang.travel * strokes;
  const steps = Math.max(strokes > 0 ? 1 : 0, Math.ceil(mating / step));
  const upper = new DiscProfile(settings.upperRadius, rings);
  const lower = new DiscProfile(settings.lowerRadius, rings);
  const contacts = contactsOf(settings, overhang, upper, lower, directions, places);
  const scale = steps > 0 ? 2 * overhang.travel * strokes / steps : 0;
  const course: { strokes: number; upperSagitta: number; lowerSagitta: number }[] = [];
  let curve = 0;
  for (let i = 1; i <= steps; i++) {
    for (const contact of contacts) wearAt(contact, settings, upper, lower, scale);
    upper.apply();
    lower.apply();
    const common = (upper.curvature() - lower.curvature()) / 2;
    upper.add(-common);
    lower.add(common);
    curve += common;
    course.push({
      strokes: strokes * i / steps,
      upperSagitta: (curve + upper.curvature()) * upper.radius ** 2,
      lowerSagitta: (lower.curvature() - curve) * lower.radius ** 2,
    });
  }
  const last = course[course.length - 1] ?? { upperSagitta: 0, lowerSagitta: 0 };
  return {
    upperSagitta: last.upperSagitta,
    lowerSagitta: last.lowerSagitta,
    course,
    upperZones: upper.zones(),
    lowerZones: lower.zones(),
  };
}

function requireWork(
  { lowerRadius, lean }: WearSettings,
  { offset, travel }: Overhang,
  strokes: number,
): void {
  if (!(strokes >= 0 && strokes < Infinity && travel > 0 && offset >= 0)) {
    throw new RangeError(
      `wearEvenly requires strokes and offset of 0 or more and travel above 0, got strokes=${strokes}, offset=${offset}, travel=${travel}`,
    );
  }
  if (travel > 2 * lowerRadius) {
    throw new RangeError(
      `wearEvenly requires a travel no longer than the lower disc in mm, got ${travel} on ${
        2 * lowerRadius
      }`,
    );
  }
  if (!(Math.hypot(travel / 2, offset + lean[1]) < lowerRadius)) {
    throw new RangeError(
      `wearEvenly requires the upper disc's centre to stay over the lower disc, got offset=${offset}, travel=${travel} at which it tips`,
    );
  }
}
