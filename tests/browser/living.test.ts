/** Cells in the page, from disk, in Chromium: every cell of every notebook says what the book says. */
import assert from "node:assert/strict";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { bookOn, type State } from "../notebooks/books.ts";
import { codeCells, executed, textsOf } from "../notebooks/runs.ts";
import { chromium, openFile, startBrowser } from "./browser.ts";
import { stemOf } from "../stems.ts";

async function withPage(
  state: State,
  stem: string,
  act: (page: Page, complaints: string[]) => Promise<void>,
  browser?: Browser,
): Promise<void> {
  const own = browser ?? await startBrowser();
  try {
    const file = join(await bookOn(state), `${stem}.html`);
    const { page, complaints } = await openFile(own, file);
    // what waits for a guess is shown: here the cells are looked at
    const unfold = `document.querySelectorAll(".gave[hidden]").forEach((e) => e.hidden = false)`;
    page.on("load", () => void page.evaluate(unfold).catch(() => {}));
    await page.evaluate(unfold);
    // its readings' part is alive
    await page.waitForSelector("[data-take-work]:enabled", { state: "attached" });
    await act(page, complaints);
    await page.context().close();
  } finally {
    if (browser === undefined) await own.close();
  }
}

/** Runs a page by its button, and reads what its cells say then. */
const runAll = async (page: Page): Promise<number> => {
  await page.getByRole("button", { name: "Run all" }).click();
  await page.waitForSelector("html[data-ran]", { timeout: 180_000 });
  return Number(await page.getAttribute("html", "data-ran"));
};

const stateOf = (page: Page, n: number): Promise<string | null> =>
  page.getAttribute(`[data-output-of="${n}"]`, "data-state");
/** Waits until a cell stands as it should; else says how it stands. */
async function untilIt(page: Page, n: number, state: string): Promise<void> {
  const selector = `[data-output-of="${n}"][data-state="${state}"]`;
  await page.waitForSelector(selector, { timeout: 90_000 }).catch(async () => {
    const cell = await page.innerText(`[data-cell="${n}"]`);
    assert.fail(`cell ${n} is ${await stateOf(page, n)}: ${await outputOf(page, n)}\n${cell}`);
  });
}
const outputOf = (page: Page, n: number): Promise<string> =>
  page.innerText(`[data-output-of="${n}"]`);
const run = (page: Page, n: number, source?: string): Promise<{ text: string; failed: boolean }> =>
  page.evaluate(`firstMirror.run(${n}, ${JSON.stringify(source)})`);

/** The number of the first cell that says something. */
async function cellSaying(page: Page, words: string): Promise<number> {
  const found: string = await page.evaluate(
    `[...document.querySelectorAll("[data-cell]")].find((e) => (e.querySelector("textarea")?.value ?? e.textContent).includes(${
      JSON.stringify(words)
    })).dataset.cell`,
  );
  return Number(found);
}

for (const state of ["finished", "half-way"] as const) {
  Deno.test({
    name:
      `all cells of all notebooks on the ${state} record say in the page what the book says (Chromium)`,
    ignore: chromium === undefined,
    fn: async () => {
      const browser = await startBrowser();
      let cells = 0;
      try {
        for (const { stem, notebook } of await executed(state)) {
          await withPage(state, stem, async (page, complaints) => {
            const wanted = codeCells(notebook).map((cell) => textsOf(cell).join("\n"));
            const got: { text: string; failed: boolean }[] = await page.evaluate(
              `(async () => { const all = []; for (let n = 0; n < ${wanted.length}; n++) all.push(await firstMirror.run(n)); return all; })()`,
            );
            got.forEach(({ text, failed }, n) => {
              assert.deepEqual([failed, text], [false, wanted[n]], `${stem}, cell ${n}`);
            });
            assert.deepEqual(complaints, [], stem);
            cells += wanted.length;
          }, browser);
        }
      } finally {
        await browser.close();
      }
      // deno-lint-ignore no-console -- how many were compared is part of the result
      console.log(`${state}: ${cells} cells`);
      assert.ok(cells > 300);
    },
  });
}

