/** One book for a class: the lessons once, and in the page the numbers of the bench that is chosen. */
import assert from "node:assert/strict";
import { basename, join } from "node:path";
import { pathToFileURL } from "node:url";
import { buildClassBook } from "../../lib/book/classBook.ts";
import { readNotebook } from "../../lib/book/notebook.ts";
import { runWithoutKernels } from "../../lib/book/withoutKernels.ts";
import { openMirror } from "../../lib/knowledge/open.ts";
import { codeCells, paths, textsOf } from "../notebooks/runs.ts";
import { kestrelLane } from "../record/classBench.ts";
import { stemOf } from "../stems.ts";
import { barriers, chromium, sideways, startBrowser } from "./browser.ts";

const DAY = "2026-09-26";
/** A folder's name that is markup, an address with a query, and the name of a page. */
const HOSTILE = "index.html?a=1&<b>";
const stems = ["open-record", "measure-curve"].map(stemOf);

/** A class of four folders and a book of two of its stages, both gone afterwards. */
async function withBook(
  act: (book: string, classFolder: string, notebooks: string) => Promise<void>,
): Promise<void> {
  const outer = await Deno.realPath(await Deno.makeTempDir({ prefix: "class book " }));
  const folder = join(outer, "our class"), notebooks = join(outer, "notebooks");
  const copy = async (bench: string, as: string): Promise<void> => {
    await Deno.mkdir(join(folder, as), { recursive: true });
    for await (const { name } of Deno.readDir(join(kestrelLane, bench))) {
      await Deno.copyFile(join(kestrelLane, bench, name), join(folder, as, name));
    }
  };
  try {
    await copy("bench-03", "bench-03");
    await copy("bench-08", HOSTILE);
    await copy("bench-03", "bench-11");
    await Deno.writeTextFile(join(folder, "bench-11", "sagitta.csv"), "go_mm,nogo_mm\n0.9,oh\n");
    await Deno.mkdir(join(folder, "bench-12"));
    await Deno.mkdir(notebooks);
    for (const path of paths.filter((one) => stems.includes(basename(one, ".ipynb")))) {
      await Deno.copyFile(path, join(notebooks, basename(path)));
    }
    const { folder: book } = await buildClassBook({
      ...{ record: folder, out: join(outer, "book"), notebooks, today: DAY },
    });
    await act(book, folder, notebooks);
  } finally {
    await Deno.remove(outer, { recursive: true });
  }
}

