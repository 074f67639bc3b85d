/**
 * The quantities that are told, each once: what it is called, where it comes from, what is wanted beside it, and who
 * tells it. `check`, the front page, the report, a stage's line, the class and the file all go through this list.
 */
import type { Settings } from "../record/types.ts";
import type { FigureSummary, Q, StarPairSummary, Summary } from "./summaryTypes.ts";

/** Who tells a quantity beside the file, which has them all. */
export type Teller = "check" | "front" | "report" | "class";

/** What a quantity belongs to: `check` tells each group in a block of its own. */
export type Group = "plan" | "curve" | "grinding" | "figure" | "star";

/** A quantity as it is told. */
export interface ToldQuantity {
  /** its place in summary.json, such as `curve.focal_length`; absent where it is worked out for telling alone */
  readonly key?: string;
  /** what it belongs to */
  readonly group: Group;
  /** name in tables, "Radius of curvature" */
  readonly title: string;
  /** name in a line of `check`, "radius"; default the title in small letters */
  readonly label?: string;
  /** who tells it */
  readonly by: readonly Teller[];
  /** the stage whose line on the front page says it, by its name in the course */
  readonly stage?: string;
  /** decimals where it has no uncertainty to round by; default 1 */
  readonly digits?: number;
  /** the value; nothing where it is not known */
  readonly of: (summary: Summary) => Q | undefined;
  /** its 95 % interval, where the record's readings give one */
  readonly interval?: (summary: Summary) => readonly [number, number] | undefined;
  /** what the plan wants, as a number to print */
  readonly wanted?: (summary: Summary, settings: Settings) => number | undefined;
  /** significant digits of the wanted value; default 4 */
  readonly wantedDigits?: number;
  /** how the wanted value is meant; default as a value to meet */
  readonly atMost?: boolean;
}

/** The figure that is told: from the zones, else from the first photograph that could be reduced. */
export function figureOf({ figure }: Summary): FigureSummary | undefined {
  const { zones, photos = [] } = figure ?? {};
  return [zones, ...photos].find((one) => one !== undefined && one.refused === undefined);
}

/** The pair of star photographs that is told: the last one that could be reduced. */
export function starOf({ star }: Summary): StarPairSummary | undefined {
  return star?.pairs.findLast(({ refused }) => refused === undefined);
}

/** Focal length over aperture; its uncertainty is the focal length's alone. */
function focalRatio({ curve, design }: Summary): Q | undefined {
  if (curve?.focalLength === undefined) return undefined;
  const { value, u } = curve.focalLength, aperture = design.aperture.value;
  return { value: value / aperture, unit: "", ...(u === undefined ? {} : { u: u / aperture }) };
}

/** What is told while there is no test of the surface yet. */
const beforeFigure = (q: Q | undefined, { figure }: Summary): Q | undefined =>
  figure === undefined ? q : undefined;

