/** Live: pits over the mirror after so many hours of polishing: the middle is clear first, the rim last. */
import {
  type Footprint,
  footprintAt,
  strokeFootprint,
} from "../../shaping/figuring/figuringFootprint.ts";
import { figuringStroke } from "../../shaping/figuring/figuringStrokes.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, type Point, stroke, through, words } from "../pen.ts";
import { fixed, scale } from "../scale.ts";
import { type Control, levels, type LiveFigure, once, valueOf, type Values } from "./figure.ts";

/** Where pits are counted: 5 mm inside the bevel of a 150 mm mirror, as a share of the radius. */
const fields = 0.92, half = 75;

/** Polish over the mirror. */
export interface Polish {
  /** um of glass off in an hour, at a share of the radius */
  readonly rate: (share: number) => number;
  /** um of the deepest pit that is left there */
  readonly left: (share: number) => number;
  /** hours until the middle is clear, and the fields 5 mm inside the bevel */
  readonly middle: number;
  readonly rim: number;
}

const print = (face: "down" | "up", travel: number, offset: number): Footprint =>
  strokeFootprint(figuringStroke(face, 1, travel, offset), 1);
const prints = once((values) => {
  const travel = valueOf(values, "travel") / 100, offset = valueOf(values, "side") / 100;
  return [print("down", travel, offset), print("up", travel, offset)] as const;
});

/**
 * What polishing with a full lap has left of pits that were alike everywhere.
 *
 * @param values  hours; travel and side of the stroke, percent of the diameter; rate um/h in the middle by the ordinary stroke; pits um;
 *   lapUp percent of the time with the lap on top
 * @example the ordinary stroke clears pits of 5 um in the middle after 3.9 h, near the rim after 6.6
 * ```ts
 * import assert from "node:assert/strict";
 * const usual = { travel: 33, side: 0, rate: 1.3, pits: 5, lapUp: 0 };
 * const { middle, rim } = polished({ ...usual, hours: 4 });
 * assert.deepEqual([middle.toFixed(1), rim.toFixed(1)], ["3.9", "6.6"]);
 * ```
 */
export function polished(values: Values): Polish {
  const rate = valueOf(values, "rate"), pits = valueOf(values, "pits");
  const up = valueOf(values, "lapUp") / 100, hours = valueOf(values, "hours");
  const [onLap, underLap] = prints({
    travel: valueOf(values, "travel"),
    side: valueOf(values, "side"),
  });
  // a footprint is told in nm a minute
  const at = (share: number): number =>
    rate * 0.06 * ((1 - up) * footprintAt(onLap, share) + up * footprintAt(underLap, share));
  return {
    rate: at,
    left: (share) => Math.max(0, pits - hours * at(share)),
    middle: pits / at(0),
    rim: pits / at(fields),
  };
}

const now = once(polished);

/** A fill between clear glass and ink, by percent of ink. */
const grey = (percent: number): string =>
  `fill:color-mix(in srgb, var(--ink) ${fixed(percent)}%, var(--glass-tint))`;

/** The face from above: rings the greyer, the deeper their pits still are. */
function face({ left, middle: middleHours, rim }: Polish, pits: number): Html {
  const rings = 30, middle: Point = [86, 104], size = 78;
  return group(
    words([0, 13], "Pits from above"),
    Array.from({ length: rings }, (_, i) => {
      const share = (rings - i - 0.5) / rings, deep = left(share) / pits;
      return dot("ring", middle, size * (rings - i) / rings, `stroke:none;${grey(75 * deep)}`);
    }),
    dot("rim", middle, size),
    dot("rim", middle, size * fields, "stroke-dasharray:3 4"),
    [["pits left", 75], ["clear glass", 0]].map(([name, share], i) =>
      group(
        dot("rim", [190, 66 + 22 * i], 7, grey(Number(share))),
        words([204, 70.5 + 22 * i], String(name)),
      )
    ),
    words([182, 112], "broken ring: where"),
    words([182, 129], "pits are counted"),
    words([182, 156], `middle clear after ${fixed(middleHours, 1)} h`),
    words([182, 173], `ring clear after ${fixed(rim, 1)} h`),
  );
}

