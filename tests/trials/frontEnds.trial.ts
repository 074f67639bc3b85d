// deno-lint-ignore-file no-console
/**
 * Every face of Jupyter that can be had, driven in Chromium as a reader does. What came of each thing is kept with its day in
 * tests/evidence/frontEnds.json, and the table of tests/evidence/frontEnds.md is written from that; no cell of it is guessed.
 * Exits 1 where something did not hold. `deno task trial frontEnds`; the newer faces come from PyPI, once.
 *
 * FACES=JupyterLab,Notebook takes those alone and leaves the others' results as they were; FACES=none writes the table anew.
 */
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { layCopies, makeKitKnown } from "../../lib/book/workingCopies.ts";
import { liveFigure } from "../../lib/figures/live/figures.ts";
import { startBrowser } from "../browser/browser.ts";
import { type CellNow, type Face, faces } from "../browser/frontEnds.ts";
import { folderForCells, notebookOf, type Server, startJupyter } from "../browser/jupyterServer.ts";
import { drive, exposed } from "../figures/live/drive.ts";
import { stemOf } from "../stems.ts";

const LIVE = ["choose-mirror", "measure-curve", "smooth-surface", "measure-zones", "observe-sky"];
const LEARNER = "measure-curve", COPIED = "measure-curve";
/** How long the slowest thing may take on a machine that has much else to do. */
const LONG = 300_000;

/** What is looked at, in the order of the table. */
const COLUMNS = {
  runs: "Run All of five notebooks",
  live: "live figures",
  learner: "learner's edition",
  errors: "what stops a cell is told",
  loop: "Stop of a loop",
  wait: "Stop of an await",
  restart: "restart",
  reopen: "saved and opened again",
  untrusted: "not trusted",
} as const;
type Column = keyof typeof COLUMNS;

interface Kept {
  readonly version: string;
  readonly day: string;
  readonly found: Readonly<Partial<Record<Column, { readonly holds: boolean; says: string }>>>;
}

/** One that does not hold. */
function want(holds: boolean, says: string): asserts holds {
  if (!holds) throw new Error(says);
}

const pause = (ms: number): Promise<void> => new Promise((later) => setTimeout(later, ms));

async function open(browser: Browser, server: Server, face: Face, name: string): Promise<Page> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  context.setDefaultTimeout(LONG);
  const page = await context.newPage();
  await page.goto(`${server.address}${face.address(name)}`);
  await face.ready(page);
  await face.settle?.(page);
  return page;
}

/** Waits until a face's cells are as wanted. */
async function until(
  face: Face,
  page: Page,
  what: string,
  isSo: (cells: readonly CellNow[]) => boolean,
): Promise<readonly CellNow[]> {
  const end = Date.now() + LONG;
  for (;;) {
    const cells = await face.cells(page);
    if (isSo(cells)) return cells;
    want(Date.now() < end, `${what} did not come`);
    await pause(250);
  }
}

/** Runs a whole notebook; no cell may fail, and none leave an empty row. @returns how many cells */
async function runWhole(face: Face, page: Page, name: string): Promise<number> {
  await face.runAll(page);
  const cells = await until(
    face,
    page,
    `${name}'s end`,
    (all) =>
      all.every(({ isRunning, count }) => !isRunning && count !== null) ||
      all.some(({ outputs }) => outputs.some(({ output_type }) => output_type === "error")),
  );
  cells.forEach(({ outputs }, n) => {
    const error = outputs.find(({ output_type }) => output_type === "error");
    want(error === undefined, `${name}, cell ${n + 1}: ${error?.evalue}`);
    const empty = outputs.some(({ data }) => data !== undefined && Object.keys(data).length === 0);
    want(!empty, `${name}, cell ${n + 1} leaves an empty row`);
  });
  return cells.length;
}

/** Moves every live figure on the page by keys and pointer, held to the library's numbers. */
async function moveAll(page: Page, name: string): Promise<number> {
  const figures = page.locator("figure.live"), count = await figures.count();
  want(count > 0, `${name} shows no live figure`);
  for (const figure of await figures.all()) {
    await figure.scrollIntoViewIfNeeded();
    await figure.and(page.locator("[data-ready]")).waitFor();
    // cells that come into view are laid out then, and move those below
    for (let still = 0, before = NaN; still < 3; await pause(300)) {
      await figure.scrollIntoViewIfNeeded();
      const { y = NaN } = await figure.boundingBox() ?? {};
      still = y === before ? still + 1 : 0;
      before = y;
    }
    await drive(figure, 1);
  }
  return count;
}

