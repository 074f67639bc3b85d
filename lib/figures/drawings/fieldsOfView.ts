/** What fits into each eyepiece: the half Moon, and Jupiter with its moons, to the scale of the field. */
import type { Html } from "../html.ts";
import { dot, group, path, through, words } from "../pen.ts";
import type { Shown } from "../show.ts";
import { arc, handFigure, lit, unlit } from "./hands/sheet.ts";

/** An eyepiece on the mirror. */
export interface FieldOfView {
  /** of the eyepiece, mm */
  readonly focalLength: number;
  readonly magnification: number;
  /** width of sky in view, arcseconds */
  readonly fieldArcsec: number;
}

/** What is looked at. */
export interface InTheField {
  /** one drawing each */
  readonly fields: readonly FieldOfView[];
  /** width of the Moon, arcseconds */
  readonly moonArcsec: number;
  /** width of Jupiter, arcseconds */
  readonly jupiterArcsec: number;
  /** where its moons stand from the planet's middle, arcseconds */
  readonly moons: readonly { readonly eastArcsec: number; readonly northArcsec: number }[];
}

const R = 62, LEAST = 1.1;

function field(x: number, contents: Html, label: string): Html {
  return group(
    dot("", [x, R + 4], R, `fill:${unlit};stroke:var(--line)`),
    contents,
    words([x, 2 * R + 20], label, { anchor: "middle", kind: "soft" }),
  );
}

/**
 * The fields of some eyepieces, each as wide as the eye's own view in it; north above, east on the left, as no telescope turns it.
 *
 * @throws {RangeError} where a width is not above 0, or there is no eyepiece
 */
export function fieldsOfView({ fields, moonArcsec, jupiterArcsec, moons }: InTheField): Shown {
  const sizes = [moonArcsec, jupiterArcsec, ...fields.map(({ fieldArcsec }) => fieldArcsec)];
  if (fields.length === 0 || sizes.some((size) => !(size > 0 && Number.isFinite(size)))) {
    throw new RangeError(`fieldsOfView requires eyepieces and widths above 0, got ${sizes}`);
  }
  const panels = fields.map(({ focalLength, magnification, fieldArcsec }) => {
    const px = (arcsec: number): number => (arcsec / fieldArcsec) * 2 * R;
    const moon = Math.min(R, px(moonArcsec) / 2), x = R + 4, jupiter = 3 * R + 24;
    const half = path(
      "",
      through(arc([x, R + 4], moon, -90, 90, 48), true),
      `fill:${lit};stroke:none`,
    );
    const beside = moons.flatMap(({ eastArcsec, northArcsec }) =>
      Math.hypot(px(eastArcsec), px(northArcsec)) > R - 2 ? [] : [
        dot(
          "",
          [jupiter - px(eastArcsec), R + 4 - px(northArcsec)],
          LEAST,
          `fill:${lit};stroke:none`,
        ),
      ]
    );
    const planet = dot(
      "",
      [jupiter, R + 4],
      Math.max(1.6, px(jupiterArcsec) / 2),
      `fill:${lit};stroke:none`,
    );
    return {
      wide: 4 * R + 28,
      high: 2 * R + 26,
      label: `${Number(focalLength.toFixed(1))} mm, ${magnification.toFixed(0)}×, ${
        (fieldArcsec / 3600).toFixed(2)
      }° of sky`,
      contents: group(
        field(x, half, "half Moon"),
        field(jupiter, group(planet, ...beside), "Jupiter"),
      ),
    };
  });
  const whole = fields.filter(({ fieldArcsec }) => fieldArcsec >= moonArcsec)
    .map(({ focalLength }) => `${Number(focalLength.toFixed(1))} mm`);
  const fits = whole.length === 0
    ? "The whole Moon fits into none of these eyepieces"
    : `The whole Moon fits into the eyepiece of ${whole.join(" and of ")}`;
  return handFigure({
    finding:
      `${fits}; Jupiter is a small disc in each, with its moons in a line beside it where they fit.`,
    bold: `${fits}.`,
    caption:
      "Each circle is the edge of what you see. Moons of Jupiter are points; here they are drawn larger than they look. Your telescope turns the picture over.",
    panels,
  });
}
