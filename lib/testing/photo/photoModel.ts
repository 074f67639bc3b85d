/** What is known and unknown of a mirror before a grating and of its photograph. */
import type { RonchiSetUp } from "../bands/ronchi.ts";
import type { Shape } from "./photoTerms.ts";

/** What is known of mirror and bench beforehand. */
export interface Bench {
  /** vertex radius of curvature, mm */
  readonly radius: number;
  /** half the clear aperture, mm */
  readonly half: number;
  readonly setUp: RonchiSetUp;
  readonly linesPerMm: number;
  /** nm */
  readonly wavelength: number;
}

/** Unknowns of one photograph, by their place. */
export const OWN = {
  /** grating from the centre of curvature, mm */
  offset: 0,
  /** place of the grating's lines: 2 pi a pitch of the pattern, rad */
  phase: 1,
  /** turn, rad */
  turn: 2,
  /** the disc, pixels */
  x: 3,
  y: 4,
  radius: 5,
  /** logarithm of the light over the disc: 1 x y xx xy yy xxx xxy xyy yyy */
  light: 6,
  /** light from the mirror that has no stripes, over that of a mirror without grating */
  fog: 16,
  /** the camera's curve: value = light to this power */
  power: 17,
  /** strength of the finer harmonics over that of a clean grating */
  sharpness: 18,
  /** light from elsewhere that lies evenly over the picture, in the picture's scale */
  veil: 19,
  /** the disc seen as an ellipse: longer along x and shorter along y by this share, and the same along the diagonals */
  stretch: 20,
  /** nearer parts of a slanted disc look larger: share at the rim to the right, and at the top */
  slant: 22,
  /** the lens bends straight lines: share at the rim */
  bow: 24,
  /** softness: variance along x, between x and y, along y, over the square of the radius */
  blur: 25,
  /** the camera's curve beside a power, at the knots */
  tone: 28,
  /** by how much more than half of a pitch is clear */
  duty: 33,
  /** square of the spread of the light's wavelengths over the middle one */
  colours: 34,
} as const;

/** Knots of the camera's curve, from black to white. */
export const TONE_KNOTS = 5;

/** Terms of the light over the disc. */
export const LIGHT_TERMS = 10;

/** Unknowns of one photograph. */
export const OWN_COUNT = 35;

/** The mirror's unknowns: conic constant, then the amounts of the shapes, nm. */
export interface Mirror {
  readonly conic: number;
  readonly shapes: readonly Shape[];
  readonly amounts: ArrayLike<number>;
  /** turn of the axes the shapes are given in, rad */
  readonly axes: number;
}
