// deno-lint-ignore-file no-console
/**
 * Every page of the demo's book, in the light and in the dark, at the width of a desk and of a phone: axe-core finds nothing
 * serious or critical, nothing runs sideways. What a tablet gets of it, pages, sheets and scripts, is under 20 MB unpacked; the
 * notebooks that were run come beside it. How long the first page takes is printed.
 *
 * `deno task trial pages`; BOOK=FOLDER looks at a book that stands already. The tests look at each page once, at one width.
 */
import { join } from "node:path";
import { buildBook } from "../../lib/book/build.ts";
import { demoName, recordFolder } from "../../lib/knowledge/open.ts";
import { barriers, openFile, sideways, startBrowser } from "../browser/browser.ts";

const most = 20e6;

async function* files(folder: string): AsyncGenerator<string> {
  for await (const { name, isDirectory } of Deno.readDir(folder)) {
    if (isDirectory) yield* files(join(folder, name));
    else yield join(folder, name);
  }
}

let failed = false;
const tell = (holds: boolean, line: string): void => {
  failed ||= !holds;
  console.log(`${holds ? "holds " : "FAILS "} ${line}`);
};

const given = Deno.env.get("BOOK");
const folder = given ?? join(await Deno.makeTempDir({ prefix: "first-mirror-pages-" }), "book");
if (given === undefined) await buildBook({ record: recordFolder(demoName), out: folder });

let bytes = 0, run = 0;
const pages: string[] = [];
for await (const file of files(folder)) {
  const { size } = await Deno.stat(file);
  if (file.endsWith(".ipynb")) run += size;
  else bytes += size;
  if (file.endsWith(".html")) pages.push(file);
}
tell(bytes < most, `a tablet's share has ${(bytes / 1e6).toFixed(2)} MB, under ${most / 1e6}`);
console.log(`       the notebooks beside it, run: ${(run / 1e6).toFixed(2)} MB`);

const browser = await startBrowser();
try {
  const shown: number[] = [];
  for (let again = 0; again < 5; again++) {
    const { page } = await openFile(browser, join(folder, "index.html"));
    // the paint may be noted only after the page is whole
    const [painted, loaded] = await page.evaluate(`new Promise((tell) =>
      new PerformanceObserver((list) => {
        for (const { startTime } of list.getEntriesByName("first-contentful-paint")) {
          tell([startTime, performance.getEntriesByType("navigation")[0].domComplete]);
        }
      }).observe({ type: "paint", buffered: true }))`) as [number, number];
    shown.push(painted);
    console.log(
      `       the first page: painted after ${painted.toFixed(0)} ms, whole after ${
        loaded.toFixed(0)
      } ms`,
    );
    await page.context().close();
  }
  tell(
    Math.min(...shown) < 1000,
    "the first page can be read in under a second, in the best of five",
  );
  let looked = 0;
  for (const dark of [false, true]) {
    for (const width of [1280, 390]) {
      const found: string[] = [];
      const waiting = [...pages];
      const look = async (): Promise<void> => {
        for (let file = waiting.shift(); file !== undefined; file = waiting.shift()) {
          const { page } = await openFile(browser, file, { width, dark });
          looked++;
          const at = file.slice(folder.length + 1);
          found.push(...(await barriers(page)).map((barrier) => `${at}: ${barrier}`));
          if (await sideways(page) > 0) found.push(`${at}: runs sideways`);
          await page.context().close();
        }
      };
      await Promise.all([look(), look()]);
      tell(
        found.length === 0,
        `${pages.length} pages, ${dark ? "dark" : "light"}, ${width} px: ${found.length} faults`,
      );
      for (const line of found) console.log(`       ${line}`);
    }
  }
  console.log(`${looked} times a page was looked at.`);
} finally {
  await browser.close();
  if (given === undefined) await Deno.remove(folder, { recursive: true });
}
Deno.exit(failed ? 1 : 0);
