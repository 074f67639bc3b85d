/** The telescope, the coating and the sky in plain lines. */
import type { Q, Summary } from "./summaryTypes.ts";

type Line = readonly [label: string, text: string];

function told({ value, unit }: Q, digits = 1): string {
  return `${String(Number(value.toFixed(digits))).replace("-", "−")} ${unit}`;
}

/** The layout, the flat, the alignment and the balance, as far as the record says. */
export function telescopeLines({ telescope }: Summary): Line[] {
  if (telescope === undefined) return [];
  const t = telescope, lines: Line[] = [["built for", `focal length ${told(t.focal_length)}`]];
  const add = (label: string, parts: readonly (string | undefined)[]): void => {
    const said = parts.filter((part) => part !== undefined);
    if (said.length > 0) lines.push([label, said.join(", ")]);
  };
  const q = (before: string, quantity: Q | undefined, digits = 1): string | undefined =>
    quantity === undefined ? undefined : `${before} ${told(quantity, digits)}`;
  add("flat", [
    q("needed", t.flat_minor_axis_needed),
    q("taken", t.flat_minor_axis),
    q("hole at", t.flat_from_vertex),
    q("offset each way", t.flat_offset, 2),
  ]);
  add("field", [
    q("fully lit", t.fully_lit_field),
    t.obstruction_by_area === undefined
      ? undefined
      : `${(100 * t.obstruction_by_area).toFixed(1)} % of the light blocked`,
    q("tube bore", t.tube_bore_needed),
  ]);
  add("cell", [
    q("three points at", t.support_radius),
    q("sag", t.support_surface_rms_thick),
    q("time constant", t.cool_down, 0),
  ]);
  add("alignment", [
    q("a turn moves a star", t.star_shift_per_turn),
    t.screw_turns === undefined
      ? undefined
      : `turns wanted ${t.screw_turns.map((turn) => turn.toFixed(2).replace("-", "−")).join(" ")}`,
    q("axis within", t.coma_free_radius, 2),
  ]);
  add("balance", [
    q("at", t.balance_point),
    q("mass", t.total_mass, 2),
    t.holds_balance === undefined
      ? undefined
      : t.holds_balance
      ? "holds a swapped eyepiece"
      : "lets go with a swapped eyepiece: larger bearings, or a counterweight",
  ]);
  return lines;
}

/**
 * Limits of the aperture, once a telescope or a verdict is in sight; of the silver no quantity, since those never go
 * without all their cautions.
 */
export function coatingAndSkyLines({ sky, telescope, verdict }: Summary): Line[] {
  if (sky === undefined || (telescope === undefined && verdict === undefined)) return [];
  const [low, high] = sky.limiting_magnitude;
  return [
    [
      "coating",
      "send the mirror out, to a firm; what the film is, and its cautions: notebook 14",
    ],
    [
      "limits",
      `pairs ${told(sky.dawes_limit, 2)} to ${told(sky.rayleigh_limit, 2)}, stars to magnitude ${
        low.toFixed(1)
      } to ${high.toFixed(1)}`,
    ],
  ];
}
