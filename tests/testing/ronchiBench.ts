import type { RonchiSetting, RonchiSetUp } from "../../lib/testing/bands/ronchi.ts";

/** A mirror before a grating of 4 lines in each mm. */
export const bench = (
  aperture: number,
  radius: number,
  conic: number,
  offset: number,
  setUp: RonchiSetUp = "same grating",
): RonchiSetting => ({
  surface: { radius, conic },
  half: aperture / 2,
  setUp,
  linesPerMm: 4,
  offset,
});
