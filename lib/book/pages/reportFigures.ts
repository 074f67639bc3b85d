/** The figures of the front and of the report, from the summary: where you stand, the ways to the radius, the profile. */
import { decisionScale } from "../../figures/drawings/decisionScale.ts";
import { type Html, safe, trusted } from "../../figures/html.ts";
import { surfaceFromAbove } from "../../figures/drawings/surfaceFromAbove.ts";
import { surfaceProfile } from "../../figures/plots/surfaceProfile.ts";
import { type MethodBar, threeMethods } from "../../figures/plots/threeMethods.ts";
import type { Q, Summary } from "../../knowledge/summaryTypes.ts";
import { METHOD_NAMES } from "../../stages/methodNames.ts";
import type { Measured } from "../../quantity/measured.ts";
import { type BookFacts, plainNumber, told } from "./facts.ts";
import { figureOf } from "./status.ts";

const measuredOf = ({ value, u = 0, dof = Infinity, unit }: Q): Measured => ({
  value,
  u,
  dof,
  unit,
});

/** Ends of the 95 % interval by the usual factor of two; for a bar beside a scale. */
function around({ value, u }: Q): readonly [number, number] | undefined {
  return u === undefined || u === 0 ? undefined : [value - 2 * u, value + 2 * u];
}

/**
 * Where the depth stands between nothing and too deep; nothing once the surface has been tested, or before any reading.
 */
export function standing(summary: Summary): Html | undefined {
  const { grinding, design, figure } = summary;
  if (grinding === undefined || figure !== undefined) return undefined;
  const target = grinding.target_sagitta.value, now = grinding.sagitta_now;
  const stop = grinding.stop_at?.value ?? target;
  const hasStop = stop < target * 0.998 && stop > 0 && now.value < target;
  const interval = around(now);
  // near the target the scale begins late, so that what is left can be seen
  const isNear = now.value > 0.8 * target;
  return trusted(
    decisionScale({
      from: isNear ? roundDown(0.7 * target) : 0,
      to: Math.max(target * (isNear ? 1.08 : 1.2), now.value * 1.04),
      title: `Sagitta at the full ${plainNumber(design.aperture.value)} mm (mm)`,
      digits: 3,
      zones: [
        { name: "go on", to: hasStop ? stop : target, limit: true, tone: "before" },
        ...(hasStop ? [{ name: "stop", to: target, tone: "wanted" as const }] : []),
        { name: "too deep", tone: "past" },
      ],
      value: now.value,
      ...(interval === undefined ? {} : { interval }),
    }).html,
  );
}

/** To a tenth of a millimetre below. */
function roundDown(mm: number): number {
  return Math.floor(mm * 10) / 10;
}

/** The ways to one radius beside one another; nothing without an estimate. */
export function methods({ curve, design }: Summary): Html | undefined {
  if (curve === undefined) return undefined;
  const shown = curve.estimates.filter(({ method, used }) => used || curve.odd_one === method);
  const bars: MethodBar[] = shown.map(({ method, radius }) => ({
    name: METHOD_NAMES[method],
    value: measuredOf(radius),
    odd: curve.odd_one === method,
  }));
  if (bars.length === 0) return undefined;
  const count =
    ["No way", "One way", "Two ways", "Three ways", "Four ways", "Five ways"][bars.length];
  const drawn = threeMethods({
    bars,
    ...(curve.consistent && curve.radius ? { together: measuredOf(curve.radius) } : {}),
    wanted: design.radius.value,
    title: "Radius of curvature (mm)",
    ...(curve.birge_ratio === undefined ? {} : { birgeRatio: curve.birge_ratio }),
  });
  return safe`<h2>${count ?? "Several ways"} to one radius</h2>
${trusted(drawn.html)}`;
}

/** The same ways in one line, where the sheet has no room for their drawing; nothing without an estimate. */
export function methodsInWords({ curve }: Summary): Html | undefined {
  const used = curve?.estimates.filter((estimate) => estimate.used) ?? [];
  if (curve === undefined || used.length === 0) return undefined;
  const each = used.map(({ method, radius }, i) =>
    safe`${i > 0 && ", "}${METHOD_NAMES[method].replace(/^(?!Sun)./, (a) => a.toLowerCase())} ${
      told(radius)
    }`
  );
  const agree = used.length > 1 && (curve.consistent ? "; they agree" : "; they do not agree");
  return safe`<p class="kicker">Radius of curvature by ${each}${agree}.</p>`;
}

/** Openings of the mask the zones were read through, each once, from the centre outwards. */
function openingsOf({ zones }: BookFacts["record"]): { inner: number; outer: number }[] {
  const all = new Map(zones.map(({ inner, outer }) => [`${inner} ${outer}`, { inner, outer }]));
  return [...all.values()].sort((a, b) => a.inner - b.inner);
}

/** The surface from above; nothing where one diameter was read, or the figure is a photograph's. */
export function fromAbove(
  { summary, record }: Pick<BookFacts, "summary" | "record">,
): Html | undefined {
  const zones = summary.figure?.zones, { astigmatism, profile: points = [] } = zones ?? {};
  if (astigmatism === undefined || points.length < 2) return undefined;
  const flat = summary.telescope?.flat_minor_axis?.value;
  const drawn = surfaceFromAbove({
    profile: points.map(({ radius, surface_error: height }) => ({ radius, height })),
    astigmatism: {
      amplitude: measuredOf(astigmatism.amplitude),
      axis: measuredOf(astigmatism.axis),
      interval95: astigmatism.interval_95,
    },
    wanted: record.settings.goal.shape === "sphere" ? "sphere" : "paraboloid",
    isCompact: true,
    ...(zones?.surface_pv && { pv: measuredOf(zones.surface_pv) }),
    ...(flat === undefined ? {} : { shadowRadius: flat / 2 }),
  });
  return trusted(drawn.html);
}

/** The profile of the glass with its band and the goal; nothing where the surface has not been tested. */
export function profile(
  { summary, record }: Pick<BookFacts, "summary" | "record">,
): Html | undefined {
  const figure = figureOf(summary);
  const points = figure?.profile ?? [];
  if (figure === undefined || points.length < 2) return undefined;
  const isZones = figure === summary.figure?.zones;
  const openings = isZones ? openingsOf(record) : [];
  const { surfaceWaves, wavelength } = record.settings.goal;
  const drawn = surfaceProfile({
    points: points.map(({ radius, surface_error: height, u }) => ({ radius, height, u })),
    goal: surfaceWaves * wavelength,
    ...(openings.length > 0 && { openings }),
    ...(isZones && figure.astigmatism
      ? { meanOf: figure.diameters ?? 2 }
      : figure.surface_pv && { pv: measuredOf(figure.surface_pv) }),
    ...(figure.reference && { wanted: figure.reference }),
  });
  return safe`<h2>The surface, from ${isZones ? "the zones" : "a photograph"}</h2>
${trusted(drawn.html)}`;
}