/** Every quantity that is told, in the order in which it is. A new one is one row. */
export const QUANTITIES: readonly ToldQuantity[] = [
  {
    key: "design.aperture",
    group: "plan",
    title: "Aperture",
    by: ["front"],
    of: ({ design }) => design.aperture,
  },
  {
    key: "design.focal_length",
    group: "plan",
    title: "Wanted focal length",
    label: "focal length",
    by: ["check", "front", "report"],
    of: ({ design }) => design.focalLength,
  },
  {
    key: "design.radius",
    group: "plan",
    title: "Wanted radius of curvature",
    label: "radius",
    by: ["check", "report"],
    of: ({ design }) => design.radius,
  },
  {
    key: "design.sagitta",
    group: "plan",
    title: "Wanted sagitta",
    label: "sagitta",
    by: ["check", "report"],
    digits: 3,
    of: ({ design }) => design.sagitta,
  },
  {
    key: "design.sphere_departure",
    group: "plan",
    title: "A sphere’s departure at the edge",
    by: ["report"],
    of: ({ design }) => design.sphereDeparture,
  },
  {
    key: "design.airy_radius",
    group: "plan",
    title: "Radius of the Airy disc",
    by: ["report"],
    of: ({ design }) => design.airyRadius,
  },
  {
    key: "curve.radius",
    group: "curve",
    title: "Radius of curvature",
    label: "radius",
    by: ["check", "report"],
    of: ({ curve }) => curve?.radius,
    wanted: ({ design }) => design.radius.value,
  },
  {
    key: "curve.focal_length",
    group: "curve",
    title: "Focal length",
    by: ["check", "front", "report"],
    of: ({ curve }) => curve?.focalLength,
    wanted: ({ design }) => design.focalLength.value,
  },
  {
    group: "curve",
    title: "Focal ratio",
    by: ["report"],
    of: focalRatio,
    wanted: ({ design }) => design.focalRatio,
  },
  {
    key: "curve.sagitta",
    group: "curve",
    title: "Sagitta",
    by: ["check", "report"],
    digits: 3,
    of: ({ curve }) => curve?.sagitta,
    wanted: ({ design }) => design.sagitta.value,
    wantedDigits: 5,
  },
  {
    key: "curve.astigmatism",
    group: "curve",
    title: "Deeper along one diameter by",
    by: ["report"],
    of: ({ curve }) => curve?.astigmatism,
  },
  {
    key: "grinding.sagitta_now",
    group: "grinding",
    title: "Sagitta now",
    by: ["front"],
    digits: 3,
    of: (summary) => beforeFigure(summary.grinding?.sagittaNow, summary),
    wanted: ({ grinding }) => grinding?.targetSagitta.value,
  },
  {
    key: "grinding.overshoot",
    group: "grinding",
    title: "Too deep by",
    by: ["check"],
    of: ({ grinding }) => grinding?.overshoot,
  },
  {
    key: "grinding.minutes_to_target",
    group: "grinding",
    title: "Still to grind",
    by: ["front", "report"],
    of: (summary) => beforeFigure(summary.grinding?.minutesToTarget, summary),
  },
  {
    key: "figure.zones.surface_pv",
    group: "figure",
    title: "Surface, P-V",
    label: "glass P-V",
    by: ["check", "report"],
    of: (summary) => figureOf(summary)?.surfacePv,
    wanted: (_, { goal }) => goal.surfaceWaves * goal.wavelength,
    wantedDigits: 2,
    atMost: true,
  },
  {
    key: "figure.zones.surface_rms",
    group: "figure",
    title: "Surface, RMS",
    by: ["report"],
    of: (summary) => figureOf(summary)?.surfaceRms,
  },
  {
    key: "figure.zones.wavefront_pv",
    group: "figure",
    title: "Wavefront, P-V",
    label: "wavefront P-V",
    by: ["check", "front", "report"],
    stage: "measure-zones",
    of: (summary) => figureOf(summary)?.wavefrontPv,
    interval: (summary) => figureOf(summary)?.interval95?.wavefrontPv,
    wanted: (_, { goal }) => 2 * goal.surfaceWaves,
    atMost: true,
  },
  {
    key: "figure.zones.wavefront_rms",
    group: "figure",
    title: "Wavefront, RMS",
    label: "wavefront RMS",
    by: ["check", "report"],
    of: (summary) => figureOf(summary)?.wavefrontRms,
    interval: (summary) => figureOf(summary)?.interval95?.wavefrontRms,
  },
  {
    key: "figure.zones.strehl",
    group: "figure",
    title: "Strehl ratio",
    label: "Strehl",
    by: ["check", "report"],
    of: (summary) => figureOf(summary)?.strehl,
    interval: (summary) => figureOf(summary)?.interval95?.strehl,
  },
  {
    key: "figure.zones.conic",
    group: "figure",
    title: "Conic constant",
    label: "conic",
    by: ["check", "report"],
    of: (summary) => figureOf(summary)?.conic,
    interval: (summary) => figureOf(summary)?.interval95?.conic,
    wanted: ({ design }) => design.shape === "sphere" ? 0 : -1,
  },
  {
    key: "figure.zones.astigmatism.amplitude",
    group: "figure",
    title: "Astigmatism, amplitude",
    by: ["report"],
    of: (summary) => figureOf(summary)?.astigmatism?.amplitude,
  },
  {
    group: "star",
    title: "Spherical aberration by the star, wavefront RMS",
    label: "spherical",
    by: ["check", "report"],
    of: (summary) => starOf(summary)?.spherical,
  },
  {
    group: "star",
    title: "Astigmatism by the star, wavefront RMS",
    label: "astigmatism",
    by: ["check", "report"],
    of: (summary) => starOf(summary)?.astigmatism?.amount,
    interval: (summary) => starOf(summary)?.astigmatism?.interval95,
  },
  {
    group: "star",
    title: "Coma by the star, wavefront RMS",
    label: "coma",
    by: ["check", "report"],
    of: (summary) => starOf(summary)?.coma?.amount,
    interval: (summary) => starOf(summary)?.coma?.interval95,
  },
  {
    group: "star",
    title: "Threefold figure by the star, wavefront RMS",
    label: "threefold",
    by: ["check", "report"],
    of: (summary) => starOf(summary)?.threefold?.amount,
    interval: (summary) => starOf(summary)?.threefold?.interval95,
  },
  {
    group: "star",
    title: "Turned edge by the star, wavefront at the rim",
    label: "turned edge",
    by: ["check", "report"],
    of: (summary) => starOf(summary)?.edge,
  },
];

/** A quantity with its value. */
export interface KnownQuantity extends ToldQuantity {
  /** what is known */
  readonly value: Q;
}

/**
 * What one teller tells of a mirror: the quantities of the list that are known, in its order.
 *
 * @param list  default the kit's own; a test gives another
 */
export function knownQuantities(
  summary: Summary,
  by: Teller,
  groups: readonly Group[] = ["plan", "curve", "grinding", "figure", "star"],
  list: readonly ToldQuantity[] = QUANTITIES,
): KnownQuantity[] {
  return list.flatMap((quantity) => {
    if (!quantity.by.includes(by) || !groups.includes(quantity.group)) return [];
    const value = quantity.of(summary);
    return value === undefined ? [] : [{ ...quantity, value }];
  });
}

/** The name of a quantity within a line. */
export function labelOf({ label, title }: ToldQuantity): string {
  return label ?? `${title.charAt(0).toLowerCase()}${title.slice(1)}`;
}
