/** The sliders of a live figure, which the page's script brings. */
import { fixed } from "../scale.ts";
import { type Html, safe } from "../html.ts";
import type { Control, LiveFigure, Values } from "./figure.ts";
import { valueOf } from "./figure.ts";

/** A value as it is printed beside its slider, and as it is said aloud. */
export function printed(control: Control, values: Values): { text: string; spoken: string } {
  const choice = control.choices?.[Math.round(valueOf(values, control.key))];
  if (choice !== undefined) return { text: choice, spoken: choice };
  const digits = fixed(valueOf(values, control.key), control.digits);
  return { text: `${digits} ${control.unit}`, spoken: `${digits} ${control.spoken}` };
}

/** As tall as a finger whatever the page around makes of a rem: in the classic notebook it is 10 px. */
function slider(control: Control, values: Values): Html {
  const { key, label, min, max, step } = control, { text, spoken } = printed(control, values);
  return safe`<div class="control"><label>${label} <output>${text}</output><input type="range" name="${key}" min="${min}" max="${max}" step="${step}" value="${
    valueOf(values, key)
  }" aria-label="${label}" aria-valuetext="${spoken}" autocomplete="off" style="min-height:44px"></label></div>\n`;
}

/** What the page's script puts in: sliders, and how to move them. */
export function sliders(figure: LiveFigure, values: Values): Html {
  return safe`${figure.controls.map((control) => slider(control, values))}`;
}
export const hint = "The arrow keys move a slider by one step.";
