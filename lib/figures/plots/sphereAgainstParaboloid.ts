/** How far a sphere's glass lies from the paraboloid that sends all light to one point. */
import { type Departure, sphereDepartures, sphereGlassPv } from "../drawings/sphereDeparture.ts";
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { extent, fixed } from "../scale.ts";
import type { Shown } from "../show.ts";
import { bracket, lines, onPaper, Plot, plotDocument, styledPlot } from "./style.ts";

/** A spherical mirror; mm, wavelength nm. */
export interface Sphere {
  /** clear width, mm */
  readonly aperture: number;
  /** radius of curvature R, mm */
  readonly radius: number;
  /** nm; default 550 */
  readonly wavelength?: number;
}

function draw(sphere: Sphere, curve: readonly Departure[], width: number, finding: string): Html {
  const rim = sphere.aperture / 2, small = isNarrow(width), marginRight = small ? 82 : 108;
  const low = Math.min(...curve.map((p) => p.best)), atRim = curve.at(-1)?.same ?? 0;
  const px = rim / (width - 44 - marginRight);
  const label = (
    x: number,
    y: number,
    text: string,
    dy: number,
    fill = "currentColor",
  ): Plot.Markish => Plot.text([[x, y]], { ...onPaper, dy, fill, text: () => text });
  return styledPlot({
    width,
    height: 280,
    finding,
    marginRight,
    x: { title: "Distance from the centre (mm)", domain: [0, rim] },
    y: {
      title: "Sphere over the paraboloid, glass (nm)",
      domain: extent([low * 1.5, atRim], 0.06),
    },
    marks: [
      Plot.ruleY([0], lines.wanted),
      Plot.line(curve, { x: "radius", y: "same", stroke: "var(--graphite)", strokeWidth: 1 }),
      Plot.line(curve, { x: "radius", y: "best", ...lines.yours }),
      label(rim * 0.03, 0, "paraboloid", -9),
      label(
        rim * (small ? 0.3 : 0.42),
        curve[38]?.same ?? 0,
        "same middle",
        -12,
        "var(--graphite)",
      ),
      label(
        rim * 0.36,
        low,
        small ? "best focus" : "same middle and same rim: best focus",
        14,
        "var(--glass)",
      ),
      ...bracket({
        x: rim + 14 * px,
        low,
        high: 0,
        label: `${fixed(-low)} nm`,
        colour: "var(--glass)",
        px,
      }),
    ],
  }, plotDocument());
}

/**
 * A sphere beside the paraboloid it should be.
 *
 * @param sphere  mm; 0 < aperture < 2 x radius; wavelength in nm, default 550
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(sphereAgainstParaboloid({ aperture: 150, radius: 2400 }).text, /286 nm .* 0\.26 wave/);
 * ```
 */
export function sphereAgainstParaboloid(sphere: Sphere): Shown {
  const { aperture, radius, wavelength = 550 } = sphere;
  if (!(aperture > 0 && aperture < 2 * radius && wavelength > 0)) {
    throw new RangeError(
      `sphereAgainstParaboloid requires 0 < aperture < 2 x radius in mm and a wavelength above 0 nm, got ${aperture}, ${radius}, ${wavelength}`,
    );
  }
  const curve = sphereDepartures(aperture, radius), glass = sphereGlassPv(aperture, radius);
  const rim = fixed(curve.at(-1)?.same ?? 0), waves = fixed(2 * glass / wavelength, 2);
  const finding =
    `A sphere ${fixed(aperture)} mm across with a radius of ${fixed(radius)} mm stands ${rim} nm ` +
    `above the paraboloid at the rim; at best focus ${
      fixed(glass)
    } nm of glass remain, ${waves} wave of wavefront.`;
  return figure({
    finding,
    caption: safe`<b>At best focus ${
      fixed(glass)
    } nm of glass remain, ${waves} wave of wavefront</b> at ${
      fixed(wavelength)
    } nm. The light passes the error twice, so the wavefront has double the glass. For the whole ${
      fixed(aperture)
    } mm.`,
    draw: (width) => draw(sphere, curve, width, finding),
  });
}
