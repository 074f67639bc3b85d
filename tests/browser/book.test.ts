import assert from "node:assert/strict";
import { dirname, join } from "node:path";
import type { Browser } from "playwright-core";
import { pagesOn } from "../notebooks/books.ts";
import { paths } from "../notebooks/runs.ts";
import { barriers, chromium, idsOf, linksOf, openFile, sideways, startBrowser } from "./browser.ts";

/** Everything a page of a real book must hold to, at one width; barriers take longest, and are looked for at one. */
async function inspect(
  browser: Browser,
  file: string,
  width: number,
  forBarriers: boolean,
): Promise<void> {
  const { page, complaints, requests } = await openFile(browser, file, { width });
  const here = `${file} at ${width} px`;
  assert.deepEqual(complaints, [], here);
  assert.deepEqual(requests, [], here);
  assert.ok(await sideways(page) <= 0, `${here} scrolls sideways`);
  const ids = await idsOf(page);
  assert.equal(ids.length, new Set(ids).size, `${here} has an id twice: ${ids}`);
  for (const link of await linksOf(page)) {
    if (/^[a-z]+:/.test(link)) continue; // an address out in the world, followed only by a click
    if (link.startsWith("#")) assert.ok(ids.includes(link.slice(1)), `${here}: ${link}`);
    else Deno.statSync(join(dirname(file), link.split("#")[0] ?? ""));
  }
  if (forBarriers) assert.deepEqual(await barriers(page), [], here);
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
          // barriers in every page of one book, by turns at the desk and on the phone; `deno task trial pages` looks at all
          const barriersAt = state === "finished" ? [1280, 390][place % 2] : undefined;
          for (const width of [1280, 390]) {
            await inspect(browser, file, width, width === barriersAt);
          }
        }
      } finally {
        await browser.close();
      }
    },
  });
}
