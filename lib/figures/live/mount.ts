/** Makes the live figures of a page live: sliders redraw the picture from the same functions that drew the still. */
import { liveFigures } from "./figures.ts";
import type { LiveFigure, Values } from "./figure.ts";
import { printed } from "./parts.ts";

/** As much of a page's element as is touched here. */
export interface PageElement {
  readonly dataset: Record<string, string | undefined>;
  innerHTML: string;
  textContent: string | null;
  value: string;
  name: string;
  querySelector(selector: string): PageElement | null;
  querySelectorAll(selector: string): Iterable<PageElement>;
  closest(selector: string): PageElement | null;
  setAttribute(name: string, value: string): void;
  addEventListener(
    type: "input",
    listener: (event: { readonly target: PageElement }) => void,
  ): void;
}

/** Draws everything that depends on the values. */
function redraw(element: PageElement, figure: LiveFigure, values: Values): void {
  const picture = element.querySelector(".picture"), reading = element.querySelector(".reading");
  if (picture !== null) picture.innerHTML = figure.picture(values).markup;
  if (reading !== null) {
    reading.innerHTML = figure.reading(values).markup;
    reading.dataset["value"] = String(figure.value(values));
  }
}

/** Where a value cannot be drawn the last picture stays, and the number beside the slider says which it was. */
function moved(element: PageElement, figure: LiveFigure, values: Values, input: PageElement): void {
  const control = figure.controls.find((c) => c.key === input.name);
  if (control !== undefined) {
    const { text, spoken } = printed(control, values);
    const output = input.closest("label")?.querySelector("output");
    if (output !== null && output !== undefined) output.textContent = text;
    input.setAttribute("aria-valuetext", spoken);
  }
  redraw(element, figure, values);
}

/**
 * Makes one figure live; a second call, or an unknown name, does nothing.
 *
 * @returns whether the figure is live now through this call
 */
export function mount(element: PageElement): boolean {
  const figure = liveFigures.find((one) => one.name === element.dataset["live"]);
  if (figure === undefined || element.dataset["ready"] !== undefined) return false;
  const values: Record<string, number> = {
    ...figure.start,
    ...JSON.parse(element.dataset["values"] ?? "{}"),
  };
  element.dataset["ready"] = "yes";
  element.addEventListener("input", ({ target }) => {
    if (!figure.controls.some((c) => c.key === target.name)) return;
    values[target.name] = Number(target.value);
    moved(element, figure, values, target);
  });
  return true;
}
