/** Live: a ringed planet through this mirror, an eyepiece and the air: it grows, and grows no finer. */
import { ARCSEC, viewThrough } from "../../sky/eyepiece.ts";
import { PX_PER_DEGREE } from "../drawings/saturn.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, type Point, stroke, through, words } from "../pen.ts";
import { fixed, scale } from "../scale.ts";
import { type Control, levels, type LiveFigure, once, valueOf, type Values } from "./figure.ts";
import type { Paint, Pixels } from "./pixels.ts";
import { gapDepth, lightBetween, planetImages } from "./planetImage.ts";

const mirror = { aperture: 150, focalLength: 1200 }, apparentField = (50 * Math.PI) / 180;
/** What an eye tells apart in a faint picture, arcseconds (COMMON PRACTICE: two arcminutes). */
const eye = 120;
/** Width of both pictures, px, arcseconds in a pixel of the enlarged one, and light that is lost in the dark of the sky. */
const width = 344, enlarged = 52 / width, dark = 0.004;

/** A planet in the eyepiece. */
export interface PlanetView {
  readonly magnification: number;
  /** mm */
  readonly exitPupil: number;
  /** blur by mirror and air, and the finest detail that reaches the mind through this eyepiece, arcseconds */
  readonly blur: number;
  readonly finest: number;
  /** how dark the gap in the rings looks, 0 to 1 */
  readonly gap: number;
  /** as large as in the eyepiece, and always enlarged alike */
  readonly inEyepiece: Pixels;
  readonly alike: Pixels;
}

/** The finest detail at a magnification, arcseconds. */
const finestAt = (blur: number, magnification: number): number =>
  Math.hypot(blur, eye / magnification);

function pictured(image: Float64Array, arcsec: number, height: number): Pixels {
  const values = new Float64Array(width * height);
  for (let k = 0; k < values.length; k++) {
    const x = (k % width) - (width - 1) / 2, y = (height - 1) / 2 - Math.floor(k / width);
    values[k] = Math.sqrt(Math.max(0, lightBetween(image, arcsec * x, -arcsec * y) - dark));
  }
  return { width, height, values };
}

/**
 * What a 150 mm f/8 shows of the planet.
 *
 * @param values  eyepiece mm; seeing arcseconds; obstruction, share of the diameter; error, waves P-V
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const view = planetView({ eyepiece: 25, seeing: 0, obstruction: 0, error: 0 });
 * assert.deepEqual([view.magnification, view.exitPupil], [48, 3.125]);
 * ```
 */
export function planetView(values: Values): PlanetView {
  const focalLength = valueOf(values, "eyepiece");
  const { magnification, exitPupil } = viewThrough(mirror, { focalLength, apparentField });
  const pixel = 3600 / (PX_PER_DEGREE * magnification);
  const { seen, felt } = planetImages(values, pixel, eye / magnification);
  const blur = Math.hypot(
    (1.03 * 550e-6 * ARCSEC) / mirror.aperture,
    valueOf(values, "seeing"),
  );
  return {
    ...{ magnification, exitPupil, blur, finest: finestAt(blur, magnification) },
    gap: gapDepth(felt),
    inEyepiece: pictured(seen, pixel, 96),
    alike: pictured(felt, enlarged, 146),
  };
}

const viewNow = once(planetView);

const x = scale(0, 350, 40, 340), y = scale(0, 5, 118, 26);

function finestDrawing({ blur, magnification, finest }: PlanetView): Html {
  const curve = Array.from({ length: 66 }, (_, i): Point => {
    const m = 25 + 5 * i;
    return [x(m), y(Math.min(5, finestAt(blur, m)))];
  });
  return drawing({
    width: 352,
    height: 156,
    finding:
      `The finest detail that reaches the eye, over the magnification. It falls, and then stays at ${
        fixed(blur, 1)
      } arcseconds, the blur of mirror and air. At ${fixed(magnification)} times it is ${
        fixed(finest, 1)
      }.`,
    contents: group(
      words([0, 14], "Finest detail seen (″)"),
      levels([0, 2, 4], y, (arcsec) => fixed(arcsec), [40, 340]),
      stroke("limit", [40, y(blur)], [340, y(blur)]),
      words([340, y(blur) + 15], "mirror and air", { kind: "t-rouge halo", anchor: "end" }),
      path("polished", through(curve)),
      dot("mine", [x(magnification), y(Math.min(5, finest))], 5),
      [0, 100, 200, 300].map((m) =>
        words([x(m), 135], `${fixed(m)}×`, { kind: "soft", anchor: "middle" })
      ),
      words([340, 152], "Magnification", { anchor: "end" }),
    ),
  });
}

function picture(values: Values, paint: Paint): Html {
  const view = viewNow(values), times = fixed(view.magnification);
  const name = (text: string): Html =>
    safe`<span class="note" style="font:var(--small)/1.45 var(--sans)">${text}</span>`;
  return safe`${name(`in the eyepiece, ${times}× (page held at 60 cm)`)}${
    paint(view.inEyepiece, {
      shown: width,
      finding: `The planet with its rings as large as at ${times} times.`,
    })
  }<div style="height:.5rem"></div>${name("what the eye gets of it, enlarged alike")}${
    paint(view.alike, {
      shown: width,
      finding: `The same picture enlarged: the dark gap of the rings keeps ${
        fixed(100 * view.gap)
      } percent of its depth.`,
    })
  }<div style="height:.5rem"></div>${finestDrawing(view)}`;
}

function reading(values: Values): Html {
  const { magnification, exitPupil, finest, gap } = viewNow(values);
  const bright = (48 / magnification) ** 2;
  return safe`Exit pupil <big><output>${fixed(exitPupil, 1)} mm</output></big> <output>${
    fixed(magnification)
  }×</output>; light on the eye ${fixed(100 * bright)} % of that at 48×. Finest detail <output>${
    fixed(finest, 1)
  }″</output>. The dark gap in the rings, 0.75″ wide, keeps <output>${
    fixed(100 * gap)
  } %</output> of its depth.`;
}

const controls: readonly Control[] = [
  {
    ...{ key: "eyepiece", label: "Focal length of the eyepiece", min: 4, max: 40, step: 0.5 },
    ...{ digits: 1, unit: "mm", spoken: "millimetres" },
  },
  {
    ...{ key: "seeing", label: "Blur by the air", min: 0, max: 4, step: 0.1, digits: 1 },
    ...{ unit: "″", spoken: "arcseconds" },
  },
  {
    ...{ key: "obstruction", label: "Flat, as a share of the mirror", min: 0, max: 0.45 },
    ...{ step: 0.01, digits: 2, unit: "", spoken: "of the diameter" },
  },
  {
    ...{ key: "error", label: "Error of the mirror, P-V", min: 0, max: 1, step: 0.02, digits: 2 },
    ...{ unit: "wave", spoken: "waves" },
  },
];

/** The figure: eyepiece, air, flat and mirror to slide. */
export const planetSeen: LiveFigure = {
  name: "planet-seen",
  controls,
  start: { eyepiece: 25, seeing: 1, obstruction: 0.21, error: 0.1 },
  picture,
  reading,
  value: (values) => viewNow(values).exitPupil,
  caption:
    safe`Saturn on the demo’s evening through 150 mm f/8, simulated: rings 44.7″, the mirror’s error spherical, at its best focus. An eye is taken to tell 2′ apart. Both pictures are drawn equally bright; <b>in truth a higher power is dimmer</b>.`,
};
