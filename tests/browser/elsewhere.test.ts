/**
 * Every page of a book, from disk, in Firefox and WebKit: its console silent, formulas drawn, live figures moved, nothing sideways,
 * the search and the forms at work; its cells say what the book says, and what stops them is told alike. Of a page that fails a
 * picture is kept.
 */
import assert from "node:assert/strict";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { firefox, webkit } from "../machine.ts";
import { bookOn } from "../notebooks/books.ts";
import { codeCells, executed, textsOf } from "../notebooks/runs.ts";
import { stemOf } from "../stems.ts";
import { type OtherBrowser, startFirefox, startWebKit } from "./otherBrowsers.ts";

/** Where pictures of pages that failed are kept. */
const FAILED = fileURLToPath(new URL("../../book/.failed", import.meta.url));

/** Looks at a page; where something is wrong its picture is kept, and named. */
async function held(browser: OtherBrowser, name: string, work: () => Promise<void>): Promise<void> {
  try {
    await work();
  } catch (error) {
    await Deno.mkdir(FAILED, { recursive: true });
    const file = join(FAILED, `${name}-${browser.name}.png`);
    await Deno.writeFile(file, await browser.picture());
    throw new Error(`${name} in ${browser.name}, as seen in ${file}: ${(error as Error).message}`);
  }
}

/** What is looked at in a page, by what stands in it. */
interface Looked {
  /** formulas that can be seen, and those of them that have no height or width */
  readonly formulas: number;
  readonly flat: number;
  /** live figures whose number follows a slider, and the names of those whose does not */
  readonly moved: number;
  readonly stuck: readonly string[];
  /** exercises with a field to type into, and all of them */
  readonly asked: number;
  readonly exercises: number;
  /** how much wider than the window it is, px */
  readonly sideways: number;
}

const HELP = `const pause = (ms) => new Promise((later) => setTimeout(later, ms));
  const until = async (ask) => { for (let k = 0; k < 2400; k++) { const got = ask(); if (got) return got; await pause(50); } };
  const put = (input, value) => { input.value = value; input.dispatchEvent(new Event("input", { bubbles: true })); input.dispatchEvent(new Event("change", { bubbles: true })); };`;

const LOOK = `(async () => {
  ${HELP}
  for (const button of document.querySelectorAll("form[data-guess] [data-show-me]")) button.click();
  for (const fold of document.querySelectorAll("details:not(.cell)")) fold.open = true;
  const formulas = [...document.querySelectorAll("math")].filter((one) => one.checkVisibility());
  const flat = formulas.map((one) => one.getBoundingClientRect()).filter(({ width, height }) => !(width > 0 && height > 0)).length;
  let moved = 0; const stuck = [];
  for (const figure of document.querySelectorAll("figure.live")) {
    await until(() => figure.dataset.ready !== undefined);
    const reading = figure.querySelector(".reading"), before = reading.dataset.value;
    const follows = [...figure.querySelectorAll('input[type="range"]')].some((input) => [input.max, input.min].some((value) => {
      put(input, value);
      return reading.dataset.value !== before;
    }));
    if (follows) moved += 1; else stuck.push(figure.dataset.live);
  }
  const exercises = [...document.querySelectorAll(".exercise")];
  const asked = exercises.filter((one) => one.querySelector("form [name=answer]")?.checkVisibility()).length;
  return { formulas: formulas.length, flat, moved, stuck, asked, exercises: exercises.length, sideways: document.documentElement.scrollWidth - innerWidth };
})()`;

/** Opens the search and types. @returns how many places it found, and the first */
const SEARCH = `(async () => {
  ${HELP}
  put(document.querySelector("#typed"), "sagitta");
  await until(() => document.querySelectorAll("#found li").length >= 3);
  return { found: document.querySelectorAll("#found li").length, first: document.querySelector("#found li")?.textContent ?? "" };
})()`;

/** Types a leaf that does not pass though a smaller one does. @returns the refusal */
const REFUSED = `(async () => {
  ${HELP}
  const form = document.querySelector('form[data-table="sagitta"]');
  put(form.querySelector('[name="go_mm"]'), "0.88+0.25");
  put(form.querySelector('[name="nogo_mm"]'), "1.0");
  return await until(() => form.querySelector('[data-refusal="nogo_mm"]')?.textContent);
})()`;

/**
 * Cells that say something else in a page, and why; without an entry every one says the same in all browsers.
 *
 * None does: the demo's photographs are grey PNGs no larger than what is kept of one, which every browser decodes to the same
 * pixels.
 */
const OTHERWISE: readonly { readonly stem: string; readonly cell: number; readonly why: string }[] =
  [];

/** What a reader may write, and what she is told, in every engine's own words turned into the kit's. */
const BAD: readonly (readonly [source: string, says: RegExp, line: string])[] = [
  ["const mine = 2384,8;", /^write 2384\.8 with a point/, "1"],
  ["1;\n\nnothing + 1;", /^there is nothing called nothing/, "3"],
  ["throw 'no glass';", /^the cell threw “no glass”\.$/, "1"],
  ["const again = () => again() + 1;\nagain();", /^a function calls itself without end\.$/, "[12]"],
  [
    "const fixed = 1;\nconst f = () => { fixed = 2; };\nf();",
    /is fixed; declare it with let/,
    "[23]",
  ],
  ["early;\nconst early = 1;", /^there is nothing called early/, "1"],
  [
    "const all = [];\nfor (;;) all.push(new Array(1e6).fill(1.5));",
    /^the cell asked for more memory than there is\.$/,
    "2",
  ],
  ["await fetch('https://example.org/');", /^a cell reaches nothing outside its page\.$/, "1"],
  ["new Function('return 1')();", /^a cell makes no code from text\.$/, "1"],
];