const CURVE = stemOf("measure-curve");

Deno.test({
  name:
    "run all by its button: every cell ends well, is marked done, and the page is the same but for how long it took (Chromium)",
  ignore: chromium === undefined,
  fn: () =>
    withPage("finished", CURVE, async (page) => {
      const before = (await page.innerText("main")).replace(/\s+/g, " ");
      const count = await page.locator("[data-cell]").count();
      assert.equal(await runAll(page), count);
      for (let n = 0; n < count; n++) assert.equal(await stateOf(page, n), "done", `cell ${n}`);
      await page.evaluate(
        `document.querySelectorAll(".how, [data-only]").forEach((e) => e.remove())`,
      );
      assert.equal((await page.innerText("main")).replace(/\s+/g, " "), before);
      // what was answered is still answered when its cell has run again
      const form = page.locator("form[data-exercise]").first();
      await form.getByRole("textbox").fill("987");
      await form.getByRole("textbox").press("Enter");
      await runAll(page);
      assert.equal(await form.getByRole("textbox").inputValue(), "987");
      assert.match(await form.locator("[data-judged]").innerText(), /987/);
    }),
});

Deno.test({
  name:
    "a cell is opened, changed and run by its reader: what rests on it is stale and runs on; as it was, all is back; reloaded, it is kept (Chromium)",
  ignore: chromium === undefined,
  fn: () =>
    withPage("finished", CURVE, async (page, complaints) => {
      const gap = await cellSaying(page, "const gap = ");
      const on = await cellSaying(page, "const inside = ");
      const alone = await cellSaying(page, "const step = ");
      const cell = page.locator(`[data-cell="${gap}"]`), built = await outputOf(page, on);
      await cell.locator("summary").click();
      await cell.getByRole("textbox", { name: `Cell ${gap + 1}` }).fill(
        'import { bracket } from "first-mirror/measuring";\nconst gap = bracket([0.88, 0.2], [0.85, 0.3]);\nshow(gap.u * 1000, "µm");',
      );
      await cell.getByRole("button", { name: "Run", exact: true }).click();
      await untilIt(page, gap, "done");
      assert.match(await cell.locator("summary").innerText(), /changed by you/);
      assert.match(await outputOf(page, gap), /20\.2.*µm[\s\S]*Run in .*As built it was/);
      assert.deepEqual([await stateOf(page, on), await stateOf(page, alone)], [
        "stale",
        "as built",
      ]);
      await page.locator(`[data-output-of="${on}"]`).getByRole("button", { name: "Run on" })
        .click();
      await untilIt(page, on, "done");
      assert.notEqual((await outputOf(page, on)).split("\n")[0], built.split("\n")[0]);

      await page.reload();
      await page.waitForSelector("[data-changed]");
      assert.match(await cell.locator("summary").innerText(), /changed by you/);
      assert.equal(await stateOf(page, gap), "as built");
      assert.match((await run(page, gap)).text, /20\.2/);
      await run(page, on);
      await page.evaluate(`document.querySelector('[data-cell="${gap}"]').open = true`);
      await cell.getByRole("button", { name: "As it was" }).click();
      await untilIt(page, gap, "as built");
      assert.equal(await stateOf(page, on), "stale");
      assert.equal((await run(page, on)).text, built.trim());
      await page.reload();
      await run(page, gap);
      assert.equal(await page.locator("[data-changed]").count(), 0);
      assert.deepEqual(complaints, []);
    }),
});

