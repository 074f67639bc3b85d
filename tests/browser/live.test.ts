/** Live figures in a book that was really built: from disk, without network, and without script. */
import assert from "node:assert/strict";
import { basename, join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { notebookPaths } from "../notebooks/notebookPaths.ts";
import { drive } from "../figures/live/drive.ts";
import { stemOf } from "../stems.ts";
import { bookOn } from "../notebooks/books.ts";
import { chromium, openFile, sideways, startBrowser } from "./browser.ts";

/** The kit's notebooks that hold a live figure: names and how many each. */
async function liveNotebooks(): Promise<Map<string, number>> {
  const found = new Map<string, number>();
  for (const path of await notebookPaths()) {
    const text = await Deno.readTextFile(path);
    // one stage lays the reader's numbers into a live figure of its own
    const count = text.match(/show\((live|yourSection)\(/g)?.length ?? 0;
    if (count > 0) found.set(basename(path, ".ipynb"), count);
  }
  return found;
}

const scripts = (page: Page, holding: string): Promise<number> =>
  page.locator("script").evaluateAll(
    (all, mark) => all.filter((one) => one.textContent?.includes(mark)).length,
    holding,
  );

/** Unfolds what waits for a guess, as a reader does who wants to be shown. */
async function showAll(page: Page): Promise<void> {
  const folded = page.locator("form[data-guess]").getByRole("button", { name: "Show me" });
  while (await folded.count() > 0) await folded.first().click();
}

async function withScript(browser: Browser, file: string, count: number): Promise<void> {
  const { page, complaints, requests } = await openFile(browser, file);
  const figures = page.locator("figure.live");
  assert.equal(await figures.count(), count, file);
  assert.equal(
    await scripts(page, "firstMirrorLive={push"),
    1,
    `${file}: the figures' script once`,
  );
  assert.equal(
    await scripts(page, "firstMirrorExercises = fillAll"),
    1,
    `${file}: the exercises' once`,
  );
  // they come alive once the page has been drawn
  await page.locator("figure.live[data-ready]").nth(count - 1).waitFor({ state: "attached" });
  assert.equal(
    await page.locator("img.drawn").count(),
    0,
    "drawings are themselves, dark or light",
  );
  await showAll(page);
  for (const figure of await figures.all()) await drive(figure, 1);
  await page.locator(".exercise input").first().waitFor();
  assert.deepEqual([complaints, requests], [[], []], file);
  await page.context().close();
}

async function withoutScript(browser: Browser, file: string): Promise<void> {
  const { page } = await openFile(browser, file, { script: false, width: 390, dark: true });
  for (const figure of await page.locator("figure.live").all()) {
    assert.equal(await figure.locator("svg").first().isVisible(), true);
    assert.equal(await figure.locator("input").count(), 0);
    assert.match(await figure.locator("figcaption").innerText(), /A still: /);
    assert.match(await figure.locator(".reading output").first().innerText(), /\d/);
  }
  assert.ok(await sideways(page) <= 0);
  await page.context().close();
}

/** On a phone the picture stays in sight while the last slider is moved, and does not lie over it. */
async function onPhone(browser: Browser, file: string): Promise<void> {
  const { page } = await openFile(browser, file, { width: 390 });
  await page.setViewportSize({ width: 390, height: 844 });
  await page.locator("figure.live[data-ready]").first().waitFor({ state: "attached" });
  await showAll(page);
  for (const figure of await page.locator("figure.live").all()) {
    const slider = figure.locator("input[type=range]").last();
    await slider.evaluate((one) => one.scrollIntoView({ block: "end", behavior: "instant" }));
    const [seen, moved] = [
      await figure.locator(".picture").boundingBox(),
      await slider.boundingBox(),
    ];
    assert.ok(seen !== null && moved !== null, file);
    assert.ok(
      seen.y >= 0 && seen.y + seen.height <= moved.y,
      `${file}: ${JSON.stringify([seen, moved])}`,
    );
  }
  await page.context().close();
}

async function onPaper(browser: Browser, file: string): Promise<void> {
  const { page } = await openFile(browser, file);
  await showAll(page);
  await page.locator("figure.live input").first().press("ArrowRight");
  await page.emulateMedia({ media: "print" });
  assert.equal(await page.locator("figure.live input:visible").count(), 0);
  assert.equal(await page.locator("figure.live svg").first().isVisible(), true);
  await page.context().close();
}

Deno.test({
  name:
    "live figures of a built book move from disk, and are stills without script and on paper (Chromium)",
  ignore: chromium === undefined,
  async fn(): Promise<void> {
    const book = await bookOn("finished"), browser = await startBrowser();
    try {
      const notebooks = await liveNotebooks();
      assert.ok(notebooks.size >= 3, [...notebooks.keys()].join());
      for (const [stem, count] of notebooks) {
        const file = join(book, `${stem}.html`);
        await withScript(browser, file, count);
        await withoutScript(browser, file);
        await onPaper(browser, file);
      }
      // the two with the most sliders
      for (const stage of ["read-star", "grind-hollow"]) {
        await onPhone(browser, join(book, `${stemOf(stage)}.html`));
      }
    } finally {
      await browser.close();
    }
  },
});
