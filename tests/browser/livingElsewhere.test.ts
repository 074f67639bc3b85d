/** Cells in the page, from disk, in Firefox and WebKit: they say what the book says; what stops them is told alike. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { firefox, webkit } from "../machine.ts";
import { bookOn } from "../notebooks/books.ts";
import { codeCells, executed, textsOf } from "../notebooks/runs.ts";
import { type OtherBrowser, startFirefox, startWebKit } from "./otherBrowsers.ts";

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

const elsewhere = [
  ["Firefox", firefox === undefined, startFirefox],
  ["WebKit", webkit === undefined, startWebKit],
] as const;

for (const [name, ignore, start] of elsewhere) {
  Deno.test({
    name:
      `all cells of all notebooks on the finished record say in the page what the book says (${name})`,
    ignore,
    fn: async () => {
      const browser: OtherBrowser = await start(), book = await bookOn("finished");
      let cells = 0;
      try {
        for (const { stem, notebook } of await executed("finished")) {
          await browser.open(join(book, `${stem}.html`));
          const wanted = codeCells(notebook).map((cell) => textsOf(cell).join("\n"));
          const got = await browser.evaluate<{ text: string; failed: boolean }[]>(
            `(async () => { const all = []; for (let n = 0; n < ${wanted.length}; n++) all.push(await firstMirror.run(n)); return all; })()`,
          );
          got.forEach(({ text, failed }, n) => {
            if (OTHERWISE.some((one) => one.stem === stem && one.cell === n)) return;
            assert.deepEqual([failed, text], [false, wanted[n]], `${stem}, cell ${n}`);
          });
          cells += wanted.length;
        }
      } finally {
        await browser.close();
      }
      assert.ok(cells > 300);
    },
  });

  Deno.test({
    name:
      `what stops a cell is told in one sentence with its line; a loop is stopped; the page lives on (${name})`,
    ignore,
    fn: async () => {
      const browser: OtherBrowser = await start();
      try {
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
      } finally {
        await browser.close();
      }
    },
  });
}
