/** Shows a live figure in a notebook: a still with its number, which the page's runtime then makes live. */
import { type Html, jsonForScript, safe } from "../html.ts";
import { scriptElement, type Shown, wordsOf } from "../show.ts";
import { type LiveFigure, printed, type Values } from "./figure.ts";
import { liveFigure } from "./figures.ts";
import { asImage, asStill } from "./still.ts";

/** Each figure calls in; whether the runtime came before or after does not matter. */
const call = scriptElement(
  "(globalThis.firstMirrorLive = globalThis.firstMirrorLive || []).push(0);",
);

/** The values in words, for a page whose script does not run. */
function still(figure: LiveFigure, values: Values): string {
  return figure.controls.map((c) => `${c.label.toLowerCase()} ${printed(c, values).text}`).join(
    ", ",
  );
}

/** The figure as its still: picture, number and values in words; the page's script brings the sliders. */
function liveHtml(figure: LiveFigure, values: Values): Html {
  return safe`<figure class="live" data-live="${figure.name}" data-values="${
    jsonForScript(values).markup
  }">
<div class="picture">${asStill(figure.picture(values, asImage))}</div>
<div>
<div class="controls"></div>
<p class="reading" aria-live="polite" data-value="${figure.value(values)}">${
    figure.reading(values)
  }</p>
</div>
<figcaption>${figure.caption} <span class="hint"></span><noscript>A still: ${
    still(figure, values)
  }.</noscript></figcaption>
</figure>`;
}

/**
 * A live figure with the values it starts with.
 *
 * @param name    one of `liveFigures`
 * @param values  values to start with, in mm and the units of its sliders; the others as usual
 * @throws {RangeError} an unknown figure, an unknown value, or a value outside its slider
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = live("sagitta-and-focal-length", { leaves: 1.13 });
 * assert.match(shown.html, /data-value="1211\.7\d+"/);
 * ```
 */
export function live(name: string, values: Values = {}): Shown {
  const figure = liveFigure(name), start: Record<string, number> = { ...figure.start };
  for (const [key, value] of Object.entries(values)) {
    const control = figure.controls.find((c) => c.key === key);
    const known = Object.hasOwn(figure.start, key),
      { min = -Infinity, max = Infinity } = control ?? {};
    if (!known || !(value >= min && value <= max && Number.isFinite(value))) {
      const keys = Object.keys(figure.start).join(", ");
      throw new RangeError(
        known
          ? `live requires ${key} from ${min} to ${max}, got ${value}`
          : `live requires values among ${keys}, got "${key}"`,
      );
    }
    start[key] = value;
  }
  const markup = safe`${liveHtml(figure, start)}\n${call}`;
  return {
    html: markup.markup,
    text: `${wordsOf(figure.reading(start).markup)} ${wordsOf(figure.caption.markup)}`,
  };
}
