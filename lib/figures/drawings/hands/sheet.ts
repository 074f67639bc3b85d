/** What the drawings of the hands' work are made of: panels that find their rows, arrows, hands, a figure's limbs, a plain “not so”. */
import { figure } from "../../figure.ts";
import { type Html, safe, trusted } from "../../html.ts";
import {
  dot,
  drawing,
  group,
  linesOf,
  path,
  place,
  type Point,
  stroke,
  through,
  words,
} from "../../pen.ts";
import type { Shown } from "../../show.ts";

/** One picture of a drawing, px; drawn in its own coordinates from its upper left corner. */
export interface Panel {
  readonly wide: number;
  readonly high: number;
  /** what stands below it; a number before it where the order counts */
  readonly label: string;
  readonly contents: Html;
}

/** A drawing of the hands' work: its panels side by side as far as the page is wide, its words. */
export interface HandFigure {
  /** what is to be seen, for those who cannot see it */
  readonly finding: string;
  /** the finding in bold, then what else there is to say */
  readonly bold: string;
  readonly caption: string;
  readonly panels: readonly Panel[] | ((width: number) => readonly Panel[]);
}

/** A drawing of the hands' work: on a page, and alone for paper. */
export interface HandShown extends Shown {
  /** what stands below it, in words */
  readonly caption: string;
  /** draws it for a width, px */
  readonly alone: (width: number) => { readonly contents: Html; readonly height: number };
}

/** Light and its absence as the eye sees them: these do not turn over when the page is dark. */
export const lit = "#fdfdfb", unlit = "#14191a";

const gap = 16, lineHeight = 17;

/** Lays panels into rows; the same distance below each row. */
function rowsOf(
  panels: readonly Panel[],
  width: number,
): { readonly contents: Html; readonly height: number } {
  const widest = Math.max(...panels.map(({ wide }) => wide));
  const most = Math.max(1, Math.floor((width + gap) / (widest + gap)));
  const columns = Math.ceil(panels.length / Math.ceil(panels.length / most));
  const each = columns === 1 ? width : (width - (columns - 1) * gap) / columns;
  const placed: Html[] = [];
  let y = 4;
  for (let first = 0; first < panels.length; first += columns) {
    const row = panels.slice(first, first + columns);
    const high = Math.max(...row.map((panel) => panel.high));
    const labels = row.map(({ label }) => linesOf(label, Math.max(each, widest)));
    row.forEach((panel, i) => {
      const left = i * (each + gap), lines = labels[i] ?? [];
      placed.push(moved(left + Math.max(0, (each - panel.wide) / 2), y, panel.contents));
      lines.forEach((text, k) =>
        placed.push(
          words([left + each / 2, y + high + 16 + k * lineHeight], text, { anchor: "middle" }),
        )
      );
    });
    y += high + 10 + lineHeight * Math.max(...labels.map((lines) => lines.length)) + 14;
  }
  return { contents: group(...placed), height: y };
}

/** A drawing of the hands' work at every width of the page. */
export function handFigure({ finding, bold, caption, panels }: HandFigure): HandShown {
  const alone: HandShown["alone"] = (width) =>
    rowsOf(typeof panels === "function" ? panels(width) : panels, width);
  const onPage = (): Shown =>
    figure({
      finding,
      caption: safe`<b>${bold}</b> ${caption}`,
      draw: (width) => drawing({ width, finding, ...alone(width) }),
    });
  // made when it is asked for: a page wants the one, paper the other
  return {
    get html() {
      return onPage().html;
    },
    get text() {
      return onPage().text;
    },
    caption: `${bold} ${caption}`,
    alone,
  };
}

/** Everything inside moved by so many px. */
export function moved(x: number, y: number, contents: Html): Html {
  return safe`<g transform="translate(${trusted(`${place(x)} ${place(y)}`)})">${contents}</g>`;
}

/** Everything inside turned about a point, degrees clockwise as seen. */
export function turned(degrees: number, [x, y]: Point, contents: Html): Html {
  return safe`<g transform="rotate(${
    trusted(`${place(degrees)} ${place(x)} ${place(y)}`)
  })">${contents}</g>`;
}

/** A point at a distance from another; angles in degrees, 0 to the right, clockwise as seen. */
export function around([x, y]: Point, radius: number, degrees: number): Point {
  const angle = degrees * Math.PI / 180;
  return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
}

function head(tip: Point, degrees: number, colour: string): Html {
  const [a, b] = [around(tip, 8, degrees + 155), around(tip, 8, degrees - 155)];
  return path("", through([tip, a, b], true), `fill:${colour};stroke:none`);
}