Deno.test({
  name:
    "an opened cell has an editor: it completes the library's names with what is said of them and brings their import; Shift and Enter run; Tab leaves it (Chromium)",
  ignore: chromium === undefined,
  fn: () =>
    withPage("finished", CURVE, async (page, complaints) => {
      const n = await cellSaying(page, "mirrorSection(");
      const cell = page.locator(`[data-cell="${n}"]`);
      await cell.locator("summary").click();
      await page.waitForSelector(`[data-cell="${n}"] .editor`);
      const field = cell.getByRole("textbox", { name: `Cell ${n + 1}` });
      await field.fill("mirrorSec");
      await field.press("End");
      await field.pressSequentially("t", { delay: 30 });
      await page.waitForSelector(".cm-completionInfo");
      assert.match(await page.innerText(".cm-tooltip-autocomplete"), /^mirrorSection\s*figures/);
      await page.keyboard.press("Escape");
      await field.fill("show(");
      await field.press("End");
      await field.pressSequentially("focalLengthPerIm", { delay: 30 });
      await page.waitForSelector(".cm-tooltip-autocomplete");
      await page.waitForTimeout(150);
      await page.keyboard.press("Enter");
      await field.pressSequentially('("2026-04-18"))', { delay: 5 });
      assert.match(
        await field.innerText(),
        /^(import \{ focalLengthPerImage \} from "first-mirror\/measuring";\n)?show\(focalLengthPerImage\("2026-04-18"\)\)/,
      );
      await field.press("Shift+Enter");
      await untilIt(page, n, "done");
      assert.match(await outputOf(page, n), /^\d{2,3}\.?\d*/);
      await field.fill("const a = 1;\nshow(a;");
      await field.press("Shift+Enter");
      await untilIt(page, n, "failed");
      assert.equal(await page.locator(".failed-line").innerText(), "show(a;");
      await field.press("Tab");
      assert.equal(await page.evaluate("document.activeElement.textContent"), "Run");
      assert.deepEqual(complaints, []);
    }),
});

