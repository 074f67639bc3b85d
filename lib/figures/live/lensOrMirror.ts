/** Live: a card moved through the focus of a lens catches one colour at a time, through that of a mirror all at once. */
import { airyRadius } from "../../optics/airy.ts";
import { BLUE_F, RED_C, refractiveIndex, singleLensColours, YELLOW_D } from "../../optics/glass.ts";
import { fixed, signed } from "../scale.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, type Point, stroke, words } from "../pen.ts";
import { type LiveFigure, valueOf, type Values } from "./figure.ts";

/** What the card catches, mm. */
export interface CardReading {
  /** width of each colour's patch behind the lens: blue, yellow, red */
  readonly lens: readonly [number, number, number];
  /** place of each colour's focus, from the yellow one */
  readonly foci: readonly [number, number, number];
  /** width of the patch behind the mirror, the same for all colours; a ray has no width */
  readonly mirror: number;
  /** width of a perfect star's disc, which is the least that light allows */
  readonly disc: number;
}

/**
 * Patches of blue, yellow and red light on a card near the focus of a thin lens, and of a mirror of the same size.
 *
 *     width = D |card - focus of the colour| / f of the colour
 *
 * @param values  aperture, focal length for yellow light and place of the card from the yellow focus, mm
 * @example on the yellow focus, blue is blurred most: 12.8 mm from its own
 * ```ts
 * import assert from "node:assert/strict";
 * const { lens, mirror } = cardReading({ aperture: 150, focal: 1200, card: 0 });
 * assert.deepEqual(lens.map((w) => w.toFixed(2)), ["1.62", "0.00", "0.72"]);
 * assert.equal(mirror, 0);
 * ```
 */
export function cardReading(values: Values): CardReading {
  const aperture = valueOf(values, "aperture"), focal = valueOf(values, "focal");
  const card = valueOf(values, "card"), power = refractiveIndex("borosilicate crown", YELLOW_D) - 1;
  const of = (wavelength: number): readonly [focus: number, width: number] => {
    const f = focal * power / (refractiveIndex("borosilicate crown", wavelength) - 1);
    return [f - focal, aperture * Math.abs(focal + card - f) / f];
  };
  const [blue, yellow, red] = [of(BLUE_F), of(YELLOW_D), of(RED_C)];
  return {
    lens: [blue[1], yellow[1], red[1]],
    foci: [blue[0], yellow[0], red[0]],
    mirror: aperture * Math.abs(card) / focal,
    disc: 2 * airyRadius(focal / aperture),
  };
}

const reach = 30,
  left = 4,
  right = 252,
  x = (z: number): number => left + (right - left) * (z + reach) / (2 * reach);
const inks = ["ray blue", "ray", "ray red"] as const;
/** px for 1 mm of a patch on the card */
const larger = 16;

/** Both outer rays of a colour through its focus, cut off where they leave the window. */
function cone(y: number, focus: number, ky: number, slope: number, ink: string): Html {
  const end = (z: number, side: number): Point => [x(z), y + side * slope * (z - focus) * ky];
  return group([-1, 1].map((side) => stroke(ink, end(-reach, side), end(reach, side))));
}

function window(
  values: Values,
  y: number,
  name: string,
  foci: readonly number[],
  widths: readonly number[],
): Html {
  const slope = valueOf(values, "aperture") / (2 * valueOf(values, "focal"));
  const ky = 38 / (slope * (reach + 20)), card = x(valueOf(values, "card"));
  return group(
    words([left, y - 46], name),
    foci.map((focus, i) => cone(y, focus, ky, slope, inks[i] ?? "ray")),
    stroke("dim", [card, y - 40], [card, y + 40], "stroke-width:3"),
    widths.map((width, i) =>
      dot(inks[i] ?? "ray", [306, y], Math.min(44, Math.max(0.8, larger * width / 2)))
    ),
  );
}

function picture(values: Values): Html {
  const { lens, foci, mirror } = cardReading(values), widest = Math.max(...lens);
  return drawing({
    width: 352,
    height: 262,
    finding: `Blue, yellow and red rays near the focus. Behind the lens the card catches a patch ${
      fixed(widest, 2)
    } mm wide, with one colour sharp at most; behind the mirror ${
      fixed(mirror, 2)
    } mm, all colours alike.`,
    contents: group(
      window(values, 62, "Lens", foci, lens),
      window(values, 178, "Mirror", [0, 0, 0], [mirror, mirror, mirror]),
      words([306, 16], "on the card", { kind: "soft", anchor: "middle" }),
      stroke("axis", [x(-reach), 226], [x(reach), 226]),
      [-30, 0, 30].map((z) =>
        group(
          stroke("axis", [x(z), 226], [x(z), 231]),
          words([x(z), 245], signed(z), {
            kind: "soft",
            anchor: z < 0 ? "start" : z > 0 ? "end" : "middle",
          }),
        )
      ),
      words([left, 260], "From the yellow focus (mm)"),
    ),
  });
}

function reading(values: Values): Html {
  const { lens, mirror, disc } = cardReading(values);
  const aperture = valueOf(values, "aperture"), focal = valueOf(values, "focal");
  const { blur, fociApart } = singleLensColours(aperture, focal);
  return safe`Behind the lens <big><output>${
    fixed(Math.max(...lens), 2)
  } mm</output></big> wide; behind the mirror <output>${
    fixed(mirror, 2)
  } mm</output>.<br>Red and blue foci: <output>${
    fixed(fociApart, 1)
  } mm</output> apart. The least red and blue can do: ${fixed(blur, 2)} mm, ${
    fixed(blur / disc)
  } times a perfect star (${fixed(disc, 4)} mm).`;
}

const mm = { unit: "mm", spoken: "millimetres" } as const;

/** The figure: the size of the lens and the place of the card to slide. */
export const lensOrMirror: LiveFigure = {
  name: "lens-or-mirror",
  controls: [
    { key: "card", label: "Card", min: -20, max: 20, step: 0.1, digits: 1, ...mm },
    { key: "aperture", label: "Aperture", min: 60, max: 250, step: 1, digits: 0, ...mm },
    { key: "focal", label: "Focal length", min: 600, max: 3000, step: 10, digits: 0, ...mm },
  ],
  start: { card: 0, aperture: 150, focal: 1200 },
  picture,
  reading,
  value: (values) => Math.max(...cardReading(values).lens),
  caption:
    safe`<b>Blue</b> thin, <b>yellow</b> in ink, <b>red</b> dashed; heights are drawn larger than lengths. A single lens of ordinary glass (borosilicate crown) has a focus for every colour, a mirror one for all.`,
};