function curve(values: Values, polish: Polish): Html {
  const pits = valueOf(values, "pits"), x = scale(0, half, 44, 340), y = scale(0, 6, 356, 222);
  const at = (share: number): Point => [x(half * share), y(polish.left(share))];
  const points = Array.from({ length: 49 }, (_, i) => at(i / 48));
  return group(
    words([0, 209], "Deepest pit left (µm)"),
    path("zone-b", through([[x(0), y(0)], ...points, [x(half), y(0)]], true)),
    levels([0, 2, 4, 6], y, fixed),
    stroke("lead", [44, y(pits)], [340, y(pits)], "stroke-dasharray:3 3;stroke:var(--soft)"),
    path("polished", through(points), "stroke-width:2"),
    stroke("lead", [x(half * fields), 222], [x(half * fields), 356]),
    dot("mine", at(0), 4.5),
    dot("mine", at(fields), 4.5),
    [0, 25, 50, 75].map((mm) =>
      words([x(mm), 373], fixed(mm), { kind: "soft", anchor: mm === 75 ? "end" : "middle" })
    ),
    words([340, 390], "Distance from the centre (mm)", { anchor: "end" }),
  );
}

function picture(values: Values): Html {
  const polish = now(values), pits = valueOf(values, "pits");
  return drawing({
    width: 352,
    height: 394,
    finding:
      `A mirror from above, filled where pits are left, and their depth against the distance from the centre: after ${
        fixed(valueOf(values, "hours"), 1)
      } hours ${fixed(polish.left(0), 1)} micrometres in the middle, ${
        fixed(polish.left(fields), 1)
      } near the rim.`,
    contents: group(face(polish, pits), curve(values, polish)),
  });
}

function reading(values: Values): Html {
  const { middle, rim, left } = now(values);
  const state = left(0) > 0
    ? "pits everywhere"
    : left(fields) > 0
    ? "the middle shines, the rim is not done"
    : "clear where pits are counted";
  return safe`Over at the rim after <big><output>${
    fixed(rim, 1)
  } h</output></big> In the middle after ${fixed(middle, 1)} h: the rim takes <output>${
    fixed(rim / middle, 2)
  } times</output> as long. Now: <output>${state}</output>, ${
    fixed(left(0), 1)
  } µm left in the middle and ${fixed(left(fields), 1)} near the rim.`;
}

const controls: readonly Control[] = [
  {
    ...{ key: "hours", label: "Hours of polish", min: 0, max: 12, step: 0.1, digits: 1 },
    ...{ unit: "h", spoken: "hours" },
  },
  {
    ...{ key: "lapUp", label: "Time with the lap on top", min: 0, max: 100, step: 5, digits: 0 },
    ...{ unit: "%", spoken: "percent" },
  },
  {
    ...{ key: "travel", label: "Length of the stroke", min: 15, max: 60, step: 1, digits: 0 },
    ...{ unit: "% of the width", spoken: "percent of the width" },
  },
  {
    ...{ key: "side", label: "To the side by", min: 0, max: 25, step: 1, digits: 0 },
    ...{ unit: "% of the width", spoken: "percent of the width" },
  },
  {
    ...{ key: "rate", label: "Rate in the middle", min: 0.5, max: 2.6, step: 0.1, digits: 1 },
    ...{ unit: "µm/h", spoken: "micrometres an hour" },
  },
  {
    ...{ key: "pits", label: "Pits at first", min: 1, max: 6, step: 0.5, digits: 1 },
    ...{ unit: "µm", spoken: "micrometres" },
  },
];

/** The figure: hours and strokes to slide. */
export const centreFirst: LiveFigure = {
  name: "centre-first",
  controls,
  start: { hours: 2, lapUp: 0, travel: 33, side: 0, rate: 1.3, pits: 5 },
  picture,
  reading,
  value: (values) => now(values).rim,
  caption:
    safe`150 mm on a lap of full size that fits. <b>The rate</b> is that of the ordinary stroke, a third long over the centre; pressure times path gives the rest. What lies outside the broken ring takes longer still. Your own rate is known to a factor of two before two counts.`,
};
