/** The entry of the page's script: makes live what is there, and whatever a notebook adds later. */
import { liveFigures } from "./figures.ts";
import { hint, type LiveFigure, printed, sliders, type Values } from "./figure.ts";
import { asCanvas, greyAndAlpha, type Paint, type Pixels } from "./pixels.ts";

/** As much of a canvas's brush as is used here. */
interface Brush {
  createImageData(width: number, height: number): { readonly data: Uint8ClampedArray };
  putImageData(data: unknown, x: number, y: number): void;
}

/** As much of an event as is looked at here. */
interface Touch {
  readonly target: PageElement;
  readonly clientX: number;
  readonly clientY: number;
  /** 0 where nothing is pressed */
  readonly buttons: number;
}

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
  getContext?(kind: "2d"): Brush | null;
  getBoundingClientRect(): { readonly left: number; readonly top: number; readonly width: number };
  getAttribute(name: string): string | null;
  addEventListener(
    type: "input" | "pointerdown" | "pointermove" | "pointercancel",
    listener: (event: Touch) => void,
  ): void;
}

function fill(canvas: PageElement, picture: Pixels): void {
  const brush = canvas.getContext?.("2d");
  if (brush === null || brush === undefined) return;
  const image = brush.createImageData(picture.width, picture.height);
  const bytes = greyAndAlpha(picture);
  for (let i = 0; i < picture.values.length; i++) {
    const at = 4 * i;
    image.data[at] = image.data[at + 1] = image.data[at + 2] = bytes[2 * i] ?? 0;
    image.data[at + 3] = bytes[2 * i + 1] ?? 0;
  }
  brush.putImageData(image, 0, 0);
}

function drawPicture(place: PageElement, figure: LiveFigure, values: Values): void {
  const kept: Pixels[] = [];
  const paint: Paint = (picture, print) => {
    kept.push(picture);
    return asCanvas(picture, print);
  };
  place.innerHTML = figure.picture(values, paint).markup;
  let next = 0;
  for (const canvas of place.querySelectorAll("canvas")) {
    const picture = kept[next++];
    if (picture !== undefined) fill(canvas, picture);
  }
}

/** Draws everything that depends on the values. */
function redraw(element: PageElement, figure: LiveFigure, values: Values): void {
  const picture = element.querySelector(".picture"), reading = element.querySelector(".reading");
  if (picture !== null) drawPicture(picture, figure, values);
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

/** Brings the sliders; a drawing that stands as an image, which knows no dark page, is drawn anew. */
function begin(element: PageElement, figure: LiveFigure, values: Values): void {
  const controls = element.querySelector(".controls"), place = element.querySelector(".picture");
  if (controls !== null) controls.innerHTML = sliders(figure, values).markup;
  const words = element.querySelector(".hint");
  if (words !== null) words.textContent = hint;
  if (place?.querySelector("img.drawn")) drawPicture(place, figure, values);
}

/** Degrees counter-clockwise from the top at which a finger lies round the middle of a picture that may be turned. */
function turnedTo(dial: PageElement, { clientX, clientY }: Touch): number {
  const svg = dial.querySelector("svg"), box = (svg ?? dial).getBoundingClientRect();
  const wide = Number(svg?.getAttribute("width") ?? box.width), size = box.width / wide;
  const [x = 0, y = 0] = (dial.dataset["middle"] ?? "").split(" ").map(Number);
  const right = clientX - box.left - x * size, down = clientY - box.top - y * size;
  return ((Math.atan2(-right, -down) * 180) / Math.PI + 360) % 360;
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
  begin(element, figure, values);
  const isSlider = ({ name }: PageElement): boolean => figure.controls.some((c) => c.key === name);
  const take = (input: PageElement): void => {
    values[input.name] = Number(input.value);
    moved(element, figure, values, input);
  };
  element.addEventListener("input", ({ target }) => {
    if (isSlider(target)) take(target);
  });
  // a finger that turns out to scroll has moved nothing: what stood there before it came down stands there again
  let before: { readonly input: PageElement; readonly value: string } | undefined;
  element.addEventListener("pointerdown", ({ target }) => {
    before = isSlider(target) ? { input: target, value: target.value } : undefined;
  });
  element.addEventListener("pointercancel", () => {
    if (before === undefined || before.input.value === before.value) return;
    before.input.value = before.value;
    take(before.input);
  });
  const turn = (touch: Touch): void => {
    const dial = touch.buttons === 0 ? null : touch.target.closest("[data-dial]");
    const control = figure.controls.find(({ key }) => key === dial?.dataset["dial"]);
    const input = element.querySelector(`input[name="${control?.key}"]`);
    if (dial === null || control === undefined || input === null) return;
    const turned = Math.round(turnedTo(dial, touch) / control.step) * control.step;
    input.value = String(turned > control.max ? control.min : turned);
    take(input);
  };
  element.addEventListener("pointerdown", turn);
  element.addEventListener("pointermove", turn);
  return true;
}

/** As much of a key's event as is looked at here. */
interface Key {
  readonly target: PageElement;
  readonly ctrlKey: boolean;
  readonly altKey: boolean;
  readonly metaKey: boolean;
  stopPropagation(): void;
}

interface Page {
  readonly documentElement: { readonly classList: { add(name: string): void } };
  readonly readyState: string;
  querySelectorAll(selector: string): Iterable<PageElement>;
  addEventListener(type: string, listener: () => void): void;
}
interface Host {
  readonly document: Page;
  firstMirrorLive?: { push(call: unknown): number };
  addEventListener(type: "keydown", listener: (event: Key) => void, isFirst: true): void;
}

const host = globalThis as unknown as Host;

function mountAll(): number {
  let live = 0;
  for (const element of host.document.querySelectorAll("figure.live[data-live]")) {
    if (mount(element)) live += 1;
  }
  return live;
}

/**
 * Keys pressed in an output are its own: JupyterLab and Notebook 7 go from cell to cell with the arrows that should move a slider.
 * Heard before the page hears them, for Notebook 7 listens at the document's door; what the browser does with a key it still does.
 */
function keepKeys(event: Key): void {
  const isCommand = event.ctrlKey || event.altKey || event.metaKey;
  if (!isCommand && event.target.closest(".first-mirror") !== null) event.stopPropagation();
}

host.document.documentElement.classList.add("js");
host.addEventListener("keydown", keepKeys, true);
host.firstMirrorLive = { push: mountAll };
mountAll();
if (host.document.readyState === "loading") {
  host.document.addEventListener("DOMContentLoaded", mountAll);
}