/** Runs one cell and waits for its end. */
async function runOne(face: Face, page: Page, cell: number, source: string): Promise<CellNow> {
  const before = (await face.cells(page))[cell]?.count ?? 0;
  await face.run(page, cell, source);
  const cells = await until(
    face,
    page,
    "a cell's end",
    (all) => all[cell]?.isRunning === false && (all[cell]?.count ?? 0) > (before ?? 0),
  );
  const [found] = cells.slice(cell);
  want(found !== undefined, "the cell is gone");
  return found;
}

const plain = ({ outputs }: CellNow): string =>
  outputs.map(({ data, evalue }) => String(data?.["text/plain"] ?? evalue ?? "")).join(" ");

/** What a reader may write, and the sentence that has to stand below it. */
const BAD = [
  ["const mine = 2384,8;", "Line 1: write 2384.8 with a point"],
  ["let x;\nx = 2384,8;", "Line 2: write 2384.8 with a point"],
  ["keep;\nif (", "Line 2: the ( here is not closed."],
  ["keep;\n\nkeeep;", "Line 3: there is nothing called keeep; did you mean keep?"],
] as const;

async function errors(face: Face, page: Page): Promise<string> {
  await runOne(face, page, 0, "let keep = 41;");
  for (const [source, says] of BAD) {
    await runOne(face, page, 1, source);
    const shown = await face.shown(page, 1).first().innerText();
    want(shown.includes(says), `below ${JSON.stringify(source)} stands ${JSON.stringify(shown)}`);
  }
  return `${BAD.length} sentences, each with its line`;
}

async function stopped(face: Face, page: Page, source: string): Promise<string> {
  await runOne(face, page, 0, "let keep = 41;");
  await face.run(page, 1, source);
  await until(face, page, "the cell's beginning", (all) => all[1]?.isRunning === true);
  await pause(1500);
  const begun = performance.now();
  await face.stop(page);
  await until(face, page, "the stop", (all) => all[1]?.isRunning === false);
  const seconds = (performance.now() - begun) / 1000;
  const shown = await face.shown(page, 1).first().innerText();
  want(shown.includes("Stopped by you in line 2"), `below it stands ${JSON.stringify(shown)}`);
  const after = plain(await runOne(face, page, 2, "keep + 1"));
  want(after === "42", `keep + 1 gives ${after} after it`);
  return `after ${seconds.toFixed(1)} s; values kept`;
}

async function restarted(face: Face, page: Page): Promise<string> {
  await runOne(face, page, 0, "let keep = 41;");
  await face.restart(page);
  await face.ready(page);
  await face.run(page, 0, "typeof keep");
  const [first] = await until(
    face,
    page,
    "the new kernel's answer",
    ([one]) => one !== undefined && !one.isRunning && plain(one).includes("undefined"),
  );
  want(first?.count === 1, `the first cell after it is the ${first?.count}.`);
  return "values gone, cells run";
}

/** Pairs of words that a page shows run together, though they stand in pieces of text of their own. */
const JOINED =
  `(() => { const joined = new Set(); for (const place of document.querySelectorAll(".first-mirror")) { const own = new Set(); const walk = document.createTreeWalker(place, NodeFilter.SHOW_TEXT); while (walk.nextNode()) for (const word of walk.currentNode.data.split(/\\s+/)) own.add(word); for (const word of place.innerText.split(/\\s+/)) if (word !== "" && !own.has(word)) joined.add(word); } return [...joined]; })()`;

/** A saved notebook with one blank more in it: its signature is not known. */
async function madeStrange(folder: string, name: string): Promise<string> {
  const notebook = JSON.parse(await Deno.readTextFile(join(folder, name))) as {
    cells: { cell_type: string; source: string | string[] }[];
  };
  const code = notebook.cells.find(({ cell_type }) => cell_type === "code");
  want(code !== undefined, `${name} has no code`);
  code.source = `${[code.source].flat().join("")} `;
  await Deno.writeTextFile(join(folder, `strange-${name}`), JSON.stringify(notebook, null, 1));
  return `strange-${name}`;
}

