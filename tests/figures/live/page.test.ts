/** Live figures in a real browser, from a file on disk: by keyboard and pointer, in any order, without script, printed. */
import assert from "node:assert/strict";
import type { Locator, Page } from "playwright-core";
import { barriers, chromium, openFile, sideways, startBrowser } from "../../browser/browser.ts";
import { liveFigures } from "../../../lib/figures/live/figures.ts";
import { drive, exposed } from "./drive.ts";
import { runtimeScript } from "../../../lib/figures/live/runtimeScript.ts";
import { samplePage } from "../samples.ts";
import { everyFigure, withPage } from "./livePage.ts";

const nthFigure = (page: Page, nth: number): Locator => page.locator("figure.live").nth(nth);
const shownValue = (page: Page, nth: number): Promise<number> => exposed(nthFigure(page, nth));

Deno.test({
  name: "live figures in Chromium give the lib's numbers, all in a page, any order",
  ignore: chromium === undefined,
  async fn(): Promise<void> {
    const browser = await startBrowser();
    try {
      const script = `${runtimeScript}\n${runtimeScript}`;
      await withPage(samplePage(everyFigure, script), async (file) => {
        const { page, complaints, requests } = await openFile(browser, file);
        assert.equal(await page.locator("figure.live[data-ready]").count(), everyFigure.length);
        for (const nth of liveFigures.keys()) await drive(nthFigure(page, nth));
        const untouched = liveFigures[0]?.value(liveFigures[0].start);
        assert.equal(
          await shownValue(page, liveFigures.length),
          untouched,
          "each figure has values of its own",
        );
        const later = await page.evaluate(`(() => {
          const copy = document.createElement("div"), first = document.querySelector("figure.live");
          copy.innerHTML = first.outerHTML.replace(/ data-ready="yes"/, "");
          document.querySelector("main").append(copy);
          globalThis.firstMirrorLive.push(0);
          return document.querySelectorAll("figure.live[data-ready]").length;
        })()`);
        assert.equal(later, everyFigure.length + 1, "a figure that comes later is made live too");
        assert.deepEqual([complaints, requests, await barriers(page)], [[], [], []]);
        await page.context().close();
      });
      const early = samplePage(everyFigure.slice(0, 2)).replace(
        "<main>",
        // a function, for minified code may hold $& and the like
        () => `<script>${runtimeScript}</script><main>`,
      );
      await withPage(early, async (file) => {
        const { page, complaints } = await openFile(browser, file, { width: 360, dark: true });
        assert.equal(
          await page.locator("figure.live[data-ready]").count(),
          2,
          "the script may come first",
        );
        await drive(nthFigure(page, 1));
        assert.ok(await sideways(page) <= 0);
        assert.deepEqual(complaints, []);
        await page.context().close();
      });
    } finally {
      await browser.close();
    }
  },
});

Deno.test({
  name: "without script and on paper a live figure is its still, without dead sliders",
  ignore: chromium === undefined,
  async fn(): Promise<void> {
    const browser = await startBrowser();
    try {
      await withPage(
        samplePage(everyFigure.slice(0, liveFigures.length), runtimeScript),
        async (file) => {
          const { page, requests } = await openFile(browser, file, { script: false });
          assert.equal(await page.locator("input").count(), 0, "no dead slider");
          assert.equal(
            await page.locator("figure.live:has(img.drawn:visible)").count(),
            liveFigures.length,
          );
          const broken = await page.locator("figure.live img").evaluateAll(
            (images) =>
              images.filter((image) =>
                (image as unknown as { naturalWidth: number }).naturalWidth === 0
              ).length,
          );
          assert.ok(
            await page.locator("figure.live img:not(.drawn):visible").count() >= 5,
            "pixels",
          );
          assert.equal(broken, 0, "every image can be read");
          assert.ok(requests.every((address) => address.startsWith("data:")), requests.join());
          assert.match(
            await page.locator("figcaption").first().innerText(),
            /A still: leaves that just pass 1\.14 mm/,
          );
          await page.context().close();
          const paper = await openFile(browser, file);
          await paper.page.locator("input").first().press("ArrowRight");
          const moved = await shownValue(paper.page, 0);
          await paper.page.emulateMedia({ media: "print" });
          assert.equal(await paper.page.locator("input:visible").count(), 0);
          assert.equal(await shownValue(paper.page, 0), moved, "paper shows the present state");
          await paper.page.context().close();
        },
      );
    } finally {
      await browser.close();
    }
  },
});

