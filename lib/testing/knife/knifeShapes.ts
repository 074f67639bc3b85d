/** Shapes of the glass that knife-edge photographs are fitted by. */
import { zernike, type ZernikeTerm } from "../../optics/zernike.ts";
import { LOW_TERMS } from "../surfaceTerms.ts";

/** A shape over the unit disc, and how much of it a mirror is likely to have. */
export interface KnifeShape {
  /** absent for the edge */
  readonly term?: ZernikeTerm;
  /** for the edge: how fast it goes, in radii */
  readonly width?: number;
  /** COMMON PRACTICE: amount that a mirror worked by hand has, nm of glass: RMS of a term, height of the edge at the rim */
  readonly usual: number;
}

/** Highest degree of all terms; of those that go round. */
const DEGREE = 8, ROUND_DEGREE = 14;

/** Usual amounts, nm, by degree; of those that go round, three times as much, for turning makes rings. */
const USUAL: Readonly<Record<number, number>> = { 2: 18, 3: 8, 4: 7, 5: 4, 6: 3, 7: 2, 8: 1.5 };

/** Edges that are tried, and how high one is. */
const EDGES = [0.03, 0.07], EDGE = 35;

/** Shapes in the order of ISO 24157, then round terms of higher degree, then the edge; focus is apart, tilts are the knife's place. */
export const KNIFE_SHAPES: readonly KnifeShape[] = [
  ...Array.from({ length: DEGREE - 1 }, (_, k) => k + 2).flatMap((n) =>
    Array.from({ length: n + 1 }, (_, i) => ({ n, m: 2 * i - n })).filter(({ m }) =>
      n > 2 || m !== 0
    )
      .map((term) => ({ term, usual: (USUAL[n] ?? 1) * (term.m === 0 ? 3 : 1) }))
  ),
  ...[10, 12, ROUND_DEGREE].map((n) => ({ term: { n, m: 0 }, usual: 3 })),
  ...EDGES.map((width) => ({ width, usual: EDGE })),
];

/** How many shapes are told apart by their direction alone, with the mirror turned: see `STAND`. */
export const STAND: readonly ZernikeTerm[] = [{ n: 2, m: -2 }, { n: 2, m: 2 }, { n: 3, m: -3 }, {
  n: 3,
  m: 3,
}];

/** Air that stands still during one photograph: shapes that it takes. */
export const AIR: readonly ZernikeTerm[] = LOW_TERMS;

/**
 * Value of a shape.
 *
 * @param x  in radii, to the right
 * @param y  up
 */
export function knifeShape({ term, width = 1 }: KnifeShape, x: number, y: number): number {
  const rho = Math.hypot(x, y);
  return term === undefined ? Math.exp((rho - 1) / width) : zernike(term, rho, Math.atan2(y, x));
}
