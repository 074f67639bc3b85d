import assert from "node:assert/strict";
import { dirname, join } from "node:path";
import type { Browser } from "playwright-core";
import { buildBook } from "../../lib/book/build.ts";
import { demoName, recordFolder } from "../../lib/record/open.ts";
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

for (const [record, barriersAt] of [[demoName, 1280], ["halfway-200-f6", 390]] as const) {
  Deno.test({
    name:
      `the book of ${record} reads from disk: no complaint, no request, no sideways scroll, no barrier (Chromium)`,
    ignore: chromium === undefined,
    fn: async () => {
      const folder = await Deno.makeTempDir({ prefix: "first-mirror-book-" });
      const browser = await startBrowser();
      try {
        const built = await buildBook({ record: recordFolder(record), out: join(folder, record) });
        const files = [...Deno.readDirSync(built.folder)].map(({ name }) => name)
          .filter((name) => name.endsWith(".html"));
        assert.equal(files.length, built.stages + 4, "index, report, glossary, search");
        for (const file of files) {
          for (const width of [1280, 390]) {
            await inspect(browser, join(built.folder, file), width, width === barriersAt);
          }
        }
      } finally {
        await browser.close();
        await Deno.remove(folder, { recursive: true });
      }
    },
  });
}
