// deno-lint-ignore-file no-console
/**
 * What a person waits for, by the clock, each by the command or in the page where she waits for it, beside what is promised on
 * two cores that have nothing else to do. On a busy machine the figures say how busy it was.
 */
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import type { Browser, Page } from "playwright-core";
import { scripts } from "../../lib/book/library.ts";
import { demoName, recordsFolder } from "../../lib/knowledge/open.ts";
import { demoClassName } from "../../lib/knowledge/classBeside.ts";
import { chromium, startBrowser } from "../browser/browser.ts";
import { stemOf } from "../stems.ts";
import { seconds } from "./clock.ts";

const config = fileURLToPath(new URL("../../deno.json", import.meta.url));
/** Where builds keep what they worked out, and the library of the pages. */
const kept = [".kept", ".library"].map((name) =>
  fileURLToPath(new URL(`../../book/${name}`, import.meta.url))
);

const rows: string[] = [];
function say(what: string, value: number, unit: string, promised?: number): void {
  const holds = promised === undefined ? "" : value <= promised ? "holds" : "DOES NOT HOLD";
  const wanted = promised === undefined ? "" : `${promised} ${unit}`;
  rows.push(`| ${what} | ${value.toFixed(2)} ${unit} | ${wanted} | ${holds} |`);
  console.log(`${what.padEnd(64)} ${value.toFixed(2).padStart(7)} ${unit} ${wanted} ${holds}`);
}

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;

/** A task as a person runs it, its whole process by the clock. @returns seconds */
const task = (...args: readonly string[]): Promise<number> =>
  seconds(async () => {
    const { success, stderr } = await new Deno.Command(Deno.execPath(), {
      args: ["task", "--config", config, ...args],
      env: { NO_COLOR: "1" },
      stdin: "null",
      stdout: "null",
      stderr: "piped",
    }).output();
    if (!success) throw new Error(new TextDecoder().decode(stderr).slice(-2000));
  });

async function thrice(act: () => Promise<number>): Promise<number> {
  const took: number[] = [];
  for (let round = 0; round < 3; round++) took.push(await act());
  return median(took);
}

async function copy(from: string, to: string): Promise<void> {
  await Deno.mkdir(to, { recursive: true });
  for await (const { name, isDirectory } of Deno.readDir(from)) {
    if (isDirectory) await copy(join(from, name), join(to, name));
    else await Deno.copyFile(join(from, name), join(to, name));
  }
}

/** A record with a last row of a table read once more. */
async function withOneMore(record: string, table: string): Promise<void> {
  const path = join(record, table), text = (await Deno.readTextFile(path)).trimEnd();
  await Deno.writeTextFile(path, `${text}\n${text.split("\n").at(-1)}\n`);
}

const folder = await Deno.makeTempDir({ prefix: "first-mirror-waits-" });
try {
  await commands();
  await books();
} finally {
  await Deno.remove(folder, { recursive: true });
}
console.log(["\n| what | waited | promised | |", "| --- | --- | --- | --- |", ...rows].join("\n"));

async function commands(): Promise<void> {
  const record = join(folder, demoName), group = join(recordsFolder, demoClassName);
  await copy(join(recordsFolder, demoName), record);
  let copies = 0;
  // what a check reduces is kept by the record's folder: one that it has never met is checked for the first time
  const first = await thrice(async () => {
    const other = join(folder, `never-seen-${++copies}`);
    await copy(record, other);
    return await task("check", other);
  });
  say("check of the demo for the first time", first, "s", 0.8);
  await task("check", record);
  say("the same once more", await thrice(() => task("check", record)), "s", 0.8);
  await withOneMore(record, "sagitta.csv");
  say("after one new row of sagitta.csv", await task("check", record), "s");
  await Deno.remove(join(record, "ronchi.csv"));
  const bare = await thrice(() => task("check", record));
  say("check of the demo without its photographs", bare, "s");
  const shaped = [...Deno.readDirSync(group)].map(({ name }) => name).sort().at(-1) ?? "";
  say(
    `check of ${shaped} of the class`,
    await thrice(() => task("check", join(group, shaped))),
    "s",
    1,
  );
  const thirty = join(folder, "class-of-thirty"),
    benches = [...Deno.readDirSync(group)]
      .filter(({ isDirectory }) => isDirectory).map(({ name }) => name).sort();
  for (let n = 0; n < 30; n++) {
    const bench = benches[n % benches.length] ?? "";
    await copy(join(group, bench), join(thirty, `bench-${String(n + 1).padStart(2, "0")}`));
  }
  say("check of a class of thirty", await thrice(() => task("check", thirty)), "s", 1);
  const sheets = join(folder, "sheets");
  say("print", await thrice(() => task("print", demoName, "--out", sheets)), "s", 3);
  say("doctor", await thrice(() => task("doctor")), "s", 5);
}

