/** Shapes a photograph may show beside the conic: each one a height of glass over the face. */

/** Height of glass for an amount of 1 nm, at a place on the unit disc: u across the grating's lines, v along them. */
export type Shape = (u: number, v: number) => number;

/** Shapes that are taken up together or not at all. */
export interface Term {
  readonly name:
    | "sixth order"
    | "eighth order"
    | "turned edge"
    | "ring"
    | "rings"
    | "astigmatism"
    | "coma"
    | "three waves"
    | "oblique astigmatism of higher order"
    | "astigmatism of higher order";
  /** a word more where there are several of the name */
  readonly detail?: string;
  readonly shapes: readonly Shape[];
  /** what an amount may well be, nm: far larger ones need strong evidence */
  readonly usual: number;
  /** what the model itself may be wrong by in it, nm; default 0 */
  readonly unsure?: number;
  /** taken up wherever it can be told at all, so that what is left open widens the intervals; default false */
  readonly always?: boolean;
  /** what must differ between two photographs for it to be told from something else; absent where one is enough */
  readonly needs?: "two turns" | "both sides";
}

const square = (u: number, v: number): number => u * u + v * v;

/** A smooth bump of the radius, 0 beyond two spacings (cubic B-spline). */
function bump(at: number, spacing: number): Shape {
  return (u, v) => {
    const t = Math.abs(Math.sqrt(square(u, v)) - at) / spacing;
    if (t >= 2) return 0;
    return t < 1 ? 1 - 1.5 * t * t + 0.75 * t * t * t : 0.25 * (2 - t) ** 3;
  };
}

/** The glass rolls off from `from` of the half-aperture outward; 1 at the rim. */
function roll(from: number): Shape {
  return (u, v) => {
    const t = (Math.sqrt(square(u, v)) - from) / (1 - from);
    return t > 0 ? t * t : 0;
  };
}

const RING_SPACING = 0.1;

/**
 * A lens's softness and a rim found a thousandth too large look like a rim some nm high or low: sixty photographs of mirrors with
 * sound edges gave edges of 3 to 4 nm (tests/trials/photographs.trial.ts), and pairs of them that nearly cancel.
 */
const RIM_UNSURE = 4;

/**
 * Every shape the fit may take up, in the order of the simplest first.
 *
 * With the grating's lines one way only, shapes that do not change across the lines cannot be seen, and upright
 * astigmatism looks like focus: those need a second photograph with the grating turned. Oblique astigmatism tilts bands
 * as a turned grating does, but the other way on the other side of the centre of curvature: it needs one from each side.
 */
export const TERMS: readonly Term[] = [
  {
    name: "sixth order",
    shapes: [(u, v) => {
      const q = square(u, v);
      return ((20 * q - 30) * q + 12) * q - 1;
    }],
    usual: 50,
  },
  {
    name: "eighth order",
    shapes: [(u, v) => {
      const q = square(u, v);
      return (((70 * q - 140) * q + 90) * q - 20) * q + 1;
    }],
    usual: 50,
  },
  ...[0.06, 0.08, 0.11, 0.15, 0.2, 0.27].map((width): Term => ({
    name: "turned edge",
    detail: `outer ${Math.round(100 * width)} %`,
    shapes: [roll(1 - width)],
    usual: 100,
    unsure: RIM_UNSURE,
  })),
  ...[0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8].map((at): Term => ({
    name: "ring",
    detail: `at ${Math.round(100 * at)} % of the way to the rim`,
    shapes: [bump(at, 2 * RING_SPACING)],
    usual: 50,
    unsure: 1.5,
  })),
  {
    name: "rings",
    shapes: Array.from({ length: 10 }, (_, k) => bump((k + 1) * RING_SPACING, RING_SPACING)),
    usual: 20,
  },
  {
    name: "astigmatism",
    detail: "oblique",
    shapes: [(u, v) => 2 * u * v],
    usual: 100,
    needs: "both sides",
    always: true,
  },
  {
    name: "coma",
    shapes: [
      (u, v) => (3 * square(u, v) - 2) * u,
      (u, v) => (3 * square(u, v) - 2) * v,
    ],
    usual: 100,
  },
  { name: "three waves", shapes: [(u, v) => u * u * u - 3 * u * v * v], usual: 50 },
  {
    name: "oblique astigmatism of higher order",
    shapes: [(u, v) => (4 * square(u, v) - 3) * 2 * u * v],
    usual: 50,
  },
  {
    name: "astigmatism of higher order",
    shapes: [(u, v) => (4 * square(u, v) - 3) * (u * u - v * v)],
    usual: 50,
  },
  {
    name: "astigmatism",
    detail: "upright",
    shapes: [(u, v) => u * u - v * v],
    usual: 100,
    needs: "two turns",
  },
  {
    name: "three waves",
    detail: "upright",
    shapes: [(u, v) => 3 * u * u * v - v * v * v],
    usual: 50,
    needs: "two turns",
  },
];
