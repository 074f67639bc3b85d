/** Moves a live figure as a reader does, in whatever page it stands, and holds it to the lib's own numbers. */
import assert from "node:assert/strict";
import type { Locator } from "playwright-core";
import { type Control, type LiveFigure, printed } from "../../../lib/figures/live/figure.ts";
import { liveFigure } from "../../../lib/figures/live/figures.ts";
import { asCanvas, greyAndAlpha, type Pixels } from "../../../lib/figures/live/pixels.ts";

type Values = Record<string, number>;

/** The number that a figure exposes. */
export const exposed = async (element: Locator): Promise<number> =>
  Number(await element.locator(".reading").getAttribute("data-value"));

/** As much of a page's elements as is read inside the page. */
interface Drawn {
  readonly innerHTML: string;
  querySelectorAll(selector: "canvas"): Iterable<Canvas>;
}
interface Canvas {
  readonly width: number;
  readonly height: number;
  toDataURL(): string;
  getContext(kind: "2d"): {
    getImageData(x: number, y: number, w: number, h: number): { readonly data: Uint8ClampedArray };
  };
}

/** Everything drawn: strokes, words, and what is on the canvases. */
const drawn = (element: Locator): Promise<string> =>
  element.locator(".picture").evaluate((element) => {
    const place = element as unknown as Drawn;
    return place.innerHTML + [...place.querySelectorAll("canvas")].map((c) => c.toDataURL()).join();
  });

/** Presses the arrows, each of which moves by one step, first up, or down where the slider is at its end; then leaves its place. */
async function byKeys(input: Locator, { key, max, step }: Control): Promise<void> {
  await input.focus();
  const place = async (): Promise<number> => Number(await input.inputValue());
  const start = await place(), up = start + step <= max + step / 1e6 ? 1 : -1;
  const [out, back] = up === 1 ? ["ArrowRight", "ArrowLeft"] : ["ArrowLeft", "ArrowRight"];
  for (const [arrow = "", wanted] of [[out, start + up * step], [back, start]] as const) {
    await input.press(arrow);
    const found = await place();
    assert.ok(Math.abs(found - wanted) < step / 1e3, `${arrow} puts ${key} at ${found}`);
  }
  await input.press(up === 1 ? "PageUp" : "PageDown");
  await input.press(out);
}

async function byPointer(element: Locator, input: Locator, share: number): Promise<void> {
  await input.scrollIntoViewIfNeeded();
  const box = await input.boundingBox();
  assert.ok(box !== null && box.height >= 44, "large enough for a finger");
  await element.page().mouse.click(box.x + box.width * share, box.y + box.height / 2);
}

async function agrees(element: Locator, figure: LiveFigure, values: Values): Promise<void> {
  const shown = await exposed(element), lib = figure.value(values);
  assert.ok(
    Math.abs(shown - lib) <= 1e-9 * Math.max(1, Math.abs(lib)),
    `${figure.name}: ${shown}, lib ${lib}`,
  );
}

/** Every canvas holds the greys that the lib gives here; half a step of grey may fall either way. */
async function paints(element: Locator, figure: LiveFigure, values: Values): Promise<void> {
  const wanted: Pixels[] = [];
  figure.picture(values, (pixels, print) => {
    wanted.push(pixels);
    return asCanvas(pixels, print);
  });
  const seen = await element.locator(".picture").evaluate((element) =>
    [...(element as unknown as Drawn).querySelectorAll("canvas")].map((canvas) => {
      const { width, height } = canvas;
      return [...canvas.getContext("2d").getImageData(0, 0, width, height).data];
    })
  );
  assert.equal(seen.length, wanted.length);
  wanted.forEach((pixels, n) => {
    const bytes = greyAndAlpha(pixels);
    pixels.values.forEach((_, i) => {
      const grey = seen[n]?.[4 * i] ?? NaN, alpha = seen[n]?.[4 * i + 3];
      assert.equal(alpha, bytes[2 * i + 1]);
      assert.ok(Math.abs(grey - (bytes[2 * i] ?? NaN)) <= 1, `${figure.name}, pixel ${i}`);
    });
  });
}

async function driveOne(
  element: Locator,
  figure: LiveFigure,
  control: Control,
  values: Values,
): Promise<void> {
  const input = element.locator(`input[name="${control.key}"]`), before = await drawn(element);
  await byKeys(input, control);
  const start = values[control.key];
  values[control.key] = Number(await input.inputValue());
  assert.notEqual(values[control.key], start, `keys move ${control.key}`);
  assert.notEqual(await drawn(element), before, `the picture follows ${control.key}`);
  await agrees(element, figure, values);
  const share = (Number(values[control.key]) - control.min) / (control.max - control.min) < 0.5
    ? 0.8
    : 0.2;
  await byPointer(element, input, share);
  assert.notEqual(
    Number(await input.inputValue()),
    values[control.key],
    `a click moves ${control.key}`,
  );
  values[control.key] = Number(await input.inputValue());
  await agrees(element, figure, values);
  assert.equal(await input.getAttribute("aria-valuetext"), printed(control, values).spoken);
}

/**
 * Moves the sliders of a figure by keys and by pointer.
 *
 * @param element  the `figure.live`, which must be live
 * @param most     how many of its sliders; all of them where each has to be shown to work, one where the place is what is tried
 */
export async function drive(element: Locator, most = Infinity): Promise<void> {
  assert.equal(await element.getAttribute("data-ready"), "yes");
  const figure = liveFigure(await element.getAttribute("data-live") ?? "");
  const values: Values = JSON.parse(await element.getAttribute("data-values") ?? "");
  for (const control of figure.controls.slice(0, most)) {
    await driveOne(element, figure, control, values);
  }
  await paints(element, figure, values);
}
