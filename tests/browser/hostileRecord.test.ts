/** A record whose every text is script: in a book built on it, and put into a book that stands, nothing of it runs (Chromium). */
import assert from "node:assert/strict";
import { basename, join } from "node:path";
import type { Page } from "playwright-core";
import { buildBook } from "../../lib/book/build.ts";
import { columnsOf, type TableName, TABLES } from "../../lib/record/schema.ts";
import { bookOn, RECORDS } from "../notebooks/books.ts";
import { stemOf } from "../stems.ts";
import { chromium, openFile, startBrowser } from "./browser.ts";

/** INVENTED: out of a text, of an attribute in either quotes, of a script block, of a template, and of a comment. */
const EVIL =
  `</script></textarea><img src=x onerror="globalThis.ran=1"><svg onload=globalThis.ran=1>'"\`\${globalThis.ran=1}--><a href="javascript:globalThis.ran=1">x</a>`;

const cell = (text: string): string => `"${text.replaceAll('"', '""')}"`;

/** Rows of the demo's table with script in every column that holds words; a table that it has not gets a row of examples. */
async function hostileTable(table: TableName): Promise<string> {
  const columns = columnsOf(table);
  const old = await Deno.readTextFile(join(RECORDS.finished, `${table}.csv`)).catch(() =>
    undefined
  );
  const needed = columns.filter(({ name, required }) => required === true || name === "note");
  const lines = old?.trim().split("\n").filter((line) => !line.startsWith("#")) ?? [
    needed.map(({ name, kind }) => (kind === "length" ? `${name}_mm` : name)).join(","),
    needed.map(({ name, example }) => name === "note" ? "" : example).join(","),
  ];
  const [head = "", ...rows] = lines, names = head.split(",");
  assert.ok(names.includes("note"), table);
  const isWords = names.map((name) =>
    ["words", "name"].includes(columns.find((one) => one.name === name)?.kind ?? "")
  );
  const hostile = rows.map((row) => {
    // the note stands last: whatever stands in it goes
    const cells = row.split(",");
    // a name of the sky is looked up; only a pair that no table knows may be anything, with its gap
    const isPair = cells[names.indexOf("what")] === "double star";
    return names.map((name, k) => {
      const text = cells[k] ?? "";
      if (name === "gap_arcsec" && isPair) return "1.2";
      if (isWords[k] !== true || (name === "object" && !isPair)) return text;
      return cell(name === "note" ? EVIL : `${text}${EVIL}`);
    }).join(",");
  });
  return [`# ${EVIL}`, head, ...hostile, ""].join("\n");
}

/** The demo with script in the name of the mirror, of its parts, of its pictures, in each comment and in each note. */
async function hostileRecord(folder: string): Promise<void> {
  const yaml = await Deno.readTextFile(join(RECORDS.finished, "mirror.yaml"));
  const quoted = `'${EVIL.replaceAll("'", "''")}'`;
  await Deno.writeTextFile(
    join(folder, "mirror.yaml"),
    yaml.replace(/^title: .*$/m, `title: ${quoted}`)
      .replaceAll(/name: [^,}]*/g, () => `name: ${quoted}`)
      .replaceAll(/#.*$/gm, () => `# ${EVIL.replaceAll("\n", " ")}`),
  );
  await Deno.mkdir(join(folder, "photos"));
  const picture = "<img src=x onerror=globalThis.ran=1>.png";
  for await (const { name } of Deno.readDir(join(RECORDS.finished, "photos"))) {
    await Deno.copyFile(join(RECORDS.finished, "photos", name), join(folder, "photos", name));
    await Deno.copyFile(join(RECORDS.finished, "photos", name), join(folder, "photos", picture));
  }
  // star.csv and knife.csv need pictures of their own; their notes are read as every table's
  for (const table of TABLES.filter((one) => one !== "star" && one !== "knife")) {
    const text = await hostileTable(table);
    const [first = ""] = /inside-8mm\.png/.exec(text) ?? [];
    await Deno.writeTextFile(
      join(folder, `${table}.csv`),
      first === "" ? text : text.replace(first, picture),
    );
  }
}

/** Fails where something ran, asked, or was kept from running by the page's policy alone. */
async function assertQuiet(
  page: Page,
  complaints: readonly string[],
  where: string,
): Promise<void> {
  assert.equal(await page.evaluate("globalThis.ran"), undefined, where);
  const foreign =
    `[...document.querySelectorAll("main img[src=x], main [onload], main [onerror], main a[href^='javascript:']")].length`;
  assert.equal(
    await page.evaluate(foreign),
    0,
    `${where}: an element of the record's stands in the page`,
  );
  assert.deepEqual(complaints, [], where);
}

Deno.test({
  name:
    "a record whose every text is script runs nothing in its own book, nor put into another (Chromium)",
  ignore: chromium === undefined,
  fn: async () => {
    const folder = await Deno.makeTempDir({ prefix: "first-mirror-hostile-" });
    const browser = await startBrowser();
    try {
      const record = join(folder, "record"), out = join(folder, "book");
      await Deno.mkdir(record);
      await hostileRecord(record);
      await buildBook({ record, out });
      const pages = [...Deno.readDirSync(out)].map(({ name }) => name)
        .filter((name) => name.endsWith(".html"));
      let withCells = 0;
      for (const name of pages) {
        const { page, complaints } = await openFile(browser, join(out, name));
        if (await page.getByRole("button", { name: "Run all" }).count() > 0) {
          withCells += 1;
          await page.getByRole("button", { name: "Run all" }).click();
          await page.waitForSelector("html[data-ran]", { timeout: 180_000 });
        }
        await assertQuiet(page, complaints, name);
        await page.context().close();
      }
      assert.ok(withCells >= 20, `${withCells} pages with cells`);

      const { page, complaints } = await openFile(
        browser,
        join(await bookOn("half-way"), `${stemOf("measure-curve")}.html`),
      );
      await page.locator("[data-take-work]:enabled").waitFor();
      await page.locator("[data-put-record][webkitdirectory]").setInputFiles(record);
      await page.locator("[data-other-record]:visible").waitFor();
      await page.getByRole("button", { name: "Run all" }).click();
      await page.waitForSelector("html[data-ran]", { timeout: 180_000 });
      await assertQuiet(page, complaints, "put in");
      for (const stem of ["measure-zones", "judge-mirror", "align-mirrors"].map(stemOf)) {
        await page.goto(new URL(`${basename(stem)}.html`, page.url()).href);
        await page.locator("[data-take-work]:enabled").waitFor();
        await page.getByRole("button", { name: "Run all" }).click();
        await page.waitForSelector("html[data-ran]", { timeout: 180_000 });
        await assertQuiet(page, complaints, stem);
      }
    } finally {
      await browser.close();
      await Deno.remove(folder, { recursive: true });
    }
  },
});
