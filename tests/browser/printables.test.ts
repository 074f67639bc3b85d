/** What Chromium prints, measured on the PDF: bars and features true to 0.3 mm in 150, one sheet a page, on A4 and Letter. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { cautionsOf } from "../../lib/book/writeBook.ts";
import { readNotebook } from "../../lib/book/notebook.ts";
import { notebookPaths } from "../notebooks/notebookPaths.ts";
import { printablesOf, printFiles } from "../../lib/book/pages/printPages.ts";
import { papers } from "../../lib/figures/prints/printable.ts";
import { openMirror, recordsFolder } from "../../lib/knowledge/open.ts";
import { barriers, chromium, openFile, sideways, startBrowser } from "./browser.ts";
import { type PaperPage, type PaperPath, readPdf } from "./pdfPaths.ts";

const lessons = await Promise.all((await notebookPaths()).map(readNotebook));
const stages = lessons.map(cautionsOf);

/** The largest size of the paths that are as wide (or high) as this, give or take 2 mm; mm. */
function near(paths: readonly PaperPath[], wide: number, high: number): PaperPath[] {
  return paths.filter(({ left, right, top, bottom }) =>
    Math.abs(right - left - wide) < 2 && Math.abs(top - bottom - high) < 2
  );
}

/** What the task asks of 150 mm, mm. */
const bound = 0.3;

function measured(
  page: PaperPage,
  wide: number,
  high: number,
  what: string,
  left?: number,
): number {
  const found = near(page.paths, wide, high)
    .filter((path) => left === undefined || Math.abs(path.left - left) < 0.2);
  assert.ok(found.length > 0, `${what} is not on the page`);
  const off = Math.max(
    ...found.map(({ left, right, top, bottom }) =>
      Math.max(Math.abs(right - left - wide), Math.abs(top - bottom - high))
    ),
  );
  assert.ok(off <= bound, `${what}: ${off.toFixed(3)} mm off`);
  return off;
}

Deno.test({
  name:
    "printed to PDF: bars and features at true scale, one sheet a page, nothing spilt (needs Chromium)",
  ignore: chromium === undefined,
  fn: async () => {
    const folder = await Deno.makeTempDir({ prefix: "print-" });
    const browser = await startBrowser();
    let worst = 0, pages = 0;
    try {
      const { record, summary } = await openMirror(join(recordsFolder, "halfway-200-f6"));
      const facts = { record, summary, builtOn: new Date(2026, 10, 25) };
      const all = printablesOf(facts, stages);
      await Deno.mkdir(join(folder, "print"));
      for (const [name, text] of printFiles(all, facts)) {
        await Deno.writeTextFile(join(folder, name), text);
      }
      const tab = await browser.newPage();
      for (const one of all) {
        for (const paper of papers) {
          const sheets = one.sheets(paper).length;
          const file = join(folder, "print", `${one.name}-${paper.name.toLowerCase()}.html`);
          await tab.goto(pathToFileURL(file).href);
          const bytes = await tab.pdf({ preferCSSPageSize: true });
          const printed = await readPdf(new Uint8Array(bytes));
          assert.equal(printed.length, sheets, `${one.name} on ${paper.name}`);
          for (const page of printed) {
            pages++;
            // Chromium writes pages of whole points, a third of a millimetre
            assert.ok(Math.abs(page.width - paper.width) < 0.36, `${page.width}`);
            assert.ok(Math.abs(page.height - paper.height) < 0.36, `${page.height}`);
            worst = Math.max(worst, measured(page, 150, 0, "the bar across", 18));
            worst = Math.max(worst, measured(page, 0, 150, "the bar down", 11));
            if (["zone-mask", "channel-grid", "centre-finder"].includes(one.name)) {
              worst = Math.max(worst, measured(page, 200, 200, `the rim of ${one.name}`));
            }
            if (one.name.startsWith("card-")) {
              // READ: ISO 216, A5
              worst = Math.max(worst, measured(page, 148, 210, `the frame of ${one.name}`));
            }
            if (one.name === "curve-gauge") {
              // DERIVED: 100^2 / 4800 = 2.083 mm deep over 200 mm
              worst = Math.max(worst, measured(page, 200, 2.084, "the arc"));
            }
          }
        }
      }
    } finally {
      await browser.close();
      await Deno.remove(folder, { recursive: true });
    }
    // deno-lint-ignore no-console -- how near the print comes is worth telling
    console.log(`    ${pages} printed sheets, ${worst.toFixed(3)} mm off at the worst`);
    assert.ok(pages > 30);
  },
});

Deno.test({
  name: "the list and the sheets on a screen: no barrier, no sideways scrolling (needs Chromium)",
  ignore: chromium === undefined,
  fn: async () => {
    const folder = await Deno.makeTempDir({ prefix: "print-" });
    const browser = await startBrowser();
    try {
      const { record, summary } = await openMirror(join(recordsFolder, "halfway-200-f6"));
      const facts = { record, summary, builtOn: new Date(2026, 10, 25) };
      await Deno.mkdir(join(folder, "print"));
      for (const [name, text] of printFiles(printablesOf(facts, stages), facts)) {
        await Deno.writeTextFile(join(folder, name), text);
      }
      for (const name of ["print.html", "print/zone-mask-a4.html", "print/safety-letter.html"]) {
        const { page, complaints, requests } = await openFile(browser, join(folder, name), {
          width: 390,
        });
        assert.deepEqual([complaints, requests], [[], []], name);
        assert.ok(await sideways(page) <= 0, name);
        assert.deepEqual(await barriers(page), [], name);
        await page.context().close();
      }
    } finally {
      await browser.close();
      await Deno.remove(folder, { recursive: true });
    }
  },
});
