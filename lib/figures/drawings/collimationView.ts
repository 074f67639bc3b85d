/** What an eye sees through a hole in the focuser's cap: flat, mirror and cross, before and after each step. */
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, element, group, linesOf, type Point, stroke, words } from "../pen.ts";
import type { Shown } from "../show.ts";

/** One look into the drawtube; shifts in parts of the drawtube's radius, right and up. */
export interface Look {
  /** its title */
  readonly name: string;
  /** the flat off the drawtube's middle */
  readonly flat: Point;
  /** the mirror's reflection off the flat's middle */
  readonly mirror: Point;
  /** the flat's own reflection in the mirror, with the hole of the cap, off the mark */
  readonly back: Point;
}

/** The three looks of the work as it is usually found, and the last one as it should be. */
export const LOOKS: readonly Look[] = [
  { name: "1 flat: shift it", flat: [0.13, 0.08], mirror: [-0.1, 0.1], back: [0.13, -0.09] },
  { name: "2 flat: tilt it", flat: [0, 0], mirror: [-0.17, 0.13], back: [0.13, -0.09] },
  { name: "3 mirror: tilt it", flat: [0, 0], mirror: [0, 0], back: [0.14, -0.1] },
  { name: "done", flat: [0, 0], mirror: [0, 0], back: [0, 0] },
];

const FLAT = 0.8, MIRROR = 0.62, BACK = 0.2;

function circle([cx, cy]: Point, r: number, kind: string, style?: string): Html {
  return element("circle", { cx, cy, r, class: kind, style });
}

function lookAt(look: Look, centre: Point, radius: number): Html {
  const move = ([x, y]: Point, [dx, dy]: Point): Point => [x + dx * radius, y - dy * radius];
  const flat = move(centre, look.flat),
    mirror = move(flat, look.mirror),
    back = move(mirror, look.back);
  const arm = radius * 0.95;
  return group(
    circle(centre, radius, "", "fill:var(--soft);stroke:var(--ink)"),
    circle(flat, FLAT * radius, "", "fill:var(--paper);stroke:var(--ink);stroke-width:1"),
    circle(mirror, MIRROR * radius, "rim", "fill:var(--glass-tint);stroke-width:1.5"),
    circle(back, BACK * radius, "", "fill:var(--soft);fill-opacity:.6;stroke:var(--ink)"),
    dot("theirs", mirror, 5, "stroke:var(--ink)"),
    dot("mine", back, 2.5),
    stroke("lead", [centre[0] - arm, centre[1]], [centre[0] + arm, centre[1]]),
    stroke("lead", [centre[0], centre[1] - arm], [centre[0], centre[1] + arm]),
  );
}

function draw(looks: readonly Look[], width: number, finding: string): Html {
  const small = isNarrow(width), columns = small ? 2 : Math.min(4, looks.length);
  const cell = width / columns, radius = Math.min(66, cell / 2 - 10), tall = 2 * radius + 56;
  const parts = looks.map((look, i) => {
    const centre: Point = [
      cell * ((i % columns) + 0.5),
      radius + 8 + tall * Math.floor(i / columns),
    ];
    return group(
      lookAt(look, centre, radius),
      linesOf(look.name, cell - 6).map((line, row) =>
        words([centre[0], centre[1] + radius + 20 + 16 * row], line, { anchor: "middle" })
      ),
    );
  });
  const rows = Math.ceil(looks.length / columns);
  return drawing({ width, height: tall * rows + 8, finding, contents: parts });
}

/**
 * Looks through the cap's hole, one a step: dark the drawtube, white the flat, tinted the mirror in it with its ring-shaped
 * mark, and in its middle the flat again, small, with the hole of the cap as a dot.
 *
 * @param looks  default the three steps and the end
 * @throws {RangeError} where there is no look, or a shift is not within 1
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(collimationView().text, /1 flat: shift it.*done/s);
 * ```
 */
export function collimationView(looks: readonly Look[] = LOOKS): Shown {
  const shifts = looks.flatMap(({ flat, mirror, back }) => [...flat, ...mirror, ...back]);
  if (looks.length === 0 || !shifts.every((shift) => Math.abs(shift) <= 1)) {
    throw new RangeError(
      `collimationView requires looks with shifts within 1, got ${JSON.stringify(looks)}`,
    );
  }
  const finding = `Looks through the hole of the cap, step by step: ${
    looks.map(({ name }) => name).join("; ")
  }.`;
  return figure({
    finding,
    caption:
      safe`<b>From outside to inside, one circle at a time.</b> Outermost the drawtube with the cap’s cross; inside it the flat; in the flat the mirror with the small ring of its mark; and smallest the flat again, with the hole of the cap as a dot: the dot belongs in the ring.`,
    draw: (width) => draw(looks, width, finding),
  });
}
