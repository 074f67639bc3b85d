/** Terms of a surface that more than one kind of test sees, and what one test says of them. */
import type { ZernikeTerm } from "../optics/zernike.ts";

/** The same all round, by degree; then astigmatism and a threefold figure, along cos and sin of the angle from the mirror's mark. */
export const SURFACE_TERMS = [
  "round 4",
  "round 6",
  "round 8",
  "round 10",
  "astigmatism cos",
  "astigmatism sin",
  "threefold cos",
  "threefold sin",
] as const;

/** One of them; its amount is RMS over the disc, as Zernike's terms have it. */
export type SurfaceTerm = typeof SURFACE_TERMS[number];

/** What a test says of some terms, and how its doubts hang together. */
export interface SurfaceTerms {
  /** which it tells, in the order of values and covariance */
  readonly terms: readonly SurfaceTerm[];
  /** nm of glass, RMS of each, + is high at the rim, or along the angle */
  readonly values: readonly number[];
  /** nm^2, the test's own nuisance in it */
  readonly covariance: readonly (readonly number[])[];
}

/** The low faults that air, glass and mounting have, in the order of ISO 24157; tilts and focus apart. */
export const LOW_TERMS: readonly ZernikeTerm[] = [
  { n: 2, m: -2 },
  { n: 2, m: 2 },
  { n: 3, m: -3 },
  { n: 3, m: -1 },
  { n: 3, m: 1 },
  { n: 3, m: 3 },
  { n: 4, m: 0 },
];

/** Zernike's term of each that is the same all round. */
export const ROUND_TERMS: readonly ZernikeTerm[] = [4, 6, 8, 10].map((n) => ({ n, m: 0 }));

/** Their names. */
export const ROUND: readonly SurfaceTerm[] = SURFACE_TERMS.slice(0, ROUND_TERMS.length);

/**
 * Zernike's term, and its sign, of a directed fault along cos or sin of the angle from the mark: the picture's own angle runs from its
 * right, and the mark stands a quarter turn further. cos 2 theta = -cos 2 phi, sin 3 theta = -cos 3 phi, cos 3 theta = sin 3 phi.
 */
export const DIRECTED:
  readonly (ZernikeTerm & { readonly name: SurfaceTerm; readonly sign: 1 | -1 })[] = [
    { name: "astigmatism cos", n: 2, m: 2, sign: -1 },
    { name: "astigmatism sin", n: 2, m: -2, sign: -1 },
    { name: "threefold cos", n: 3, m: -3, sign: -1 },
    { name: "threefold sin", n: 3, m: 3, sign: 1 },
  ];
