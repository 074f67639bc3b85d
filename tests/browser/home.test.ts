/** Words explained in place, and the search: by keys, by touch, without a script, on paper. */
import assert from "node:assert/strict";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { chaptersOf } from "../../lib/book/pages/chapters.ts";
import { glossaryPage } from "../../lib/book/pages/glossaryPage.ts";
import { lessonBody } from "../../lib/book/pages/lessonBody.ts";
import { lessonPage } from "../../lib/book/pages/lessonPage.ts";
import { glossaryPlaces, placesOf, searchPage } from "../../lib/book/pages/searchPage.ts";
import { lesson, states } from "../book/sampleBook.ts";
import { barriers, chromium, openFile, startBrowser } from "./browser.ts";
import { stemOf } from "../stems.ts";

/** A book of one lesson on disk, with its search and glossary. */
async function onDisk(act: (browser: Browser, folder: string) => Promise<void>): Promise<void> {
  const folder = await Deno.makeTempDir({ prefix: "first-mirror-home-" });
  const chapters = chaptersOf([stemOf("measure-curve")]), chapter = chapters[4];
  assert.ok(chapter !== undefined);
  const body = lessonBody(lesson, "measure-curve"), facts = states.halfway;
  const places = [...glossaryPlaces(), ...placesOf(body, chapter)];
  const used = new Map([[stemOf("measure-curve"), body.words]]);
  const put = (name: string, text: string): Promise<void> =>
    Deno.writeTextFile(join(folder, name), text);
  await put(`${stemOf("measure-curve")}.html`, lessonPage({ body, chapter, chapters, facts }));
  await put("search.html", searchPage(chapters, places));
  await put("glossary.html", glossaryPage(chapters, used));
  const browser = await startBrowser();
  try {
    await act(browser, folder);
  } finally {
    await browser.close();
    await Deno.remove(folder, { recursive: true });
  }
}

const active = (page: Page): Promise<string> =>
  page.evaluate("document.activeElement.id || document.activeElement.textContent");

Deno.test({
  name: "a dotted word opens its meaning by key and by touch, with and without scripts (Chromium)",
  ignore: chromium === undefined,
  fn: () =>
    onDisk(async (browser, folder) => {
      for (const script of [true, false]) {
        const file = join(folder, `${stemOf("measure-curve")}.html`);
        const { page, complaints } = await openFile(browser, file, { script, width: 390 });
        const word = page.locator(".term", { hasText: "straight-edge" }).first();
        const meaning = page.locator("#word-straight-edge");
        assert.equal(await meaning.isVisible(), false);
        await word.click();
        assert.equal(await meaning.isVisible(), true);
        assert.match(await meaning.innerText(), /^straight-edge\n+A bar with one edge/);
        const box = await meaning.boundingBox();
        assert.ok(box !== null && box.x >= 0 && box.x + box.width <= 390, JSON.stringify(box));
        await page.keyboard.press("Escape");
        assert.equal(await meaning.isVisible(), false);
        await word.focus();
        await page.keyboard.press("Enter");
        assert.equal(await meaning.isVisible(), true);
        assert.equal(await page.isVisible(".words"), false);
        await page.emulateMedia({ media: "print" });
        assert.equal(await page.isVisible(".words"), true, "on paper the words stand at the end");
        assert.equal(await meaning.isVisible(), false);
        assert.deepEqual(complaints, []);
        await page.context().close();
      }
    }),
});

Deno.test({
  name:
    "the search finds prose, headings and words as they are typed, at the width of a phone, by keys alone (Chromium)",
  ignore: chromium === undefined,
  fn: () =>
    onDisk(async (browser, folder) => {
      const { page, complaints, requests } = await openFile(browser, join(folder, "search.html"), {
        width: 390,
      });
      assert.equal(await active(page), "typed", "ready to type");
      await page.keyboard.type("chords of one circle");
      assert.equal(await page.innerText("#told"), "1 place.");
      assert.equal(await page.innerText("#found mark"), "chords");
      await page.keyboard.press("Escape");
      await page.keyboard.type("sagitta");
      assert.match(await page.innerText("#found li:first-child"), /^Glossary: sagitta s/);
      assert.ok(await page.locator("#found li").count() >= 3);
      await page.keyboard.press("ArrowDown");
      assert.match(await active(page), /^Glossary: sagitta s/);
      await page.keyboard.press("ArrowUp");
      assert.equal(await active(page), "typed");
      assert.deepEqual(await barriers(page), []);
      assert.equal(await page.evaluate("document.documentElement.scrollWidth - innerWidth"), 0);
      await page.keyboard.type(" nowhere");
      assert.match(await page.innerText("#told"), /^Nothing found\./);
      await page.keyboard.press("Escape");
      await page.keyboard.type("deep hollow");
      await page.keyboard.press("Enter");
      await page.waitForURL(/\.html#/);
      assert.deepEqual(complaints, []);
      assert.deepEqual(requests.filter((url) => !url.startsWith("file://")), []);
      await page.context().close();
    }),
});

Deno.test({
  name: "the search without scripts says so, and leads to the glossary and to all pages (Chromium)",
  ignore: chromium === undefined,
  fn: () =>
    onDisk(async (browser, folder) => {
      const { page } = await openFile(browser, join(folder, "search.html"), { script: false });
      assert.equal(await page.isVisible("#typed"), false);
      assert.equal(await page.isVisible("noscript a[href='glossary.html']"), true);
      assert.equal(
        await page.isVisible(`noscript a[href='${stemOf("measure-curve")}.html']`),
        true,
      );
    }),
});
