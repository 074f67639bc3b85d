/** The pencil test: how far two discs that do not fit touch, and how small a misfit it can show. */
import { wearSettings } from "./wearSettings.ts";

/** What a grid of pencil lines will show. */
export interface PencilTest {
  /** how far contact reaches, as a share of the radius, 0 to 1; from the centre for a mirror too flat, else from the edge */
  readonly reach: number;
  /** sagitta misfit below which the lines go everywhere, um */
  readonly showsUm: number;
}

/**
 * Contact of two discs whose curves differ, with the grains of a grade between them.
 *
 * The grains give by delta = pressure / stiffness. Two shallow curves that differ by s in sagitta touch all over while
 * s <= 2 delta; beyond, contact is a disc of radius share (2 delta / s)^(1/4).
 *
 * @param misfitUm  difference of the sagittas, um, either way
 * @param grain     grade in use
 * @param aperture  mm
 * @throws {RangeError} for a misfit that is not finite
 * @see force balance on an elastic layer, pressure = stiffness x (squeeze - s rho^2): derived for this kit
 * @example F500 shows a misfit of 1.4 um, F80 only one of 20
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(pencilTest(0, { sizeUm: 12.8 }).showsUm.toFixed(1), "1.4");
 * assert.equal(pencilTest(0, { sizeUm: 185 }).showsUm.toFixed(0), "20");
 * assert.equal(pencilTest(22, { sizeUm: 12.8 }).reach.toFixed(2), "0.50");
 * ```
 */
export function pencilTest(
  misfitUm: number,
  grain: { readonly sizeUm: number },
  aperture = 150,
): PencilTest {
  if (!Number.isFinite(misfitUm)) {
    throw new RangeError(`pencilTest requires a finite misfit in um, got misfitUm=${misfitUm}`);
  }
  const { force, stiffness, upperRadius } = wearSettings(aperture, grain);
  const give = force / (Math.PI * upperRadius ** 2) / stiffness * 1000;
  const showsUm = 2 * give;
  return { showsUm, reach: Math.min(1, (showsUm / Math.max(Math.abs(misfitUm), 1e-12)) ** 0.25) };
}