/** Types an answer into the first exercise, with letters that a front end might take for commands, and has it judged by Enter. */
async function answered(page: Page): Promise<void> {
  const form = page.locator("form[data-exercise]").first();
  await form.scrollIntoViewIfNeeded();
  const field = form.locator("[name=answer]");
  await field.pressSequentially("0.5 mm");
  want(await field.inputValue() === "0.5 mm", `an answer's field took ${await field.inputValue()}`);
  await field.press("Enter");
  await form.locator(".result span").waitFor();
}

async function untrusted(
  face: Face,
  page: Page,
  joinedBefore: readonly string[],
): Promise<string> {
  const figures = page.locator("figure.live");
  await figures.first().waitFor();
  want(!await face.isTrusted(page), "it was trusted");
  want(await figures.locator("input").count() === 0, "a dead slider is shown");
  const dead = page.locator(".first-mirror :is(input, button, select):visible");
  want(await dead.count() === 0, `${await dead.count()} dead controls are shown`);
  let pictures = 0;
  for (const figure of await figures.all()) {
    await figure.scrollIntoViewIfNeeded();
    // what was out of view has no words before it is laid out
    await pause(1000);
    const wide = await figure.locator("img").evaluateAll((all) =>
      all.map((one) => (one as unknown as { naturalWidth: number }).naturalWidth)
    );
    want(wide.length > 0 && wide.every((width) => width > 0), "a drawing does not stand");
    pictures += wide.length;
    want(/\d[\s\S]*A still: /.test(await figure.innerText()), "the still does not say its number");
  }
  const joined = await page.evaluate(JOINED) as string[];
  const worse = joined.filter((word) => !joinedBefore.includes(word));
  want(worse.length === 0, `words run together: ${worse.slice(0, 5).join(", ")}`);
  return `${pictures} drawings stand, no dead control, no words joined`;
}

async function tryFace(face: Face, browser: Browser): Promise<Kept["found"]> {
  const found: Partial<Record<Column, { holds: boolean; says: string }>> = {};
  const look = async (column: Column, work: () => Promise<string>): Promise<void> => {
    const [holds, says] = await work().then(
      (said) => [true, said] as const,
      (error: Error) => [false, error.message.split("\n")[0] ?? ""] as const,
    );
    found[column] = { holds, says };
    console.log(`${holds ? "holds" : "FAILS"}  ${face.name}: ${COLUMNS[column]}: ${says}`);
  };
  const folder = await folderForCells(), learners = join(folder, "learner");
  await layCopies(folder, false);
  await layCopies(learners, true);
  await makeKitKnown(learners);
  const cells = ["let keep = 41;", "0", "0"];
  await Deno.writeTextFile(join(folder, "bench.ipynb"), notebookOf(cells));
  const server = await startJupyter(folder, undefined, face);
  try {
    let run = 0, live = 0, joined: string[] = [];
    const file = (stem: string): string => `${stemOf(stem)}.ipynb`;
    const moving: string[] = [];
    await look("runs", async () => {
      for (const stem of LIVE) {
        const page = await open(browser, server, face, file(stem));
        run += await runWhole(face, page, file(stem));
        try {
          live += await moveAll(page, file(stem));
        } catch (error) {
          moving.push(`${file(stem)}: ${(error as Error).message.split("\n")[0]}`);
        }
        if (stem === COPIED) joined = await page.evaluate(JOINED) as string[];
        await face.save(page);
        await pause(1000);
        await page.context().close();
      }
      return `${LIVE.length} notebooks, ${run} cells`;
    });
    // deno-lint-ignore require-await
    await look("live", async () => {
      want(moving.length === 0 && live > 0, moving.join("; "));
      return `${live} moved by keys and pointer, the library's numbers`;
    });
    await look("reopen", async () => {
      const page = await open(browser, server, face, file(COPIED));
      const figure = page.locator("figure.live[data-ready]").first();
      await figure.waitFor();
      const { value, start } = liveFigure(await figure.getAttribute("data-live") ?? "");
      want(await exposed(figure) === value(start), "it shows another number");
      await drive(figure, 1);
      await answered(page);
      const all = await face.cells(page);
      want(all.every(({ outputs }) => outputs.length > 0), "an output was lost");
      await page.context().close();
      return `${all.length} cells as they were, live at once, an exercise answered`;
    });
    await look("untrusted", async () => {
      const name = await madeStrange(folder, file(COPIED));
      const page = await open(browser, server, face, name);
      const says = await untrusted(face, page, joined);
      await page.context().close();
      return says;
    });
    await look("learner", async () => {
      const page = await open(browser, server, face, `learner/${file(LEARNER)}`);
      const count = await runWhole(face, page, file(LEARNER));
      await page.context().close();
      return `${count} cells`;
    });
    const bench = await open(browser, server, face, "bench.ipynb");
    await look("errors", () => errors(face, bench));
    await look("loop", () => stopped(face, bench, "let i = 0;\nfor (;;) i++;"));
    await look("wait", () => stopped(face, bench, "keep;\nawait new Promise(() => {});"));
    await look("restart", () => restarted(face, bench));
    await bench.context().close();
  } finally {
    await server.stop();
    await Deno.remove(folder, { recursive: true }).catch(() => {});
  }
  return found;
}