Deno.test({
  name: "a finger that scrolls over a slider does not move it, one that draws along it does",
  ignore: chromium === undefined,
  async fn(): Promise<void> {
    const browser = await startBrowser();
    try {
      await withPage(samplePage(everyFigure.slice(0, 6), runtimeScript), async (file) => {
        const context = await browser.newContext({
          viewport: { width: 360, height: 640 },
          hasTouch: true,
          isMobile: true,
        });
        const page = await context.newPage();
        await page.goto(`file://${file}`);
        const touch = await context.newCDPSession(page);
        const swipe = async (from: [number, number], to: [number, number]): Promise<void> => {
          const at = (part: number): { x: number; y: number }[] => [{
            x: from[0] + (to[0] - from[0]) * part,
            y: from[1] + (to[1] - from[1]) * part,
          }];
          await touch.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: at(0) });
          for (let step = 1; step <= 10; step++) {
            await touch.send("Input.dispatchTouchEvent", {
              type: "touchMove",
              touchPoints: at(step / 10),
            });
            await page.waitForTimeout(20);
          }
          await touch.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
          await page.waitForTimeout(100);
        };
        const figure = nthFigure(page, 1), slider = figure.locator("input[type=range]").first();
        await slider.evaluate((e) =>
          (e as unknown as { scrollIntoView(how: unknown): void }).scrollIntoView({
            block: "center",
          })
        );
        const before = await slider.inputValue(), shown = await exposed(figure);
        const box = await slider.boundingBox();
        assert.ok(box !== null);
        // off the thumb, so that the first touch alone would move it
        const value = Number(before),
          [min, max] = await Promise.all(
            ["min", "max"].map(async (end) => Number(await slider.getAttribute(end))),
          );
        const thumb = (value - (min ?? 0)) / ((max ?? 1) - (min ?? 0));
        const x = box.x + box.width * (thumb > 0.5 ? 0.2 : 0.8), y = box.y + box.height / 2;
        const top = await page.evaluate("scrollY") as number;
        await swipe([x, y], [x + 4, y - 160]);
        assert.ok(await page.evaluate("scrollY") as number > top + 40, "the page has scrolled");
        assert.deepEqual([await slider.inputValue(), await exposed(figure)], [before, shown]);
        const now = await slider.boundingBox();
        assert.ok(now !== null);
        const along = now.y + now.height / 2;
        await swipe([now.x + now.width * thumb, along], [
          now.x + now.width * (thumb > 0.5 ? 0.2 : 0.8),
          along,
        ]);
        assert.notEqual(await slider.inputValue(), before, "a finger along it moves it");
        await context.close();
      });
    } finally {
      await browser.close();
    }
  },
});

Deno.test({
  name: "on pointercancel the value of before comes back, with its number and its picture",
  ignore: chromium === undefined,
  async fn(): Promise<void> {
    const browser = await startBrowser();
    try {
      await withPage(samplePage(everyFigure.slice(0, 2), runtimeScript), async (file) => {
        const { page } = await openFile(browser, file);
        const figure = nthFigure(page, 0), slider = figure.locator("input[type=range]").first();
        const said = (): Promise<unknown[]> =>
          Promise.all([
            slider.inputValue(),
            exposed(figure),
            slider.getAttribute("aria-valuetext"),
            figure.locator("output").first().innerText(),
          ]);
        const before = await said();
        const act = (type: string): Promise<void> =>
          slider.evaluate((e, type) => {
            const input = e as unknown as {
              value: string;
              min: string;
              dispatchEvent(event: unknown): void;
            };
            const Made = (globalThis as unknown as {
              PointerEvent: new (type: string, how: unknown) => unknown;
            }).PointerEvent;
            if (type === "input") input.value = input.min;
            input.dispatchEvent(new Made(type, { bubbles: true }));
          }, type);
        await act("pointerdown");
        await act("input");
        assert.notDeepEqual(await said(), before);
        await act("pointercancel");
        assert.deepEqual(await said(), before);
        await page.context().close();
      });
    } finally {
      await browser.close();
    }
  },
});

Deno.test({
  name: "a finger on the glass turns the line over it, and the page stays where it is",
  ignore: chromium === undefined,
  async fn(): Promise<void> {
    const browser = await startBrowser();
    try {
      const glass = everyFigure.filter(({ html }) =>
        html.includes('data-live="section-by-finger"')
      );
      await withPage(
        samplePage([...glass, ...everyFigure.slice(0, 3)], runtimeScript),
        async (file) => {
          const context = await browser.newContext({
            viewport: { width: 360, height: 640 },
            hasTouch: true,
            isMobile: true,
          });
          const page = await context.newPage();
          await page.goto(`file://${file}`);
          const touch = await context.newCDPSession(page), figure = nthFigure(page, 0);
          const slider = figure.locator("input[name=angle]"),
            dial = figure.locator("[data-dial] svg");
          const box = await dial.boundingBox();
          assert.ok(box !== null);
          const wide = Number(await dial.getAttribute("width")), size = box.width / wide;
          // the middle of the glass is told by the picture; the mark is above it, angles run counter-clockwise
          const [mx = 0, my = 0] =
            (await figure.locator("[data-dial]").getAttribute("data-middle") ?? "")
              .split(" ").map(Number);
          const at = (degrees: number): { x: number; y: number } => ({
            x: box.x + size * (mx - 80 * Math.sin((degrees * Math.PI) / 180)),
            y: box.y + size * (my - 80 * Math.cos((degrees * Math.PI) / 180)),
          });
          const send = (type: "touchStart" | "touchMove", degrees: number): Promise<unknown> =>
            touch.send("Input.dispatchTouchEvent", { type, touchPoints: [at(degrees)] });
          const top = await page.evaluate("scrollY");
          await send("touchStart", 40);
          assert.equal(await slider.inputValue(), "40");
          for (const degrees of [50, 70, 100, 150]) {
            await send("touchMove", degrees);
            await page.waitForTimeout(30);
          }
          assert.equal(await slider.inputValue(), "150");
          await touch.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
          assert.match(await figure.locator(".reading").textContent() ?? "", /Along 150°/);
          assert.equal(await page.evaluate("scrollY"), top);
          await context.close();
        },
      );
    } finally {
      await browser.close();
    }
  },
});