/** An arrow, in ink unless a colour of the look is named. */
export function arrow(from: Point, to: Point, colour = "var(--ink)"): Html {
  const degrees = Math.atan2(to[1] - from[1], to[0] - from[0]) * 180 / Math.PI;
  return group(
    stroke("dim", from, around(to, -5, degrees), `stroke-width:1.5;stroke:${colour}`),
    head(to, degrees, colour),
  );
}

/** An arrow both ways. */
export function bothWays(from: Point, to: Point): Html {
  const middle: Point = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
  return group(arrow(middle, from), arrow(middle, to));
}

/** An arrow along a circle, clockwise where the second angle is larger. */
export function turnArrow(centre: Point, radius: number, from: number, to: number): Html {
  const steps = 40, way = to > from ? 1 : -1;
  const last = to - way * 4 * 57.3 / radius;
  const points = Array.from(
    { length: steps + 1 },
    (_, i) => around(centre, radius, from + (last - from) * i / steps),
  );
  return group(
    path("dim", through(points), "stroke-width:1.5"),
    head(around(centre, radius, to), to + way * (90 - 4 * 28 / radius), "var(--ink)"),
  );
}

/** A part of a circle's rim as points. */
export function arc(centre: Point, radius: number, from: number, to: number, steps = 48): Point[] {
  return Array.from(
    { length: steps + 1 },
    (_, i) => around(centre, radius, from + (to - from) * i / steps),
  );
}

/** A thick line with an outline: a finger, an arm, a hose. */
export function limb(points: readonly Point[], wide: number, fill = "var(--paper)"): Html {
  const line = "fill:none;stroke-linecap:round;stroke-linejoin:round";
  return group(
    path("", through(points), `${line};stroke:var(--ink);stroke-width:${wide}`),
    path("", through(points), `${line};stroke:${fill};stroke-width:${wide - 2.4}`),
  );
}

/** Several limbs as one shape: all outlines first, then all insides, so that no line runs across. */
export function limbs(
  parts: readonly (readonly [points: readonly Point[], wide: number])[],
  fill = "var(--paper)",
): Html {
  const line = "fill:none;stroke-linecap:round;stroke-linejoin:round";
  return group(
    ...parts.map(([points, wide]) =>
      path("", through(points), `${line};stroke:var(--ink);stroke-width:${wide}`)
    ),
    ...parts.map(([points, wide]) =>
      path("", through(points), `${line};stroke:${fill};stroke-width:${wide - 2.4}`)
    ),
  );
}

/**
 * A hand from above, its fingers pointing along `degrees`; the wrist lies behind the place, the palm on it.
 *
 * @param side  which hand
 */
export function hand(at: Point, degrees: number, side: "left" | "right", k = 1): Html {
  const thumb = side === "right" ? -1 : 1;
  const to = (along: number, across: number): Point => {
    const forward = around(at, k * along, degrees);
    return around(forward, k * across, degrees + 90);
  };
  const finger = (across: number, long: number): readonly [Point[], number] => [
    [to(4, across), to(long, across * 1.12)],
    k * 9,
  ];
  return limbs([
    [[to(-46, 0), to(-14, 0)], k * 20],
    [[to(-8, -7), to(4, -7)], k * 19],
    [[to(-8, 7), to(4, 7)], k * 19],
    finger(-13.5, 30),
    finger(-4.6, 37),
    finger(4.6, 35),
    finger(13.2, 26),
    [[to(-8, 9 * thumb), to(6, 22 * thumb), to(15, 25 * thumb)], k * 10],
  ]);
}

/** Two strokes through what is not to be done. */
export function notSo([x, y]: Point, wide: number, high: number): Html {
  const style = "stroke:var(--rouge);stroke-width:3;stroke-linecap:round";
  return group(
    stroke("", [x, y], [x + wide, y + high], style),
    stroke("", [x + wide, y], [x, y + high], style),
  );
}

/** A name with a thin line to its thing. */
export function named(
  text: string,
  at: Point,
  thing: Point,
  anchor: "start" | "middle" | "end" = "start",
): Html {
  const [x, y] = at;
  const from: Point = anchor === "middle"
    ? [x, y + (thing[1] > y ? 4 : -12)]
    : [anchor === "start" ? x - 3 : x + 3, y - 4.5];
  return group(
    stroke("lead", from, thing),
    words(at, text, { kind: "halo", anchor }),
  );
}

/** A water drop, a spray of drops. */
export function drops(at: Point, count = 5): Html {
  return group(
    ...Array.from({ length: count }, (_, i) =>
      dot(
        "mine",
        [at[0] + 9 * (i % 3) + 4 * Math.floor(i / 3), at[1] + 8 * Math.floor(i / 3)],
        1.8,
      )),
  );
}
