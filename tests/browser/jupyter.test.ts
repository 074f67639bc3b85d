/** Live figures in the real classic Jupyter Notebook: run, moved, saved, and opened where it is not trusted. */
import assert from "node:assert/strict";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { liveFigure, liveFigures } from "../../lib/figures/live/figures.ts";
import { drive, exposed } from "../figures/live/drive.ts";
import { chromium, startBrowser } from "./browser.ts";
import {
  folderForCells,
  jupyterNotebook,
  notebookOf,
  type Server,
  startJupyter,
} from "./jupyterServer.ts";

const cells = [
  'import { live, opening, show } from "first-mirror/figures";\nshow(opening());',
  ...liveFigures.map(({ name }) => `show(live(${JSON.stringify(name)}));`),
];

/** A page that keeps its errors and whatever it asks of anybody but the server. */
async function openNotebook(
  browser: Browser,
  server: Server,
  name: string,
): Promise<{ page: Page; wrong: string[] }> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  const page = await context.newPage(), wrong: string[] = [];
  page.on("pageerror", (error) => void wrong.push(error.message));
  page.on("request", (request) => {
    const address = request.url();
    if (!address.startsWith(server.address) && !address.startsWith("data:")) wrong.push(address);
  });
  await page.goto(`${server.address}/notebooks/${name}`);
  await page.waitForFunction("globalThis.Jupyter?.notebook?.kernel?.is_connected()");
  return { page, wrong };
}

async function runAndMove(browser: Browser, server: Server): Promise<void> {
  const { page, wrong } = await openNotebook(browser, server, "live.ipynb");
  await page.evaluate(`document.querySelector("#run_all_cells a").click()`);
  await page.waitForFunction(
    `document.querySelectorAll("figure.live[data-ready]").length === ${liveFigures.length}`,
    undefined,
    { timeout: 90_000 },
  );
  const inCells = await page.locator(".code_cell").evaluateAll((all) =>
    all.map((cell) => cell.querySelector("figure.live")?.getAttribute("data-live") ?? "")
  );
  assert.deepEqual(
    inCells,
    ["", ...liveFigures.map(({ name }) => name)],
    "each under its own cell",
  );
  for (const figure of await page.locator("figure.live").all()) await drive(figure, 1);
  assert.deepEqual(wrong, []);
  await page.evaluate("Jupyter.notebook.save_notebook()");
  await page.context().close();
}

/** The saved notebook under another name, one blank more in it: its signature is not known, so nothing in it runs. */
async function untrusted(browser: Browser, server: Server, folder: string): Promise<void> {
  const saved = await Deno.readTextFile(join(folder, "live.ipynb"));
  await Deno.writeTextFile(
    join(folder, "other.ipynb"),
    saved.replace("show(opening());", "show(opening()); "),
  );
  const { page, wrong } = await openNotebook(browser, server, "other.ipynb");
  const figures = page.locator("figure.live");
  await figures.nth(liveFigures.length - 1).waitFor();
  assert.equal(await page.locator("#notification_trusted").innerText(), "Not Trusted");
  assert.equal(await page.locator("figure.live input").count(), 0, "no dead slider");
  for (const figure of await figures.all()) {
    assert.ok(await figure.locator("img").count() >= 1);
    const broken = await figure.locator("img").evaluateAll((all) =>
      all.filter((one) => (one as unknown as { naturalWidth: number }).naturalWidth === 0).length
    );
    assert.equal(broken, 0, "every picture can be seen");
    assert.match(await figure.innerText(), /\d[\s\S]*A still: /, "the number, and what it is for");
  }
  assert.deepEqual(wrong, []);
  await page.context().close();
}

/** Saved and trusted, it is live as soon as it is opened: no kernel has run it again. */
async function openedAgain(browser: Browser, server: Server): Promise<void> {
  const { page, wrong } = await openNotebook(browser, server, "live.ipynb");
  const figure = page.locator("figure.live[data-ready]").first();
  await figure.waitFor();
  const { value, start } = liveFigure(liveFigures[0]?.name ?? "");
  assert.equal(await exposed(figure), value(start));
  await drive(figure, 1);
  assert.deepEqual(wrong, []);
  await page.context().close();
}

Deno.test({
  name: `live figures in the classic Jupyter Notebook ${
    jupyterNotebook ?? "(not installed)"
  }: Run All, keys, pointer, untrusted`,
  ignore: chromium === undefined || jupyterNotebook === undefined,
  async fn(): Promise<void> {
    const folder = await folderForCells();
    await Deno.writeTextFile(join(folder, "live.ipynb"), notebookOf(cells));
    const server = await startJupyter(folder), browser = await startBrowser();
    try {
      await runAndMove(browser, server);
      for (let tries = 0; tries < 50; tries++) {
        if ((await Deno.readTextFile(join(folder, "live.ipynb"))).includes("data-live")) break;
        await new Promise((again) => setTimeout(again, 100));
      }
      await openedAgain(browser, server);
      await untrusted(browser, server, folder);
    } finally {
      await browser.close();
      await server.stop();
      await Deno.remove(folder, { recursive: true });
    }
  },
});