/** What a reader may write, and the one sentence she gets: every one leaves the page alive and other cells as they were. */
const bad: readonly (readonly [source: string, says: RegExp])[] = [
  ["const mine = 2384,8;", /^Line 1: write 2384\.8 with a point/],
  ["const a = 1;\nshow(a;", /^Line 2: the \( here is not closed/],
  ["throw 'no glass';", /^Line 1: the cell threw “no glass”/],
  ["nothing(1);", /^Line 1: there is nothing called nothing/],
  ["const show = 5;", /^$/],
  [
    'import * as optics from "first-mirror/optics";\ndelete optics.sagitta;',
    /^Line 2: .*(delete|sagitta)/,
  ],
  ["await fetch('https://example.org/');", /^Line 1: a cell reaches nothing outside its page\./],
  ["new Function('return 1')();", /^Line 1: a cell makes no code from text\./],
  ["Array.prototype.map = undefined;", /^A cell has changed what the language itself stands on/],
  ["postMessage({ to: 1 });\npostMessage('x');", /^$/],
];

Deno.test({
  name:
    "whoever writes before the editor is there goes on where she is: place and selection are kept (Chromium)",
  ignore: chromium === undefined,
  fn: () =>
    withPage("finished", CURVE, async (page) => {
      const n = await cellSaying(page, "const gap = ");
      // opened and selected in one go, before the editor's script can have come
      await page.evaluate(`{
        const cell = document.querySelector('[data-cell="${n}"]');
        cell.open = true;
        const area = cell.querySelector("textarea");
        area.focus();
        area.select();
      }`);
      await page.waitForSelector(`[data-cell="${n}"] .editor`);
      await page.keyboard.insertText("const mine = 7;\nshow(mine);");
      await page.keyboard.press("Shift+Enter");
      await untilIt(page, n, "done");
      assert.match(await outputOf(page, n), /^7/);
    }),
});

Deno.test({
  name:
    "whatever a reader writes: one sentence with its line, the page alive, other cells' results kept (Chromium)",
  ignore: chromium === undefined,
  fn: () =>
    withPage("finished", CURVE, async (page) => {
      const kept = await cellSaying(page, "mirrorSection(");
      const n = await cellSaying(page, "misconceptionFromRatio(");
      await run(page, kept);
      const other = await outputOf(page, kept);
      for (const [source, says] of bad) {
        const { failed } = await run(page, n, source);
        const told = (await outputOf(page, n)).split("\n")[0] ?? "";
        if (failed) assert.match(told, says, source);
        else assert.ok(says.test(""), `${source} ended well`);
        assert.equal(await outputOf(page, kept), other);
      }
      // the library is whole again for a page that begins anew
      await page.evaluate(`document.querySelector('[data-cell="${n}"]').open = true`);
      await page.locator(`[data-cell="${n}"]`).getByRole("button", { name: "As it was" }).click();
      assert.equal(await runAll(page), await page.locator("[data-cell]").count());
    }),
});

Deno.test({
  name:
    "a loop without end is stopped by its button, and what stands above has its values again (Chromium)",
  ignore: chromium === undefined,
  fn: () =>
    withPage("finished", CURVE, async (page) => {
      const n = await cellSaying(page, "const step = ");
      const { text } = await run(page, await cellSaying(page, "const inside = "));
      await page.evaluate(`document.querySelector('[data-cell="${n}"]').open = true`);
      const cell = page.locator(`[data-cell="${n}"]`);
      await cell.getByRole("textbox").fill("let n = 0;\nfor (;;) n++;");
      await cell.getByRole("button", { name: "Run", exact: true }).click();
      await untilIt(page, n, "running");
      await page.waitForTimeout(300);
      await cell.getByRole("button", { name: "Stop" }).click();
      await untilIt(page, n, "failed");
      assert.match(await outputOf(page, n), /^Stopped by you in line 2/);
      const again = await run(page, n, 'show(forgotten - inside, "mm");');
      assert.deepEqual(again, { text, failed: false });
    }),
});

Deno.test({
  name:
    "a loop without end and a wait for nothing end by themselves after half a minute; so does what eats memory, sooner (Chromium)",
  ignore: chromium === undefined,
  fn: () =>
    withPage("finished", CURVE, async (page) => {
      const begun = performance.now();
      const endless = await run(page, 7, "for (;;);");
      assert.match(endless.text, /still computing in line 1 after 30 s/);
      assert.ok(performance.now() - begun < 45_000);
      const waiting = await run(page, 7, "await new Promise(() => {});");
      assert.match(waiting.text, /still waiting in line 1 after 30 s/);
      const eater = await run(
        page,
        7,
        "const all = [];\nfor (;;) all.push(new Array(1e7).fill(1.5));",
      );
      assert.deepEqual(eater, {
        text: "the cell asked for more memory than there is.",
        failed: true,
      });
      assert.equal((await run(page, 8)).failed, false);
    }),
});

Deno.test({
  name:
    "every page's policy: scripts by their sums, nothing inline, no network; only cells bring code in (Chromium)",
  ignore: chromium === undefined,
  fn: async () => {
    const book = await bookOn("finished");
    const pages = [...Deno.readDirSync(book), ...Deno.readDirSync(join(book, "print"))]
      .map(({ name }) => name).filter((name) => name.endsWith(".html"));
    assert.ok(pages.length > 40, `${pages.length} pages`);
    for (const name of pages) {
      const file = await Deno.readTextFile(join(book, name))
        .catch(() => Deno.readTextFile(join(book, "print", name)));
      const policy = /Content-Security-Policy" content="([^"]*)"/.exec(file)?.[1] ?? "";
      assert.match(policy, /default-src 'none'/, name);
      const scripts = /script-src ([^;]*)/.exec(policy)?.[1] ?? "";
      assert.doesNotMatch(scripts, /unsafe|https?:|\*/, name);
      assert.doesNotMatch(file, /<[^>]*\son[a-z]+=/, `${name} has a handler in its markup`);
    }
  },
});
