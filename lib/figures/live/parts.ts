/** The markup of a live figure, the same in the still and in the page. */
import { fixed } from "../digits.ts";
import { type Html, jsonForScript, safe } from "../html.ts";
import type { Control, LiveFigure, Values } from "./figure.ts";
import { valueOf } from "./figure.ts";
import { asImage } from "./pixels.ts";

/** A value as it is printed beside its slider, and as it is said aloud. */
export function printed(control: Control, values: Values): { text: string; spoken: string } {
  const choice = control.choices?.[Math.round(valueOf(values, control.key))];
  if (choice !== undefined) return { text: choice, spoken: choice };
  const digits = fixed(valueOf(values, control.key), control.digits);
  return { text: `${digits} ${control.unit}`, spoken: `${digits} ${control.spoken}` };
}

function slider(control: Control, values: Values): Html {
  const { key, label, min, max, step } = control, { text, spoken } = printed(control, values);
  return safe`<div class="control"><label>${label} <output>${text}</output><input type="range" name="${key}" min="${min}" max="${max}" step="${step}" value="${
    valueOf(values, key)
  }" aria-label="${label}" aria-valuetext="${spoken}" autocomplete="off"></label></div>\n`;
}

/** The values in words, for a page whose script does not run. */
function still(figure: LiveFigure, values: Values): string {
  return figure.controls.map((c) => `${c.label.toLowerCase()} ${printed(c, values).text}`).join(
    ", ",
  );
}

/** The figure with its still inside; a page's runtime makes the sliders move it. */
export function liveHtml(figure: LiveFigure, values: Values): Html {
  return safe`<figure class="live" data-live="${figure.name}" data-values="${
    jsonForScript(values).markup
  }">
<div class="picture">${figure.picture(values, asImage)}</div>
<div>
${
    figure.controls.map((control) => slider(control, values))
  }<p class="reading" aria-live="polite" data-value="${figure.value(values)}">${
    figure.reading(values)
  }</p>
</div>
<figcaption>${figure.caption} <span class="js-only">The arrow keys move a slider by one step.</span><noscript>A still: ${
    still(figure, values)
  }.</noscript></figcaption>
</figure>`;
}
