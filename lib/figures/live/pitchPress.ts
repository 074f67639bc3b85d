/** Live: how long pitch must be pressed, by the room's warmth, the load and the pitch. */
import {
  coldPressing,
  type Lap,
  lapSinking,
  pitchViscosity,
  type Pressing,
  usualLap,
} from "../../shaping/lap/lap.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, type Point, rect, stroke, through, words } from "../pen.ts";
import { fixed, scale } from "../scale.ts";
import { type Control, levels, type LiveFigure, once, valueOf, type Values } from "./figure.ts";

const lap: Lap = usualLap(150);
/** Viscosity at 20 degrees by the slider's place, Pa s: usable pitch has 1e7 to 1e9. */
const pitches = [["soft", 1e7], ["middling", 1e8], ["hard", 1e9]] as const;
/** How long a lap is pressed between sessions and before one, min; `press_cold` of data/tables/facts.csv. */
export const usualPress = { least: 10, most: 30 } as const;

/** A lap under its load. */
export interface Pressed {
  /** um a minute */
  readonly sinks: number;
  /** until the misfit has flowed away */
  readonly pressing: Pressing;
}

/**
 * How fast the facets give way, and how long the misfit takes to flow out.
 *
 * @param values  temperature of room and pitch, degC; load kg, mirror included; pitch 0 soft, 1 middling, 2 hard; misfit um
 * @example 8 degrees warmer, ten times as fast
 * ```ts
 * import assert from "node:assert/strict";
 * const lap = { load: 3, pitch: 1, misfit: 15 };
 * const cool = pressedNow({ ...lap, temperature: 20 }), warm = pressedNow({ ...lap, temperature: 28 });
 * assert.equal((warm.sinks / cool.sinks).toFixed(6), "10.000000");
 * ```
 */
export function pressedNow(values: Values): Pressed {
  const [, at20] = pitches[Math.round(valueOf(values, "pitch"))] ?? pitches[1];
  const viscosityPaS = pitchViscosity(at20, valueOf(values, "temperature"));
  const { umPerMinute } = lapSinking(lap, { loadKg: valueOf(values, "load"), viscosityPaS });
  return { sinks: umPerMinute, pressing: coldPressing(valueOf(values, "misfit"), umPerMinute) };
}

const now = once(pressedNow);

const coldest = 10, warmest = 32, x = scale(coldest, warmest, 56, 340);
const power = scale(-1, 4, 206, 26),
  y = (minutes: number): number => power(Math.min(4, Math.max(-1, Math.log10(minutes))));
const names = ["6 s", "1 min", "10", "100", "1000", "a week"] as const;

/** The facets between the mirror and the tool, and what of them has gone down after ten minutes, drawn fifty times as deep. */
function facets({ sinks }: Pressed, values: Values): Html {
  const most = valueOf(values, "misfit"), down = Math.min(most, 10 * sinks);
  const top = 270, um = 26 / 40, floor = top + 40;
  return group(
    words([0, 258], "After ten minutes (depth drawn larger)"),
    rect("steel", [56, floor], 284, 8),
    Array.from({ length: 7 }, (_, i) => {
      const left = 60 + 40 * i, stands = Math.abs(i - 3) < 1.5 ? most - down : 0;
      return rect("zone-c", [left, top + 10 + um * (most - stands)], 36, 30 - um * (most - stands));
    }),
    rect("body", [56, top - 6 + um * down], 284, 16),
    stroke("polished", [56, top + 10 + um * down], [340, top + 10 + um * down]),
  );
}

function picture(values: Values): Html {
  const pressed = now(values), { pressing } = pressed, at = valueOf(values, "temperature");
  const edge = (which: keyof Pressing): Point[] =>
    Array.from({ length: 12 }, (_, i) => {
      const temperature = coldest + 2 * i;
      return [x(temperature), y(pressedNow({ ...values, temperature }).pressing[which])];
    });
  return drawing({
    width: 352,
    height: 322,
    finding:
      `Minutes of pressing against the warmth of the room, falling to a tenth for each eight degrees: at ${
        fixed(at)
      } degrees ${said(pressing.minutes)}. Below, the facets under the mirror after ten minutes.`,
    contents: group(
      words([0, 13], "Pressing until a misfit has flowed away"),
      rect("zone-a", [56, y(usualPress.most)], 284, y(usualPress.least) - y(usualPress.most)),
      words([336, y(usualPress.most) - 5], "a usual pressing", { kind: "soft", anchor: "end" }),
      path("zone-b", through([...edge("most"), ...edge("least").reverse()], true)),
      levels([0.1, 1, 10, 100, 1000, 10000], y, (m) => names[Math.round(Math.log10(m)) + 1] ?? "", [
        56,
        340,
      ]),
      path("polished", through(edge("minutes"))),
      stroke("lead", [x(at), 26], [x(at), 206]),
      dot("mine", [x(at), y(pressing.minutes)], 4.5),
      [10, 20, 30].map((t) => words([x(t), 222], fixed(t), { kind: "soft", anchor: "middle" })),
      words([340, 236], "Room and pitch (°C)", { anchor: "end" }),
      facets(pressed, values),
    ),
  });
}

/** A time in the unit one would say it in. */
function said(minutes: number): string {
  return minutes < 1
    ? `${fixed(60 * minutes)} s`
    : minutes < 120
    ? `${fixed(minutes, minutes < 10 ? 1 : 0)} min`
    : minutes < 2880
    ? `${fixed(minutes / 60)} h`
    : `${fixed(minutes / 1440)} days`;
}

function reading(values: Values): Html {
  const { sinks, pressing: { minutes, least, most } } = now(values);
  const verdict = minutes > usualPress.most
    ? "too stiff today: a warmer room, more weight, or a softer pitch"
    : minutes < usualPress.least
    ? "soon pressed, and as soon out of shape: mirror off in every pause"
    : "right for this room";
  return safe`Press <big><output>${said(minutes)}</output></big> perhaps ${said(least)}, perhaps ${
    said(most)
  }. The facets sink by <output>${
    fixed(sinks, sinks < 1 ? 3 : 1)
  } µm a minute</output>: <output>${verdict}</output>.`;
}

const controls: readonly Control[] = [
  {
    ...{ key: "temperature", label: "Room and pitch", min: coldest, max: warmest, step: 1 },
    ...{ digits: 0, unit: "°C", spoken: "degrees" },
  },
  {
    ...{ key: "load", label: "Mirror and weight on it", min: 1, max: 10, step: 0.5, digits: 1 },
    ...{ unit: "kg", spoken: "kilograms" },
  },
  {
    ...{ key: "pitch", label: "The pitch", min: 0, max: 2, step: 1, digits: 0 },
    ...{ unit: "", spoken: "", choices: pitches.map(([name]) => name) },
  },
  {
    ...{ key: "misfit", label: "Misfit to flow away", min: 5, max: 40, step: 1, digits: 0 },
    ...{ unit: "µm", spoken: "micrometres" },
  },
];

/** The figure: warmth, load and pitch to slide. */
export const pitchPress: LiveFigure = {
  name: "pitch-press",
  controls,
  start: { temperature: 20, load: 3, pitch: 1, misfit: 15 },
  picture,
  reading,
  value: (values) => now(values).pressing.minutes,
  caption:
    safe`A lap of 150 mm, each facet a drop squeezed between two plates. <b>The band</b> is pitch three times thinner or thicker than thought; “soft” and “hard” are ten times off the middling. Cold pressing only: pitch is never warmed by a learner.`,
};