async function books(): Promise<void> {
  const record = join(folder, "record"), out = join(folder, "book");
  await copy(join(recordsFolder, demoName), record);
  // what builds before have worked out is put aside, and comes back at the end
  for (const place of kept) await Deno.rename(place, `${place}.aside`).catch(() => {});
  try {
    say("the demo's whole book, nothing kept", await task("book", record, "--out", out), "s", 8);
    say("the same with nothing new", await task("book", record, "--out", out), "s");
    for (const table of ["grinding.csv", "sagitta.csv", "zones.csv"]) {
      await withOneMore(record, table);
      say(`after one new row of ${table}`, await task("book", record, "--out", out), "s", 3);
    }
  } finally {
    for (const place of kept) {
      const isAside = await Deno.stat(`${place}.aside`).then(() => true, () => false);
      if (!isAside) continue;
      await Deno.remove(place, { recursive: true }).catch(() => {});
      await Deno.rename(`${place}.aside`, place);
    }
  }
  const sizes = await Promise.all(
    Object.values(scripts).map(async (name) => (await Deno.stat(join(out, name))).size),
  );
  say("all scripts of a page", sizes.reduce((sum, size) => sum + size, 0) / 1e6, "MB", 3.5);
  if (chromium !== undefined) await pages(out);
}

/** First paint, first cell, and a typed reading, in Chromium. */
async function pages(book: string): Promise<void> {
  const names = [...Deno.readDirSync(book)].map(({ name }) => name)
    .filter((name) => /^\d\d-.*\.html$/.test(name)).sort();
  const browser = await startBrowser(), bare = join(book, "without-script.html");
  try {
    const worst = { paint: 0, cell: 0 };
    for (const name of names) {
      const file = join(book, name), html = await Deno.readTextFile(file);
      const without = html.replace(/<script(?![^>]*json)[\s\S]*?<\/script>/g, "");
      await Deno.writeTextFile(bare, without);
      const paints = { bare: [] as number[], whole: [] as number[] };
      // by turns, so that a busy moment of the machine meets both
      for (let round = 0; round < 9; round++) {
        paints.bare.push(await opened(browser, bare, firstPaint));
        paints.whole.push(await opened(browser, file, firstPaint));
      }
      const cell = await thrice(() =>
        opened(browser, file, async (page, begun) => {
          await page.evaluate("firstMirror.run(0)");
          return (performance.now() - begun) / 1000;
        })
      );
      worst.paint = Math.max(worst.paint, median(paints.whole) / median(paints.bare));
      worst.cell = Math.max(worst.cell, cell);
      const ms = (values: readonly number[]): string => (1000 * median(values)).toFixed(0);
      console.log(
        `  ${name.padEnd(28)} first paint ${ms(paints.bare)} ms without script, ${
          ms(paints.whole)
        } ms with it; first cell after ${cell.toFixed(2)} s`,
      );
    }
    say("first paint with script over that without, the worst page", worst.paint, "", 1.3);
    say("from opening to a first cell's end, the worst page", worst.cell, "s", 1.5);
    const page = `${stemOf("measure-curve")}.html`, curve = join(book, page);
    const finished = await opened(browser, curve, typed);
    say("from a typed reading to the next step, of a finished mirror", finished, "s", 0.2);
    const halfway = join(folder, "halfway");
    await task("book", join(recordsFolder, "halfway-200-f6"), "--out", halfway);
    const working = await opened(browser, join(halfway, page), typed);
    say("the same, of a mirror that is being ground", working, "s", 0.2);
  } finally {
    await browser.close();
  }
}

/** Opens a page that nothing is kept of. */
async function opened(
  browser: Browser,
  file: string,
  act: (page: Page, begun: number) => Promise<number>,
): Promise<number> {
  const context = await browser.newContext(), page = await context.newPage();
  const begun = performance.now();
  await page.goto(pathToFileURL(file).href);
  const value = await act(page, begun);
  await context.close();
  return value;
}

/** Seconds from the navigation to the first paint of anything. */
async function firstPaint(page: Page): Promise<number> {
  for (let tries = 0; tries < 200; tries++) {
    const at = await page.evaluate<number>(
      `performance.getEntriesByName("first-contentful-paint")[0]?.startTime ?? 0`,
    );
    if (at > 0) return at / 1000;
    await page.waitForTimeout(25);
  }
  return NaN;
}

/** Seconds from the button to the new numbers and the next step, the library being there: the median of five readings. */
async function typed(page: Page): Promise<number> {
  await page.locator("[data-take-work]:enabled").waitFor();
  const took: number[] = [];
  for (let n = 0; n < 6; n++) {
    await page.evaluate(`{
      delete globalThis.took;
      let begun = 0;
      addEventListener("submit", () => begun = performance.now(), { capture: true, once: true });
      const watch = new MutationObserver(() => {
        globalThis.took ??= performance.now() - begun;
        watch.disconnect();
      });
      watch.observe(document.querySelector("[data-numbers]"), { childList: true });
    }`);
    const form = page.locator('form[data-table="sagitta"]');
    await form.locator('[name="go_mm"]').fill("0.88+0.25");
    await form.locator('[name="nogo_mm"]').fill(`0.85+0.3${n}`);
    await form.getByRole("button", { name: "Add" }).click();
    await page.waitForFunction(() => "took" in globalThis);
    // whoever calls readings out to another needs no longer; the photographs are still being reduced
    await page.waitForTimeout(1000);
    // the first one brings the library
    if (n > 0) took.push(await page.evaluate<number>("took") / 1000);
  }
  return median(took);
}
