/** The profile of a mirror at one width of the page: the line with its band, its span beside the goal's. */
import { axisLine } from "../../figures/axisLine.ts";
import { digitsOf, signed } from "../../figures/digits.ts";
import { type Html, safe } from "../../figures/html.ts";
import { down, path, type Point, stroke, through, words } from "../../figures/pen.ts";
import { extent, type Scale, scale, ticks } from "../../figures/scale.ts";
import type { Q } from "../../record/summaryTypes.ts";
import { plainNumber } from "./facts.ts";

/** What is drawn. */
export interface ProfileParts {
  readonly width: number;
  /** the look's class that chooses this width */
  readonly only: string;
  /** radius in mm, height and its standard uncertainty in nm; at least two */
  readonly points: readonly { radius: number; surface_error: number; u: number }[];
  readonly pv?: Q;
  /** what the goal allows from peak to valley, nm */
  readonly goalNm: number;
  readonly finding: string;
}

const top = 34, bottom = 162, left = 44, height = 208;

function grid(y: Scale, domain: readonly [number, number], right: number): Html[] {
  const marks = ticks(domain[0], domain[1], 5);
  const digits = digitsOf((marks[1] ?? 1) - (marks[0] ?? 0));
  return marks.map((mark) =>
    safe`${
      stroke(
        mark === 0 ? "dim" : "axis",
        [left, y(mark)],
        [right, y(mark)],
        mark === 0 ? "" : "stroke:var(--hair);stroke-width:.75",
      )
    }${words([left - 9, y(mark) + 4.5], signed(mark, digits), { kind: "soft", anchor: "end" })}`
  );
}

function span(x: number, from: number, to: number, colour: string): Html {
  return safe`<g style="--ink:var(--${colour})">${down(x, from, to)}</g>`;
}

/** Peak to valley as found and as allowed, at the right of the line, on the scale of the heights. */
function spans(parts: ProfileParts, y: Scale, right: number): Html {
  const { points, pv, goalNm, width } = parts;
  const heights = points.map((point) => point.surface_error);
  const high = Math.max(...heights), low = Math.min(...heights);
  const middle = (y(high) + y(low)) / 2;
  const goal = Math.abs(y(goalNm) - y(0));
  const narrow = width < 500;
  const found = plainNumber(pv?.value ?? high - low, 2);
  const label = narrow || pv?.u === undefined ? found : `${found} ± ${plainNumber(pv.u, 1)}`;
  const goalAt = right + (narrow ? 40 : 76);
  return safe`${span(right + 14, y(high), y(low), "glass")}${
    words([right + 24, middle + 4.5], label, { kind: "t-glass b" })
  }${span(goalAt, middle - goal / 2, middle + goal / 2, "rouge")}${
    words(
      [goalAt, middle + goal / 2 + 17],
      narrow ? plainNumber(goalNm, 2) : `goal ${plainNumber(goalNm, 2)}`,
      {
        kind: "t-rouge",
        anchor: "middle",
      },
    )
  }`;
}

/**
 * One drawing of the profile.
 *
 * @throws {RangeError} where a coordinate is not finite
 */
export function profileDrawing(parts: ProfileParts): Html {
  const { width, only, points, goalNm, finding } = parts;
  const right = width - (width < 500 ? 62 : 108);
  const ends = points.flatMap(({ surface_error: h, u }) => [h - 2 * u, h + 2 * u]);
  const [low, high] = extent([...ends, 0], 0.05);
  const room = Math.max(0, goalNm - (high - low)) / 2;
  const domain: [number, number] = [low - room, high + room];
  const last = points.at(-1)?.radius ?? 1;
  const x = scale(0, last, left, right), y = scale(domain[0], domain[1], bottom, top);
  const at = (nm: number, radius: number): Point => [x(radius), y(nm)];
  const above = points.map(({ radius, surface_error: h, u }) => at(h + 2 * u, radius));
  const below = points.map(({ radius, surface_error: h, u }) => at(h - 2 * u, radius));
  const lineOf = points.map(({ radius, surface_error: h }) => at(h, radius));
  return safe`<svg role="img" aria-label="${finding}" class="plot ${only}" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}">${
    words([0, 14], "Height of the glass over the wanted curve (nm)")
  }${grid(y, domain, right)}${path("body", through([...above, ...below.reverse()], true))}${
    path("mine", through(lineOf), "fill:none;stroke-width:2;stroke-linejoin:round")
  }${
    axisLine({
      domain: [0, last],
      from: left,
      to: right,
      y: bottom,
      title: "Distance from the centre (mm)",
    }, x)
  }${spans(parts, y, right)}</svg>`;
}
