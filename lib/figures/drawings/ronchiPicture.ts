/** Striped faces: what the eye sees through the grating, several side by side; a photograph beside its fit. */
import { ronchiByDiffraction } from "../../testing/bands/ronchiPicture.ts";
import type { RonchiSetting } from "../../testing/bands/ronchi.ts";
import { type Html, safe } from "../html.ts";
import { asImage } from "../live/still.ts";
import { type Pixels, sideBySide } from "../live/pixels.ts";
import type { Shown } from "../show.ts";

/** One face and its name. */
export interface NamedBands {
  readonly name: string;
  readonly setting: RonchiSetting;
}

const PIXELS = 91;

/**
 * Faces of mirrors through a grating, by diffraction, side by side.
 *
 * @param bands    names and settings, from left to right
 * @param caption  what a reader should see, the finding first
 * @throws {RangeError} where a setting is impossible
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const setting = {
 *   surface: { radius: 2396, conic: 0 }, half: 74, setUp: "same grating", linesPerMm: 4, offset: -5,
 * } as const;
 * const shown = ronchiPicture([{ name: "sphere", setting }], "Straight bands.");
 * assert.match(shown.text, /sphere: 4 lines in each mm, 5 mm inside/);
 * ```
 */
export function ronchiPicture(bands: readonly NamedBands[], caption: string): Shown {
  const words = bands.map(({ name, setting }) => `${name}: ${inWords(setting)}`);
  const faces = bands.map(({ name, setting }, i): [string, Html] => {
    const { values } = ronchiByDiffraction(setting, PIXELS);
    const picture = { width: PIXELS, height: PIXELS, values: values.map(asSeen) };
    return [name, asImage(picture, { shown: 180, finding: words[i] ?? name, rim: true })];
  });
  const markup = safe`<figure>${sideBySide(faces)}
<figcaption>${caption}</figcaption></figure>`;
  return { html: markup.markup, text: `${words.join("; ")}.\n${caption}` };
}

/** Light as a screen shows it: the eye's and the screen's curve. */
function asSeen(light: number): number {
  return Math.pow(Math.min(1, Math.max(0, light)), 1 / 2.2);
}

function inWords({ linesPerMm, offset }: RonchiSetting): string {
  const side = offset < 0 ? "inside" : "outside";
  return `${linesPerMm} lines in each mm, ${Math.abs(offset)} mm ${side}`;
}

/**
 * A photograph's face, the fitted one, and five times what is left between them.
 *
 * @param face  pixels across, values of photograph and fit, 0 to 1, NaN where not looked at
 * @param name  of the photograph
 */
export function photoBesideFit(
  face: { readonly across: number; readonly photo: Float64Array; readonly fit: Float64Array },
  name: string,
): Shown {
  const { across, photo, fit } = face;
  const left = photo.map((v, i) => 0.5 + 5 * (v - (fit[i] ?? NaN)));
  const of = (values: Float64Array): Pixels => ({ width: across, height: across, values });
  const print = (values: Float64Array, finding: string): Html =>
    asImage(of(values), { shown: 180, finding, rim: true });
  const faces: [string, Html][] = [
    ["photograph", print(photo, `The mirror in ${name}.`)],
    ["fit", print(fit, "The fitted mirror under the same light.")],
    ["left over, five times", print(left, "What the fit does not explain, grey where nothing.")],
  ];
  const markup = safe`<figure>${sideBySide(faces)}
<figcaption><b>An even grey at the right means that nothing is left to explain.</b> From <code>${name}</code>.</figcaption></figure>`;
  return {
    html: markup.markup,
    text: `${name}: the photograph, the fit, and five times what is left over.`,
  };
}
