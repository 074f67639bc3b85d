/** The surface seen from above in the terms that optical engineers exchange. */
import { note, readingsTable, type TableRow } from "../figures/blocks.ts";
import { fixed } from "../figures/scale.ts";
import { heightFromAbove } from "../figures/drawings/surfaceFromAbove.ts";
import type { Shown } from "../figures/show.ts";
import type { Mirror } from "../knowledge/open.ts";
import { wholeDisc, zernike, zernikeSurface, type ZernikeTerm } from "../optics/zernike.ts";
import { type Measured, measured } from "../quantity/measured.ts";
import type { ZoneFigure } from "../testing/zones/zones.ts";
import { ownOrDemo, type Part } from "./base.ts";
import { fromAbove, reducedDays } from "./zones.ts";

/** Highest degree that is fitted. */
const DEGREE = 6;
/** The standard counts angles from the right, the drawing from the mark at the top. */
const FROM_MARK = -Math.PI / 2;

/** One term of a surface; without a coefficient where the test is blind to it. */
export interface ToldTerm extends ZernikeTerm {
  readonly name: string;
  /** nm of glass: RMS over the disc; its `u` is left out where it is not known */
  readonly coefficient?: Measured | number;
  readonly said?: string;
}

/** A surface by the zone test in terms of ISO 24157, x to the right and y to the mark, seen from the tester. */
export interface ToldTerms {
  readonly terms: readonly ToldTerm[];
  /** RMS of glass that the terms up to degree six leave, nm */
  readonly leftRms: number;
}

/**
 * The terms of a surface, and what is known of each.
 *
 * A term that goes round the mirror is linear in the two components of the astigmatism, which are equally sure. A ring term is
 * a sum over the profile: its u is the largest that the profile's own can come to, were all its points off together.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const profile = [0, 30, 60].map((radius) => ({ radius, surfaceError: radius / 10, u: 1 }));
 * const { terms } = zernikeOf({ profile, scope: "one diameter" });
 * assert.equal(terms.find(({ name }) => name === "oblique astigmatism")?.said, "not read");
 * ```
 */
export function zernikeOf(
  { profile, astigmatism, scope }: Pick<ZoneFigure, "profile" | "astigmatism" | "scope">,
): ToldTerms {
  const height = heightFromAbove({
    profile: profile.map(({ radius, surfaceError }) => ({ radius, height: surfaceError })),
    ...(astigmatism === undefined ? {} : { astigmatism }),
  });
  const { coefficient, leftRms } = zernikeSurface(
    ({ rho, theta }) => height(rho, theta + FROM_MARK),
    DEGREE,
  );
  const doubt = heightFromAbove({
    profile: profile.map(({ radius, u }) => ({ radius, height: u })),
  });
  const { places, weights } = wholeDisc(1);
  const ring = (n: number, name: string): ToldTerm => {
    const term = { n, m: 0 };
    const u = places.reduce(
      (sum, { rho }, i) =>
        sum + (weights[i] ?? 0) * Math.abs(zernike(term, rho, 0)) * doubt(rho, 0),
      0,
    );
    return { ...term, name, coefficient: measured(coefficient(term), u, "nm") };
  };
  const twofold = (m: number, name: string): ToldTerm => {
    const term = { n: 2, m };
    if (astigmatism === undefined) return { ...term, name, said: "not read" };
    const value = coefficient(term);
    // DERIVED: A rho^2 cos 2(angle) is A / sqrt 6 of a term whose RMS is 1
    const u = astigmatism.amplitude.u / Math.sqrt(6);
    return {
      ...term,
      name,
      coefficient: scope === "whole surface" ? measured(value, u, "nm") : value,
    };
  };
  const blind = (n: number, m: number, name: string): ToldTerm => ({
    n,
    m,
    name,
    said: "not seen",
  });
  return {
    terms: [
      { n: 2, m: 0, name: "defocus", said: "taken out" },
      twofold(-2, "oblique astigmatism"),
      twofold(2, "astigmatism, 0° and 90°"),
      blind(3, -1, "vertical coma"),
      blind(3, 1, "horizontal coma"),
      blind(3, -3, "vertical trefoil"),
      blind(3, 3, "oblique trefoil"),
      ring(4, "spherical"),
      ring(6, "secondary spherical"),
    ],
    leftRms,
  };
}

function rowOf({ n, m, name, coefficient, said = "" }: ToldTerm): TableRow {
  const cell = typeof coefficient === "number"
    ? `${fixed(coefficient, 1)}, u not known`
    : coefficient;
  return { cells: [name, `Z(${n}, ${m < 0 ? `−${-m}` : m})`, cell ?? said] };
}

const part: Part = {
  name: "the surface in Zernike’s terms",
  noun: "diameter",
  count: (mirror) => reducedDays(mirror).at(-1)?.found.diameters ?? 0,
  show: (mirror, whose) => {
    const last = reducedDays(mirror).at(-1);
    if (last === undefined) return [];
    const { terms, leftRms } = zernikeOf(last.found);
    return [
      ...fromAbove(last, mirror, whose),
      readingsTable(
        "The surface in Zernike’s terms, for engineers",
        [
          { title: "Term", text: true },
          { title: "Z(n, m)", text: true },
          { title: "Coefficient, glass", unit: "nm", text: true },
        ],
        terms.map(rowOf),
      ),
      note(
        `Order, sign and norm of ISO 24157. A coefficient is the RMS of its term over the clear disc; + is high glass. Seen from the tester, x is to the right and y toward the mark. All terms up to degree ${DEGREE} leave ${
          fixed(leftRms, 1)
        } nm RMS of this surface.`,
      ),
      note(
        `Coma and trefoil are not seen, for both openings of a zone are read together; astigmatism is read along more than one diameter only. Defocus is taken out with the choice of the best focus. For the spherical terms the ± is an upper bound.`,
      ),
    ];
  },
  how: "It needs zone readings: three runs or more, in zones.csv.",
};

/** The latest surface in Zernike's terms, for engineers; the demo's where the reader has no zone readings. */
export function yourZernikeTerms(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(part, yours, demo);
}
