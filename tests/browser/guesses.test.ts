/** Guesses in a page from disk: folded until typed or shown, open without script and on paper, usable by thumb. */
import assert from "node:assert/strict";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { chaptersOf } from "../../lib/book/pages/chapters.ts";
import { lessonBody } from "../../lib/book/pages/lessonBody.ts";
import { lessonPage } from "../../lib/book/pages/lessonPage.ts";
import type { Cell } from "../../lib/book/notebook.ts";
import { prose, states } from "../book/sampleBook.ts";
import { barriers, chromium, openFile, sideways, startBrowser } from "./browser.ts";
import { stemOf } from "../stems.ts";

const cell = (
  id: string,
  source: string,
  said: string,
  metadata: Record<string, unknown> = {},
): Cell => ({
  id,
  cell_type: "code",
  metadata,
  source,
  execution_count: 1,
  outputs: [{
    output_type: "display_data",
    data: {
      "text/html": `<div class="first-mirror"><p class="out">${said}</p></div>`,
      "text/plain": said,
    },
    metadata: {},
  }],
});
const cells: Cell[] = [
  prose("# Depth\n\nHow deep?"),
  prose("**Guess before you run:** how many millimetres?"),
  cell("code-01", "show(sagitta(150, 2400));", "1.172 mm", {
    tags: ["guess"],
    guess: { unit: "mm" },
  }),
  prose("As thick as a coin.", "after-guess"),
  prose("**Guess before you run:** the mirror, or the tool?"),
  cell("code-02", "show(which);", "the mirror", {
    tags: ["guess"],
    guess: { choices: ["the mirror", "the tool"], comes: "the mirror" },
  }),
  cell("code-03", "const wide = 150; // try 200 mm\nshow(wide);", "150 mm"),
  prose("**Try it:** put 200.", "try"),
];

async function withPage(
  look: Parameters<typeof openFile>[2],
  act: (page: Page) => Promise<void>,
): Promise<void> {
  const folder = await Deno.makeTempDir({ prefix: "first-mirror-guesses-" });
  const browser = await startBrowser();
  try {
    const chapters = chaptersOf([stemOf("measure-curve")]), facts = Object.values(states)[0];
    const chapter = chapters.find(({ file }) => file !== undefined);
    assert.ok(chapter !== undefined && facts !== undefined);
    const file = join(folder, "page.html");
    const page = lessonPage({ body: lessonBody({ cells }), chapter, chapters, facts });
    await Deno.writeTextFile(file, page);
    const open = await openFile(browser, file, look);
    await act(open.page);
    assert.deepEqual([open.complaints, open.requests], [[], []]);
  } finally {
    await browser.close();
    await Deno.remove(folder, { recursive: true });
  }
}

Deno.test({
  name:
    "a result is folded until its reader has guessed; the guess stays, with how far off it was (Chromium)",
  ignore: chromium === undefined,
  fn: () =>
    withPage({ width: 390 }, async (page) => {
      const form = page.locator('form[data-guess="0"]'), out = page.locator('[data-output-of="0"]');
      const kept = page.locator('[data-guess-kept="0"]'),
        told = page.getByText("As thick as a coin.");
      for (const hidden of [out, kept, told]) assert.equal(await hidden.isVisible(), false);
      assert.match(await page.locator("[data-guesses]").innerText(), /asks for 2 guesses/);
      await form.getByRole("button", { name: "Guess", exact: true }).click();
      assert.equal(await out.isVisible(), false, "nothing is no guess");
      await form.getByRole("textbox").fill("5");
      await page.keyboard.press("Enter");
      assert.equal(await form.isVisible(), false);
      for (const open of [out, told]) assert.equal(await open.isVisible(), true);
      assert.match(
        await kept.innerText(),
        /^You guessed 5\u00a0mm\. It is 1\.172\u00a0mm: your guess is about 4\.3 times too large\./,
      );
      assert.match(await page.locator("[data-guesses]").innerText(), /You guessed 1 of 2/);
      await page.getByRole("button", { name: "Guess again" }).click();
      assert.equal(await out.isVisible(), false);
      await form.getByRole("button", { name: "Show me" }).click();
      assert.equal(await out.isVisible(), true);
      assert.equal(await kept.isVisible(), false);
    }),
});

Deno.test({
  name:
    "words are guessed by a tap, what is kept is told to whoever keeps it, and put back (Chromium)",
  ignore: chromium === undefined,
  fn: () =>
    withPage({ width: 360, dark: true }, async (page) => {
      await page.evaluate(
        `globalThis.told = []; document.addEventListener("first-mirror:keep", (e) => told.push(e.detail))`,
      );
      const form = page.locator('form[data-guess="1"]');
      const size = await form.getByRole("button", { name: "the tool" }).boundingBox();
      assert.ok((size?.height ?? 0) >= 44, `a thumb needs 44 px, got ${size?.height}`);
      await form.getByRole("button", { name: "the tool" }).click();
      assert.match(
        await page.locator('[data-guess-kept="1"]').innerText(),
        /^You guessed the tool\. It is: the mirror\./,
      );
      assert.deepEqual(await page.evaluate("told"), [{
        kind: "guess",
        key: "1",
        value: "the tool",
      }]);
      await page.evaluate(`document.dispatchEvent(new CustomEvent("first-mirror:put-back", {
        detail: { kind: "guess", key: "0", value: "1,2" },
      }))`);
      assert.match(await page.locator('[data-guess-kept="0"]').innerText(), /very near/);
      assert.equal(
        ((await page.evaluate("told")) as unknown[]).length,
        1,
        "put back is not told again",
      );
      assert.ok(await sideways(page) <= 0);
      assert.deepEqual(await barriers(page), []);
    }),
});

Deno.test({
  name: "a value to try is written into its cell by the cell itself (Chromium)",
  ignore: chromium === undefined,
  fn: () =>
    withPage({}, async (page) => {
      await page.evaluate(`
        globalThis.firstMirror = {};
        document.querySelector('[data-cell="2"]').addEventListener("first-mirror:write", ({ detail }) => {
          globalThis.written = detail.change(document.querySelector('[data-cell="2"] pre').textContent);
          if (written !== undefined) detail.ran = Promise.resolve({ text: "", failed: false });
        })`);
      const form = page.locator('form[data-try="2"]');
      assert.equal(await form.getByRole("textbox").inputValue(), "200");
      await form.getByRole("textbox").fill("175,5 mm");
      await page.keyboard.press("Enter");
      assert.equal(
        await page.evaluate("written"),
        "const wide = 175.5; // try 200 mm\nshow(wide);",
      );
      await form.getByRole("textbox").fill("wide");
      await page.keyboard.press("Enter");
      assert.match(await form.getByRole("status").innerText(), /cannot stand there/);
    }),
});

Deno.test({
  name:
    "without script and on paper the page is whole: results stand, forms do not, a guess has its line (Chromium)",
  ignore: chromium === undefined,
  async fn(): Promise<void> {
    const isWhole = async (page: Page): Promise<void> => {
      for (const n of [0, 1, 2]) {
        assert.equal(await page.locator(`[data-output-of="${n}"]`).isVisible(), true);
      }
      assert.equal(await page.getByText("As thick as a coin.").isVisible(), true);
      assert.equal(await page.locator("form:visible").count(), 0);
      assert.equal(await page.locator("[data-guesses]:visible").count(), 0);
    };
    await withPage({ script: false }, isWhole);
    await withPage({}, async (page) => {
      await page.emulateMedia({ media: "print" });
      await isWhole(page);
      assert.equal(await page.getByText("Your guess:").first().isVisible(), true);
    });
  },
});
