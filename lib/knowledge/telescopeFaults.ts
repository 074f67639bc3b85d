/** What in a telescope part cannot be built, in the maker's own words, before anything is worked out. */
import { flatToFocus } from "../telescope/layout.ts";
import type { Telescope } from "../record/types.ts";

/** Parts that a fault keeps from being worked out. */
export type Faulty = "layout" | "screws" | "balance";

const mm = (value: number): string => `${Number(value.toFixed(1))} mm`;

function layoutFault(
  { tube, focuser, fullyLitField = 0, flats = [] }: Telescope,
  mirror: { readonly aperture: number; readonly focalLength: number },
): string | undefined {
  if (tube === undefined || focuser === undefined) return undefined;
  const out = flatToFocus({ ...tube, ...focuser }), { aperture, focalLength } = mirror;
  if (out >= focalLength) {
    return `the focuser cannot reach the focus: from the middle of the tube to its end are ${
      mm(out)
    }, the focal length is ${mm(focalLength)}; take a lower focuser or a narrower tube`;
  }
  if (fullyLitField >= aperture) {
    return `fully_lit_field is ${mm(fullyLitField)}, as wide as the mirror of ${
      mm(aperture)
    }: write the width of the field in the eyepiece, some 5 to 20 mm`;
  }
  const wide = flats.find((flat) => flat >= aperture);
  return wide === undefined
    ? undefined
    : `a flat of ${mm(wide)} would cover the mirror of ${
      mm(aperture)
    }: flats holds minor axes in mm`;
}

function screwsFault({ screws }: Telescope): string | undefined {
  if (screws === undefined) return undefined;
  const places = screws.angles.map((angle) => Math.round((angle * 180) / Math.PI) % 360);
  const turned = new Set(places.map((place) => (place + 360) % 360));
  return turned.size === 3
    ? undefined
    : `two screws stand at one angle (${
      places.join("°, ")
    }°): two cannot point a mirror; write the three angles as they are`;
}

function balanceFault({ parts = [] }: Telescope): string | undefined {
  const weightless = parts.length > 0 && parts.every(({ mass }) => mass === 0);
  return weightless ? "no part has any mass: weigh them and write kg or g" : undefined;
}

/**
 * Faults of a telescope part, each with what it keeps from being worked out.
 *
 * @param telescope  as written
 * @param mirror     aperture and focal length, mm
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const parts = [{ name: "tube", mass: 0, at: 0 }];
 * const [[part, sentence] = []] = telescopeFaults({ parts }, { aperture: 150, focalLength: 1200 });
 * assert.deepEqual([part, sentence], ["balance", "no part has any mass: weigh them and write kg or g"]);
 * ```
 */
export function telescopeFaults(
  telescope: Telescope,
  mirror: { readonly aperture: number; readonly focalLength: number },
): readonly (readonly [part: Faulty, sentence: string])[] {
  const found = [
    ["layout", layoutFault(telescope, mirror)],
    ["screws", screwsFault(telescope)],
    ["balance", balanceFault(telescope)],
  ] as const;
  return found.flatMap(([part, sentence]) => sentence === undefined ? [] : [[part, sentence]]);
}
