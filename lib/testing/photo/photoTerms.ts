/** Shapes a photograph may show beside the conic: each one a height of glass over the face. */

/** Height of glass for an amount of 1 nm, at a place on the unit disc: u across the grating's lines, v along them. */
export type Shape = (u: number, v: number) => number;

/** What a mirror has or has not, all of its shapes together. */
export type Kind = "smooth" | "edge" | "rings" | "skew" | "astigmatism";

/** Shapes of one name. */
export interface Term {
  /** as it is told */
  readonly name:
    | "sixth order"
    | "eighth order"
    | "tenth order"
    | "turned edge"
    | "rings"
    | "astigmatism"
    | "coma"
    | "three waves"
    | "four waves"
    | "oblique astigmatism of higher order"
    | "astigmatism of higher order";
  /** what a mirror has or has not as one */
  readonly kind: Kind;
  /** a word more where there are several of the name */
  readonly detail?: string;
  /** each with an amount of its own */
  readonly shapes: readonly Shape[];
  /** standard deviation of an amount where the mirror has it, nm of glass, before the picture is looked at */
  readonly usual: number;
  /** what photographs there must be for it to be told from something else; absent where one is enough */
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
 * Every shape a mirror may have beside the conic.
 *
 * With the grating's lines one way only, shapes that do not change across the lines cannot be seen, and upright
 * astigmatism looks like focus. Oblique astigmatism tilts bands as a turned grating does, but the other way on the other side of
 * the centre of curvature: it needs one photograph from each side. The same with the grating turned by 45 degrees shows the upright one.
 *
 * A narrow edge is likely to be as steep as a wide one, not as deep. One narrower than the picture shows keeps the doubt
 * it began with.
 */
export const TERMS: readonly Term[] = [
  {
    name: "sixth order",
    kind: "smooth",
    shapes: [(u, v) => {
      const q = square(u, v);
      return ((20 * q - 30) * q + 12) * q - 1;
    }],
    usual: 15,
  },
  {
    name: "eighth order",
    kind: "smooth",
    shapes: [(u, v) => {
      const q = square(u, v);
      return (((70 * q - 140) * q + 90) * q - 20) * q + 1;
    }],
    usual: 10,
  },
  {
    name: "tenth order",
    kind: "smooth",
    shapes: [(u, v) => {
      const q = square(u, v);
      return ((((252 * q - 630) * q + 560) * q - 210) * q + 30) * q - 1;
    }],
    usual: 6,
  },
  ...([[0.02, 30], [0.04, 50], [0.08, 60], [0.15, 60]] as const).map(([width, usual]): Term => ({
    name: "turned edge",
    kind: "edge",
    detail: `outer ${Math.round(100 * width)} %`,
    shapes: [roll(1 - width)],
    usual,
  })),
  {
    name: "rings",
    kind: "rings",
    shapes: Array.from({ length: 10 }, (_, k) => bump(k * RING_SPACING, RING_SPACING)),
    usual: 15,
  },
  {
    name: "coma",
    kind: "skew",
    shapes: [
      (u, v) => (3 * square(u, v) - 2) * u,
      (u, v) => (3 * square(u, v) - 2) * v,
    ],
    usual: 20,
  },
  { name: "three waves", kind: "skew", shapes: [(u, v) => u * u * u - 3 * u * v * v], usual: 15 },
  {
    name: "oblique astigmatism of higher order",
    kind: "skew",
    shapes: [(u, v) => (4 * square(u, v) - 3) * 2 * u * v],
    usual: 15,
  },
  {
    name: "astigmatism of higher order",
    kind: "skew",
    shapes: [(u, v) => (4 * square(u, v) - 3) * (u * u - v * v)],
    usual: 15,
  },
  {
    name: "astigmatism",
    kind: "astigmatism",
    detail: "oblique",
    shapes: [(u, v) => 2 * u * v],
    usual: 100,
    needs: "both sides",
  },
  {
    name: "astigmatism",
    kind: "astigmatism",
    detail: "upright",
    shapes: [(u, v) => u * u - v * v],
    usual: 100,
    needs: "two turns",
  },
  {
    name: "three waves",
    kind: "skew",
    detail: "upright",
    shapes: [(u, v) => 3 * u * u * v - v * v * v],
    usual: 30,
    needs: "two turns",
  },
  {
    name: "four waves",
    kind: "skew",
    shapes: [(u, v) => u ** 4 - 6 * u * u * v * v + v ** 4],
    usual: 15,
    needs: "two turns",
  },
  {
    name: "four waves",
    kind: "skew",
    detail: "oblique",
    shapes: [(u, v) => 4 * u * v * (u * u - v * v)],
    usual: 15,
    needs: "two turns",
  },
];
