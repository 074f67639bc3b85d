import assert from "node:assert/strict";
import { dirname, join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { pagesOn } from "../notebooks/books.ts";
import { paths } from "../notebooks/runs.ts";
import { barriers, chromium, idsOf, linksOf, openFile, sideways, startBrowser } from "./browser.ts";

/** Widths of a desk and of a phone, px. */
const WIDTHS = [1280, 390] as const;

/** On the narrowest phone, with every fold and guess open: nothing runs sideways, and every field and button is as high as a thumb. */
async function inspectByThumb(page: Page, file: string): Promise<void> {
  await page.setViewportSize({ width: 360, height: 740 });
  const small: string[] = await page.evaluate(`(() => {
    for (const button of document.querySelectorAll("[data-show-me]")) button.click();
    for (const fold of document.querySelectorAll("details")) fold.open = true;
    // a word that is explained stands in a line of text, and is as high as the line
    return [...document.querySelectorAll("input, button:not(.term), select, textarea")]
      .map((one) => [one, one.getBoundingClientRect()])
      .filter(([, { width, height }]) => width > 0 && height > 0 && height < 43.5)
      .map(([one, { height }]) => one.outerHTML.slice(0, 90) + " " + height);
  })()`);
  assert.deepEqual(small, [], `${file}: too small for a thumb`);
  assert.ok(await sideways(page) <= 0, `${file} at 360 px with all open scrolls sideways`);
}

/** Everything a page of a real book must hold to, opened at one width and then drawn to the other. */
async function inspect(
  browser: Browser,
  file: string,
  widths: readonly number[],
  forBarriers: boolean,
): Promise<void> {
  const { page, complaints, requests } = await openFile(browser, file, { width: widths[0] ?? NaN });
  // barriers take longest, and are looked for at the first width; `deno task trial pages` looks at both, by day and in the dark
  if (forBarriers) assert.deepEqual(await barriers(page), [], file);
  for (const width of widths) {
    await page.setViewportSize({ width, height: 900 });
    assert.ok(await sideways(page) <= 0, `${file} at ${width} px scrolls sideways`);
  }
  assert.deepEqual([complaints, requests], [[], []], file);
  const ids = await idsOf(page);
  assert.equal(ids.length, new Set(ids).size, `${file} has an id twice: ${ids}`);
  for (const link of await linksOf(page)) {
    if (/^[a-z]+:/.test(link)) continue; // an address out in the world, followed only by a click
    if (link.startsWith("#")) assert.ok(ids.includes(link.slice(1)), `${file}: ${link}`);
    else Deno.statSync(join(dirname(file), link.split("#")[0] ?? ""));
  }
  await inspectByThumb(page, file);
  await page.context().close();
}

for (const state of ["finished", "half-way"] as const) {
  Deno.test({
    name:
      `the book on the ${state} record reads from disk: no complaint, no request, no sideways scroll, no barrier (Chromium)`,
    ignore: chromium === undefined,
    fn: async () => {
      const files = await pagesOn(state);
      const browser = await startBrowser();
      try {
        assert.equal(files.length, paths.length + 5, "index, report, glossary, search, print");
        for (const [place, file] of files.entries()) {
          // by turns at the desk and on the phone first, in one book the other way about than in the other
          const first = (place + (state === "finished" ? 0 : 1)) % 2;
          const widths = first === 0 ? WIDTHS : WIDTHS.toReversed();
          await inspect(browser, file, widths, state === "finished");
        }
      } finally {
        await browser.close();
      }
    },
  });
}
