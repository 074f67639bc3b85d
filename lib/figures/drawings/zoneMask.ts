/** The zone mask, to print at full size and cut out: odd zones across, even zones up and down, so that card stays between. */
import { bandHalfHeight, SECTOR_HALF_ANGLE } from "../../testing/zones/maskWindows.ts";
import { fixed } from "../scale.ts";
import { type Html, safe, trusted } from "../html.ts";
import { dot, group, path, place, type Point, stroke, words } from "../pen.ts";
import type { Shown } from "../show.ts";
import type { Opening } from "../plots/surfaceProfile.ts";

/** How a mask is cut and used, the same beside the figure and on the sheet. */
export const CUT_THE_MASK =
  "Cut out the tinted windows on a board, the knife away from the hand that holds, an adult beside; cut the rim last, for the strip outside the last window is narrow. Odd zones lie across; turn the mask by a quarter for the even ones. Type the edges that stand on your own mask, no others.";

/** A mask for one mirror; lengths mm. */
export interface Mask {
  /** clear width of the mirror */
  readonly aperture: number;
  /** from the middle outward */
  readonly openings: readonly Opening[];
  /** bands of one height, or sectors of one angle */
  readonly shape?: "bands" | "sectors";
}

/** An opening's outline to the right of the centre, turned by `turn`. */
function outline(
  { inner, outer }: Opening,
  shape: "bands" | "sectors",
  half: number,
  turn: number,
): string {
  const edge = (radius: number, up: number): Point => {
    const angle = shape === "bands" ? Math.asin(Math.min(1, half / Math.max(radius, half))) : half;
    return polar(radius, turn + up * angle);
  };
  if (inner === 0) return shape === "bands" ? acrossCentre(outer, half) : twoSectors(outer, half);
  const [a, b, c, d] = [edge(inner, 1), edge(outer, 1), edge(outer, -1), edge(inner, -1)].map(text);
  return `M${a}L${b}A${place(outer)},${place(outer)} 0 0 0 ${c}L${d}A${place(inner)},${
    place(inner)
  } 0 0 1 ${a}Z`;
}

/** The innermost sectors, tip to tip. */
function twoSectors(radius: number, half: number): string {
  const arc = `A${place(radius)},${place(radius)} 0 0 0 `;
  const [a, b, c, d] = [half, -half, Math.PI + half, Math.PI - half].map((turn) =>
    text(polar(radius, turn))
  );
  return `M0,0L${a}${arc}${b}ZM0,0L${c}${arc}${d}Z`;
}

/** The innermost band, across the centre; all of its circle where the band is higher than it. */
function acrossCentre(radius: number, half: number): string {
  if (half >= radius) return circle(radius * 0.999);
  const angle = Math.asin(half / radius), r = `A${place(radius)},${place(radius)} 0 0 0 `;
  const [a, b, c, d] = [angle, -angle, Math.PI + angle, Math.PI - angle].map((turn) =>
    text(polar(radius, turn))
  );
  return `M${a}${r}${b}L${c}${r}${d}Z`;
}

function polar(radius: number, angle: number): Point {
  return [radius * Math.cos(angle), radius * Math.sin(angle)];
}

function text([x, y]: Point): string {
  return `${place(x)},${place(y)}`;
}

function circle(radius: number): string {
  const r = place(radius);
  return `M${place(-radius)},0A${r},${r} 0 1 0 ${r},0A${r},${r} 0 1 0 ${place(-radius)},0Z`;
}

function contents({ aperture, openings, shape = "bands" }: Mask): Html {
  const half = shape === "bands" ? bandHalfHeight(openings, aperture) : SECTOR_HALF_ANGLE;
  const cut = openings.map((opening, i) => {
    const turns = i % 2 === 0 ? [0, Math.PI] : [Math.PI / 2, -Math.PI / 2];
    const sides = opening.inner === 0 ? [0] : turns;
    return group(
      sides.map((turn) => path("steel", outline(opening, shape, half, turn), "stroke-width:.3")),
    );
  });
  const r = aperture / 2;
  return group(
    path("body", circle(r), "fill:var(--paper);stroke:var(--ink);stroke-width:.3"),
    cut,
    stroke("lead", [-3, 0], [3, 0], "stroke-width:.2"),
    stroke("lead", [0, -3], [0, 3], "stroke-width:.2"),
    dot("theirs", [0, 0], 0.8, "stroke-width:.2"),
    stroke("dim", [-50, r + 8], [50, r + 8], "stroke-width:.3"),
    stroke("dim", [-50, r + 6], [-50, r + 10], "stroke-width:.3"),
    stroke("dim", [50, r + 6], [50, r + 10], "stroke-width:.3"),
    words([0, r + 14], "100 mm: measure it on the print", { anchor: "middle" }),
  );
}

/**
 * A zone mask at full size: millimetres on paper, scaled down on a narrow screen.
 *
 * @param mask  mm; edges rising from the centre, the last within the aperture
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const mask = zoneMask({ aperture: 150, openings: [{ inner: 0, outer: 30 }, { inner: 30, outer: 45 }] });
 * assert.match(mask.html, /width="154mm"/);
 * ```
 */
export function zoneMask(mask: Mask): Shown {
  const { aperture, openings } = mask;
  const rising = openings.every((o, i) =>
    o.outer > o.inner && o.inner >= (openings[i - 1]?.outer ?? 0)
  );
  if (
    !(aperture > 0 && openings.length > 0 && rising &&
      (openings.at(-1)?.outer ?? 0) <= aperture / 2)
  ) {
    throw new RangeError(
      `zoneMask requires openings with rising edges inside the aperture in mm, got aperture=${aperture}, openings=${
        JSON.stringify(openings)
      }`,
    );
  }
  const edges = [...new Set(openings.flatMap((o) => [o.inner, o.outer]))].map((e) =>
    fixed(e, Number.isInteger(Math.round(10 * e) / 10) ? 0 : 1)
  ).join(
    " ",
  );
  const finding = `A mask of ${openings.length} zones for a disc of ${
    fixed(aperture)
  } mm, edges at ${edges} mm from the centre, to print at full size.`;
  const side = aperture + 4, tall = aperture + 22, corner = aperture / 2 + 2;
  const box = trusted(
    `width="${place(side)}mm" height="${place(tall)}mm" viewBox="${place(-corner)} ${
      place(-corner)
    } ${place(side)} ${place(tall)}"`,
  );
  const style = trusted("<style>.first-mask text{font-size:4px!important}</style>");
  const svg = safe`<svg role="img" aria-label="${finding}" class="plot" ${box}>${
    contents(mask)
  }</svg>`;
  const markup = safe`<figure class="wide first-mask">${style}
${svg}
<figcaption><b>Print at 100 %, measure the line, glue it on card.</b> ${CUT_THE_MASK} Here they are ${edges} mm from the centre.</figcaption>
</figure>`;
  return { html: markup.markup, text: finding };
}
