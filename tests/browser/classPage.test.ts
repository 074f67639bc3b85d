/** The page of a class from disk, on a desk and on a phone, in the light and in the dark. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { classPage } from "../../lib/book/pages/classPage.ts";
import { openClass } from "../../lib/knowledge/classOfRecords.ts";
import { kestrelLane } from "../record/classBench.ts";
import { barriers, chromium, openFile, sideways, startBrowser } from "./browser.ts";

Deno.test({
  name: "the page of a class: no complaint, no request, no sideways scroll, no barrier (Chromium)",
  ignore: chromium === undefined,
  fn: async () => {
    const folder = await Deno.makeTempDir({ prefix: "class-page-" });
    const browser = await startBrowser();
    try {
      const file = join(folder, "class.html");
      await Deno.writeTextFile(file, classPage(await openClass(kestrelLane)));
      for (const [width, dark] of [[1280, false], [390, true]] as const) {
        const { page, complaints, requests } = await openFile(browser, file, { width, dark });
        assert.deepEqual([complaints, requests], [[], []]);
        assert.ok(await sideways(page) <= 0, `${width} px`);
        assert.deepEqual(await barriers(page), [], `${width} px`);
        await page.context().close();
      }
    } finally {
      await browser.close();
      await Deno.remove(folder, { recursive: true });
    }
  },
});