/** On which line a failure is shown. */
const shownLine = (n: number): string =>
  `document.querySelector('[data-output-of="${n}"] .failure').textContent`;

/** What has been seen so far. */
interface Seen {
  formulas: number;
  moved: number;
  exercises: number;
  cells: number;
}

async function lookedAt(browser: OtherBrowser, seen: Seen): Promise<void> {
  const looked = await browser.evaluate<Looked>(LOOK);
  assert.deepEqual([looked.flat, looked.stuck], [0, []], "formulas without size, figures stuck");
  assert.equal(looked.asked, looked.exercises, "an exercise has no field");
  assert.ok(looked.sideways <= 0, `${looked.sideways} px too wide`);
  seen.formulas += looked.formulas;
  seen.moved += looked.moved;
  seen.exercises += looked.exercises;
}

/** Runs all cells of a page, held to what the book says. */
async function cellsAgree(browser: OtherBrowser, stem: string, seen: Seen): Promise<void> {
  const one = (await executed("finished")).find((each) => each.stem === stem);
  if (one === undefined) return;
  const wanted = codeCells(one.notebook).map((cell) => textsOf(cell).join("\n"));
  const got = await browser.evaluate<{ text: string; failed: boolean }[]>(
    `(async () => { const all = []; for (let n = 0; n < ${wanted.length}; n++) all.push(await firstMirror.run(n)); return all; })()`,
  );
  got.forEach(({ text, failed }, n) => {
    if (OTHERWISE.some((other) => other.stem === stem && other.cell === n)) return;
    assert.deepEqual([failed, text], [false, wanted[n]], `${stem}, cell ${n}`);
  });
  seen.cells += wanted.length;
}

async function everyPage(browser: OtherBrowser): Promise<void> {
  const book = await bookOn("finished");
  const pages = [...Deno.readDirSync(book)].map(({ name }) => name)
    .filter((name) => name.endsWith(".html")).sort();
  const seen: Seen = { formulas: 0, moved: 0, exercises: 0, cells: 0 };
  for (const page of pages) {
    const stem = page.replace(/\.html$/, "");
    await held(browser, page, async () => {
      await browser.open(join(book, page));
      await lookedAt(browser, seen);
      await cellsAgree(browser, stem, seen);
      if (stem === "search") {
        const { found, first } = await browser.evaluate<{ found: number; first: string }>(SEARCH);
        assert.ok(found >= 3, `${found} places`);
        assert.match(first, /sagitta/i);
      }
      if (stem === stemOf("measure-curve")) {
        const refusal = await browser.evaluate<string | null>(REFUSED);
        assert.match(refusal ?? "nothing", /^Found 1 mm, wanted more than the go of 1\.13 mm/);
      }
      assert.deepEqual(await browser.complaints(), []);
    });
  }
  const { formulas, moved, exercises, cells } = seen;
  assert.ok(pages.length >= 25 && cells > 300, `${pages.length} pages, ${cells} cells`);
  assert.ok(formulas > 20 && moved >= 15 && exercises > 40, JSON.stringify(seen));
}

async function stops(browser: OtherBrowser): Promise<void> {
  const [{ stem } = { stem: "" }] = (await executed("finished")).slice(4);
  await browser.open(join(await bookOn("finished"), `${stem}.html`));
  const n = 3;
  for (const [source, says, line] of BAD) {
    const { text, failed } = await browser.evaluate<{ text: string; failed: boolean }>(
      `firstMirror.run(${n}, ${JSON.stringify(source)})`,
    );
    assert.ok(failed, source);
    assert.match(text, says, source);
    const shown = await browser.evaluate<string>(shownLine(n));
    assert.match(shown, new RegExp(`^Line ${line}: `), `${source}: ${shown}`);
  }
  await browser.evaluate(`(void firstMirror.run(${n}, "let i = 0;\\nfor (;;) i++;"), true)`);
  await browser.evaluate(
    `new Promise((done) => { const look = () => { const b = document.querySelector('[data-cell="${n}"] [data-act="stop"]'); if (b.disabled) setTimeout(look, 50); else setTimeout(() => { b.click(); done(true); }, 500); }; look(); })`,
  );
  await browser.evaluate(
    `new Promise((done) => { const look = () => document.querySelector('[data-output-of="${n}"]').dataset.state === "failed" ? done(true) : setTimeout(look, 50); look(); })`,
  );
  assert.match(await browser.evaluate<string>(shownLine(n)), /^Stopped by you in line 2/);
  const { failed } = await browser.evaluate<{ failed: boolean }>(`firstMirror.run(${n + 4})`);
  assert.equal(failed, false);
  await browser.evaluate(`(console.error("a fault of ours"), true)`);
  assert.deepEqual((await browser.complaints()).slice(-1), ["a fault of ours"], "faults are heard");
}

for (
  const [name, ignore, start] of [
    ["Firefox", firefox === undefined, startFirefox],
    ["WebKit", webkit === undefined, startWebKit],
  ] as const
) {
  Deno.test({
    name:
      `every page of a book: console silent, formulas, figures, search, forms, all cells as in the book; what stops a cell is told (${name})`,
    ignore,
    fn: async () => {
      const browser = await start();
      try {
        await everyPage(browser);
        await stops(browser);
      } finally {
        await browser.close();
      }
    },
  });
}
