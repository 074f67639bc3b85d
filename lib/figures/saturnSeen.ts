/** Saturn as an eyepiece shows it: larger with the magnification, never finer than the mirror and the air allow. */
import { figure } from "./figure.ts";
import { fixed } from "./digits.ts";
import { type Html, safe } from "./html.ts";
import { drawing, element, group, place, type Point, words } from "./pen.ts";
import type { Shown } from "./show.ts";

/** What is looked at, and through what. */
export interface SaturnView {
  /** of the mirror, mm */
  readonly aperture: number;
  /** length of the rings and width of the globe, arcseconds */
  readonly ringsArcsec: number;
  readonly globeArcsec: number;
  /** how far the rings are open, rad */
  readonly ringTilt: number;
  readonly magnifications: readonly number[];
  /** width of the blur by the air, arcseconds: 0 still, 3 a bad night */
  readonly seeingArcsec: readonly number[];
}

/** px for one degree in the eyepiece, as if the sheet were 600 mm away at 96 px an inch. */
const PX_PER_DEGREE = (600 * Math.PI) / 180 * (96 / 25.4);
/** Edges of ring A, of the dark division and of ring B, in parts of the outer edge (MEMORY: 136 775, 122 170, 117 580, 92 000 km). */
const RINGS = [[1, 0.8932], [0.8597, 0.6726]] as const;

/** Standard width of the blur, arcseconds: the mirror's own (1.03 wavelength / D across its half height) and the air's. */
function blurOf(aperture: number, seeing: number): number {
  const mirror = (1.03 * 550e-6 * 206264.806) / aperture;
  return Math.hypot(mirror, seeing) / 2.3548;
}

/** Half a ring, the part behind the globe (up) or before it. */
function halfRing([x, y]: Point, outer: number, inner: number, open: number, sweep: 0 | 1): string {
  const [a, b] = [outer, outer * open], [c, d] = [inner, inner * open];
  const [l, r, li, ri, Y] = [x - a, x + a, x - c, x + c, y].map(place);
  return `M${l},${Y}A${place(a)},${place(b)} 0 0 ${sweep} ${r},${Y}H${ri}A${place(c)},${
    place(d)
  } 0 0 ${1 - sweep} ${li},${Y}Z`;
}

function planet(view: SaturnView, centre: Point, magnification: number, seeing: number): Html {
  const k = (magnification * PX_PER_DEGREE) / 3600, half = (view.ringsArcsec / 2) * k;
  const open = Math.sin(view.ringTilt), light = "fill:#e9dfc4", dim = "fill:#cdbf99";
  const rings = (sweep: 0 | 1): Html =>
    group(RINGS.map(([outer, inner], i) =>
      element("path", {
        d: halfRing(centre, outer * half, inner * half, open, sweep),
        style: i === 0 ? dim : light,
      })
    ));
  const globe = (view.globeArcsec / 2) * k;
  const parts = group(
    rings(1),
    element("ellipse", { cx: centre[0], cy: centre[1], rx: globe, ry: globe * 0.91, style: light }),
    rings(0),
  );
  const blur = (blurOf(view.aperture, seeing) * k).toFixed(2);
  return safe`<g style="${`filter:blur(${blur}px)`}">${parts}</g>`;
}

function draw(view: SaturnView, width: number, finding: string): Html {
  const { magnifications, seeingArcsec } = view, tall = 92;
  const total = magnifications.reduce((sum, m) => sum + m + 40, 0);
  const rows = seeingArcsec.map((seeing, row) => {
    const top = row * (tall + 48) + 22;
    let left = 0;
    return group(
      words([0, top - 7], seeing === 0 ? "still air" : `air that blurs by ${seeing}″`, {
        kind: "b",
      }),
      element("rect", { x: 0, y: top, width, height: tall, style: "fill:#10171a" }),
      magnifications.map((m) => {
        const cell = (width * (m + 40)) / total, centre: Point = [left + cell / 2, top + tall / 2];
        left += cell;
        return group(
          planet(view, centre, m, seeing),
          words([centre[0], top + tall + 17], `${fixed(m)}×`, { anchor: "middle" }),
        );
      }),
    );
  });
  return drawing({ width, height: seeingArcsec.length * (tall + 48) + 4, finding, contents: rows });
}

/**
 * Saturn at several magnifications, in still air and in bad, simulated: shapes to scale, blurred by a bell as wide as the
 * mirror's and the air's blur together.
 *
 * @param view  aperture above 0 mm, sizes above 0 arcseconds, magnifications above 0, blur 0 or more
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const saturn = { ringsArcsec: 44.7, globeArcsec: 19.7, ringTilt: 0.13 };
 * const shown = saturnSeen({ aperture: 150, ...saturn, magnifications: [48, 120], seeingArcsec: [0] });
 * assert.match(shown.text, /48 and 120 times/);
 * ```
 */
export function saturnSeen(view: SaturnView): Shown {
  const { aperture, ringsArcsec, globeArcsec, ringTilt, magnifications, seeingArcsec } = view;
  const sizes = [aperture, ringsArcsec, globeArcsec, ...magnifications];
  const ok = sizes.every((size) => size > 0 && Number.isFinite(size)) &&
    magnifications.length > 0 &&
    seeingArcsec.length > 0 && seeingArcsec.every((seeing) => seeing >= 0) &&
    Number.isFinite(ringTilt);
  if (!ok) {
    throw new RangeError(
      `saturnSeen requires sizes and magnifications above 0 and blur of 0 or more, got ${
        JSON.stringify(view)
      }`,
    );
  }
  const times = magnifications.map((m) => fixed(m)).join(" and ");
  const finest = fixed(138 / aperture, 2);
  const finding =
    `Saturn, its rings ${fixed(ringsArcsec, 1)}″ long, at ${times} times through ${
      fixed(aperture)
    } mm, simulated: ` +
    `the picture grows, its finest detail of about ${finest}″ stays.`;
  return figure({
    finding,
    caption: safe`<b>It grows, and grows no finer.</b> Simulated, with ${
      fixed(aperture)
    } mm: detail below about ${finest}″ is lost whatever the eyepiece. Hold the page 60 cm away to see the sizes as in the eyepiece.`,
    draw: (width) => draw(view, width, finding),
  });
}