// What was found, kept and told.

const folder = new URL("../evidence/", import.meta.url);
const keptAt = new URL("frontEnds.json", folder), toldAt = new URL("frontEnds.md", folder);

function table(kept: Readonly<Record<string, Kept>>): string {
  const names = Object.keys(kept), columns = Object.keys(COLUMNS) as Column[];
  const cell = (name: string, column: Column): string => {
    const one = kept[name]?.found[column];
    if (one === undefined) return "not run";
    return (one.holds ? one.says : `**no**: ${one.says}`).replaceAll("|", "\\|");
  };
  const rows = [
    ["", ...names.map((name) => `${name} ${kept[name]?.version}`)],
    ["on", ...names.map((name) => kept[name]?.day ?? "")],
    ...columns.map((column) => [COLUMNS[column], ...names.map((name) => cell(name, column))]),
  ];
  const widths = rows[0]?.map((_, k) => Math.max(...rows.map((row) => (row[k] ?? "").length))) ??
    [];
  const line = (row: readonly string[]): string =>
    `| ${row.map((text, k) => text.padEnd(widths[k] ?? 0)).join(" | ")} |`;
  const [head = [], ...body] = rows;
  return [
    "# Front ends",
    "",
    "Written by `deno task trial frontEnds`, which drives each in Chromium; every cell of the table is what a run found, and",
    "`frontEnds.json` keeps it. The kernel is the kit's own, as `task lab` writes it.",
    "",
    line(head),
    `| ${widths.map((width) => "-".repeat(width)).join(" | ")} |`,
    ...body.map(line),
    "",
    "Not run: Visual Studio Code and code-server. Tried on 30 November 2026: code-server 4.139.1 is on npm, wants Node 24 and builds",
    "native parts where it is installed; the extension that runs a notebook's cells in either was found nowhere on npm (its types",
    "alone), PyPI and Debian.",
    "",
  ].join("\n");
}

const wanted = Deno.env.get("FACES")?.split(",");
const kept: Record<string, Kept> = JSON.parse(await Deno.readTextFile(keptAt).catch(() => "{}"));
let broken = 0;
const browser = await startBrowser();
try {
  for (const face of await faces()) {
    if (wanted !== undefined && !wanted.includes(face.name)) continue;
    const found = await tryFace(face, browser);
    broken += Object.values(found).filter(({ holds }) => !holds).length;
    const day = new Date().toISOString().slice(0, 10);
    kept[face.name] = { version: face.version, day, found };
    await Deno.writeTextFile(keptAt, JSON.stringify(kept, null, 2) + "\n");
  }
  await Deno.writeTextFile(toldAt, table(kept));
} finally {
  await browser.close();
}
console.log(broken === 0 ? "holds" : `${broken} do not hold`);
Deno.exit(broken === 0 ? 0 : 1);
