/** The figures of the front and of the report, from the summary: where you stand, the ways to the radius, the profile. */
import { decisionScale } from "../../figures/decisionScale.ts";
import { type Html, safe, trusted } from "../../figures/html.ts";
import { type MethodBar, threeMethods } from "../../figures/threeMethods.ts";
import type { Method, Q, Summary } from "../../record/summaryTypes.ts";
import type { Measured } from "../../quantity/measured.ts";
import { plainNumber } from "./facts.ts";
import { profileDrawing } from "./profileDrawing.ts";
import { figureOf } from "./status.ts";

const names: Readonly<Record<Method, string>> = {
  "leaves": "Leaves",
  "depth gauge": "Depth gauge",
  "spherometer": "Spherometer",
  "sun distance": "Sun, distance",
  "sun image": "Sun, image",
};

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
  const hasStop = stop < target * 0.998 && stop > 0;
  const interval = around(now);
  return trusted(
    decisionScale({
      from: 0,
      to: Math.max(target * 1.12, now.value * 1.04),
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

/** The ways to one radius beside one another; nothing without an estimate. */
export function methods({ curve, design }: Summary): Html | undefined {
  if (curve === undefined || curve.estimates.length === 0) return undefined;
  const bars: MethodBar[] = curve.estimates.map(({ method, radius, used }) => ({
    name: names[method],
    value: measuredOf(radius),
    odd: curve.odd_one === method || !used,
  }));
  const count =
    ["No way", "One way", "Two ways", "Three ways", "Four ways", "Five ways"][bars.length];
  const drawn = threeMethods({
    bars,
    ...(curve.consistent ? { together: measuredOf(curve.radius) } : {}),
    wanted: design.radius.value,
    title: "Radius of curvature (mm)",
    ...(curve.birge_ratio === undefined ? {} : { birgeRatio: curve.birge_ratio }),
  });
  return safe`<h2>${count ?? "Several ways"} to one radius</h2>
${trusted(drawn.html)}`;
}

/** The profile of the glass with its band and the goal; nothing where the surface has not been tested. */
export function profile(summary: Summary, goalNm: number): Html | undefined {
  const figure = figureOf(summary);
  const points = figure?.profile ?? [];
  if (figure === undefined || points.length < 2) return undefined;
  const heights = points.map((point) => point.surface_error);
  const [high, low] = [Math.max(...heights), Math.min(...heights)];
  const pv = figure.surface_pv?.value ?? high - low;
  const from = figure === summary.figure?.zones ? "zones" : "a photograph";
  const finding =
    `Height of the glass over the wanted curve in nanometres against distance from the centre. ` +
    `Highest ${plainNumber(high, 2)}, lowest ${plainNumber(low, 2)}; peak to valley ${
      plainNumber(pv, 2)
    }, the goal is ${plainNumber(goalNm, 2)}.`;
  const widths = [[792, "wide-only"], [608, "mid-only"], [340, "small-only"]] as const;
  const parts = {
    points,
    goalNm,
    finding,
    ...(figure.surface_pv === undefined ? {} : { pv: figure.surface_pv }),
  };
  return safe`<h2>The surface, from ${from}</h2>
<figure>
${widths.map(([width, only]) => profileDrawing({ ...parts, width, only }))}
<figcaption>+ is high glass; mean and focus removed. Band: twice the standard uncertainty. Between openings and at the rim it is drawn, not seen.</figcaption>
</figure>`;
}