Deno.test({
  name:
    "a class's book: cells, forms and next step are of the bench that is chosen, and nobody else's number is seen (Chromium)",
  ignore: chromium === undefined,
  fn: () =>
    withBook(async (book, folder, notebooks) => {
      const names = [...Deno.readDirSync(join(book, "benches"))].map(({ name }) => name).sort();
      assert.deepEqual(names, ["bench-03", "bench-11", HOSTILE].sort());
      const page = join(book, `${stems[1]}.html`), html = await Deno.readTextFile(page);
      const policy = /Content-Security-Policy" content="([^"]*)"/.exec(html)?.[1] ?? "";
      assert.match(policy, /script-src 'sha256-/);
      assert.doesNotMatch(policy, /script-src[^;]*unsafe/);
      // the records themselves stand in scripts beside the page, not in each page
      assert.doesNotMatch(html, /go_mm,nogo_mm/);

      const browser = await startBrowser();
      try {
        const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
        const phone = await context.newPage(), complaints: string[] = [];
        phone.on("pageerror", ({ message }) => void complaints.push(message));
        phone.on("console", (one) => {
          if (one.type() === "error") complaints.push(one.text());
        });
        const at = (bench: string): string =>
          `${pathToFileURL(page).href}?bench=${encodeURIComponent(bench)}`;

        // the judge is the same notebook, run on that record alone without a page
        const { summary } = await openMirror(join(folder, HOSTILE), DAY);
        const [alone] = await runWithoutKernels([join(notebooks, `${stems[1]}.ipynb`)], {
          record: join(folder, HOSTILE),
          today: DAY,
        });
        assert.ok(alone !== undefined);
        await phone.goto(at(HOSTILE));
        await phone.locator("html[data-ran]").waitFor({ state: "attached", timeout: 60_000 });
        assert.equal(
          await phone.getAttribute("html", "data-ran"),
          String(codeCells(alone.notebook).length),
        );
        assert.equal(await phone.locator("#bench").inputValue(), HOSTILE);
        assert.equal(
          await phone.locator(".of-bench [data-next-step]").innerText(),
          summary.nextStep.do,
        );
        const plain = (text: string): string => text.replace(/\s+/g, " ").trim();
        for (const [n, cell] of codeCells(alone.notebook).entries()) {
          const said = await phone.evaluate(`firstMirror.run(${n})`) as { text: string };
          assert.equal(plain(said.text), plain(textsOf(cell).join("\n")), `cell ${n}`);
        }
        assert.doesNotMatch(await phone.locator("main").innerText(), /Bench 3/);
        const record = await phone.evaluate("firstMirror.record()") as Record<string, string>;
        assert.equal(
          record["sagitta.csv"],
          await Deno.readTextFile(join(folder, HOSTILE, "sagitta.csv")),
        );
        assert.ok(await sideways(phone) <= 0);
        assert.deepEqual(await barriers(phone), []);

        // chosen in the page, it stays chosen on the next page
        await phone.locator("#bench").selectOption("bench-03");
        await phone.waitForURL(/bench=bench-03/);
        await phone.locator(".way").filter({ hasText: "Bench 3" }).waitFor();
        await phone.goto(pathToFileURL(join(book, `${stems[0]}.html`)).href);
        assert.equal(await phone.locator("#bench").inputValue(), "bench-03");

        // a record that cannot be read: its sentence, no numbers, and the lesson to be read all the same
        await phone.goto(at("bench-11"));
        await phone.locator("[data-bench-says]").filter({ hasText: "cannot be read" }).waitFor();
        assert.match(await phone.locator("[data-bench-says]").innerText(), /sagitta\.csv/);
        assert.equal(await phone.locator(".way").count(), 0);
        assert.match(await phone.locator("h1").innerText(), /curve/);

        // the front leads to each bench's own pages, and these back to the lessons with the bench in the address
        await phone.goto(pathToFileURL(join(book, "index.html")).href);
        assert.deepEqual(await barriers(phone), []);
        await phone.locator(`a[href="benches/${encodeURIComponent(HOSTILE)}/index.html"]`).click();
        await phone.locator("#mirror-title").waitFor();
        assert.equal(
          plain(await phone.locator("#mirror-title").innerText()),
          plain(summary.nextStep.do),
        );
        await phone.locator(`a[href*="${stems[1]}"]`).first().click();
        await phone.locator(".way").filter({ hasText: summary.title }).waitFor();
        assert.deepEqual(complaints, []);
      } finally {
        await browser.close();
      }
    }),
});

Deno.test("a class's book: what is one bench's is in its own script, and a name cannot break out of it", async () => {
  await withBook(async (book) => {
    const script = (bench: string): Promise<string> =>
      Deno.readTextFile(join(book, "benches", bench, "bench.js"));
    assert.match(await script(HOSTILE), /"record":"index\.html\?a=1&\\u003cb>"/);
    assert.match(await script("bench-11"), /"refusals":\["sagitta\.csv/);
    for (const stem of [...stems, "index", "glossary", "search", "class"]) {
      const html = await Deno.readTextFile(join(book, `${stem}.html`));
      assert.doesNotMatch(html, /<b>"?>?<\/option|a=1&<b>/, stem);
    }
    const notebook = await readNotebook(join(book, "notebooks", `${stems[1]}.ipynb`));
    assert.ok(codeCells(notebook).length > 10);
  });
});
