/** The mirror on its points, seen from the front: where the glass stands high and where it hangs, by shades and a scale. */
import { fixed, signed } from "../scale.ts";
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, element, group, type Point, rect, words } from "../pen.ts";
import type { Shown } from "../show.ts";

/** A disc that sags; lengths mm, heights nm of glass. */
export interface SaggingDisc {
  readonly aperture: number;
  /** height at (r, angle), + where the points push */
  readonly at: (r: number, angle: number) => number;
  readonly rms: number;
  /** where the points stand, mm and rad */
  readonly points: readonly { readonly radius: number; readonly angle: number }[];
  /** what carries it, for the caption: "3 points" */
  readonly name: string;
}

/** Shades from low to high: paper tinted with the glass's colour, so that grey print keeps the order. */
const STEPS = 7;

function shade(step: number): string {
  const strength = 8 + (82 * step) / (STEPS - 1);
  return `fill:color-mix(in srgb, var(--glass) ${Math.round(strength)}%, var(--paper))`;
}

interface Cells {
  readonly low: number;
  readonly high: number;
  readonly cells: readonly {
    readonly ring: number;
    readonly sector: number;
    readonly height: number;
  }[];
}

const RINGS = 16, SECTORS = 72;

function sampled({ aperture, at }: SaggingDisc): Cells {
  const cells = Array.from({ length: RINGS * SECTORS }, (_, i) => {
    const ring = Math.floor(i / SECTORS), sector = i % SECTORS;
    const r = ((ring + 0.5) / RINGS) * (aperture / 2),
      angle = (2 * Math.PI * (sector + 0.5)) / SECTORS;
    return { ring, sector, height: at(r, angle) };
  });
  const rim = Array.from(
    { length: SECTORS },
    (_, i) => at(aperture / 2, (2 * Math.PI * i) / SECTORS),
  );
  const heights = [...cells.map(({ height }) => height), ...rim];
  return { cells, low: Math.min(...heights), high: Math.max(...heights) };
}

/** One ring's run of sectors of one shade, as a path. */
function piece(r0: number, r1: number, from: number, to: number, [cx, cy]: Point): string {
  const at = (r: number, sector: number): string => {
    const angle = (2 * Math.PI * sector) / SECTORS;
    return `${(cx + r * Math.cos(angle)).toFixed(1)},${(cy - r * Math.sin(angle)).toFixed(1)}`;
  };
  const large = to - from > SECTORS / 2 ? 1 : 0;
  const outer = `A${r1.toFixed(1)},${r1.toFixed(1)} 0 ${large} 0 ${at(r1, to)}`;
  const inner = r0 === 0 ? "" : `A${r0.toFixed(1)},${r0.toFixed(1)} 0 ${large} 1 ${at(r0, from)}`;
  return `M${at(r0, from)}L${at(r1, from)}${outer}L${at(r0, to)}${inner}Z`;
}

function face({ low, high, cells }: Cells, centre: Point, radius: number): Html {
  const span = high > low ? high - low : 1;
  const step = (height: number): number =>
    Math.min(STEPS - 1, Math.floor(((height - low) / span) * STEPS));
  const byShade = Array.from({ length: STEPS }, (): string[] => []);
  for (let ring = 0; ring < RINGS; ring++) {
    const row = cells.filter((cell) => cell.ring === ring).map(({ height }) => step(height));
    for (let from = 0; from < SECTORS;) {
      let to = from + 1;
      while (to < SECTORS && row[to] === row[from] && to - from < SECTORS / 2) to++;
      byShade[row[from] ?? 0]?.push(
        piece((ring / RINGS) * radius, ((ring + 1) / RINGS) * radius, from, to, centre),
      );
      from = to;
    }
  }
  return group(
    byShade.map((pieces, i) =>
      pieces.length === 0
        ? group()
        : element("path", { d: pieces.join(""), style: `${shade(i)};stroke:none` })
    ),
    element("circle", { cx: centre[0], cy: centre[1], r: radius, class: "rim" }),
  );
}

/** Shades with their heights, at the right on a wide sheet, beneath on a narrow one. */
function key({ low, high }: Cells, [x, y]: Point, small: boolean): Html {
  const side = small ? 36 : 20;
  return group(
    Array.from({ length: STEPS }, (_, i) => {
      const step = small ? i : STEPS - 1 - i;
      const corner: Point = small ? [x + i * side, y] : [x, y + i * side];
      return rect("lead", corner, side, small ? 14 : side, shade(step));
    }),
    small
      ? group(
        words([x, y + 30], `${signed(low, 1)} nm`),
        words([x + STEPS * side, y + 30], `${signed(high, 1)} nm`, { anchor: "end" }),
      )
      : group(
        words([x + side + 8, y + 11], `${signed(high, 1)} nm`),
        words([x + side + 8, y + STEPS * side - 2], `${signed(low, 1)} nm`),
      ),
  );
}

function draw(disc: SaggingDisc, cells: Cells, width: number, finding: string): Html {
  const small = isNarrow(width), radius = small ? 120 : 140;
  const centre: Point = [small ? width / 2 : 160, radius + 10];
  const at = (r: number, angle: number): Point => {
    const px = (r / (disc.aperture / 2)) * radius;
    return [centre[0] + px * Math.cos(angle), centre[1] - px * Math.sin(angle)];
  };
  const keyAt: Point = small ? [(width - STEPS * 36) / 2, 2 * radius + 26] : [340, 60];
  return drawing({
    width,
    height: 2 * radius + (small ? 90 : 34),
    finding,
    contents: [
      face(cells, centre, radius),
      group(
        disc.points.map(({ radius: r, angle }) =>
          dot("theirs", at(r, angle), 5, "stroke:var(--ink)")
        ),
      ),
      key(cells, keyAt, small),
      small
        ? words([width / 2, 2 * radius + 80], "rings: the points that carry the glass", {
          anchor: "middle",
          kind: "soft",
        })
        : words([340, 60 + STEPS * 20 + 30], "rings: the points that carry the glass", {
          kind: "soft",
        }),
    ],
  });
}

/**
 * A map of the glass on its points: light hangs low, dark stands high.
 *
 * @param disc  aperture above 0 mm, heights finite
 * @throws {RangeError} where the aperture is not above 0 or a height is not finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const flat = { aperture: 150, at: (r: number) => 2 - r / 30, rms: 0.6, points: [], name: "3 points" };
 * assert.match(sagMap(flat).text, /RMS 0.6 nm/);
 * ```
 */
export function sagMap(disc: SaggingDisc): Shown {
  const cells = sampled(disc);
  if (!(disc.aperture > 0 && Number.isFinite(cells.low + cells.high + disc.rms))) {
    throw new RangeError(
      `sagMap requires an aperture above 0 mm and finite heights, got aperture=${disc.aperture}, rms=${disc.rms}`,
    );
  }
  const low = fixed(cells.low, 1), high = signed(cells.high, 1), rms = fixed(disc.rms, 1);
  const finding = `A mirror ${
    fixed(disc.aperture)
  } mm wide on ${disc.name}: the glass stands between ${low} and ${high} nm, RMS ${rms} nm.`;
  return figure({
    finding,
    caption:
      safe`<b>On ${disc.name} the glass hangs between ${low} and ${high} nm.</b> Dark stands high, light hangs low; a thin plate, looking straight up: shear makes a thick disc sag a little more. RMS ${rms} nm of glass, twice that on the wavefront.`,
    draw: (width) => draw(disc, cells, width, finding),
  });
}
