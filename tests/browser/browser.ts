/** A Chromium that reads pages from disk, for tests: what it would not forgive is gathered, not printed. */
import axe from "axe-core";
import { type Browser, chromium as launcher, type Page } from "playwright-core";
import { pathToFileURL } from "node:url";
import { scripts } from "../../lib/book/library.ts";
import { chromium } from "../machine.ts";

export { chromium };

/** Starts the machine's Chromium. */
export function startBrowser(): Promise<Browser> {
  return launcher.launch({
    ...(chromium === undefined ? {} : { executablePath: chromium }),
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      "--no-first-run",
    ],
  });
}

/** A page that is open, with what it complained of and what it asked the network for. */
export interface OpenPage {
  readonly page: Page;
  readonly complaints: string[];
  readonly requests: string[];
}

/** How a page is looked at. */
export interface Look {
  readonly width?: number;
  readonly dark?: boolean;
  readonly script?: boolean;
}

/** Opens a file; every console error, page error and request beyond the file and its book's scripts is kept. */
export async function openFile(
  browser: Browser,
  file: string,
  { width = 1280, dark = false, script = true }: Look = {},
): Promise<OpenPage> {
  const context = await browser.newContext({
    viewport: { width, height: 900 },
    colorScheme: dark ? "dark" : "light",
    javaScriptEnabled: script,
  });
  // a machine that has much else to do is slow, not wrong
  context.setDefaultTimeout(180_000);
  const page = await context.newPage();
  const complaints: string[] = [], requests: string[] = [];
  const address = pathToFileURL(file).href;
  page.on("console", (message) => {
    if (["error", "warning"].includes(message.type())) complaints.push(message.text());
  });
  page.on("pageerror", (error) => void complaints.push(error.message));
  // a page whose cells run reads the book's own scripts, which stand beside it
  const own = [address, ...Object.values(scripts).map((name) => new URL(name, address).href)];
  page.on("request", (request) => {
    if (!own.includes(request.url())) requests.push(request.url());
  });
  await page.goto(address);
  return { page, complaints, requests };
}

/** How many pixels the page is wider than its window. */
export function sideways(page: Page): Promise<number> {
  return page.evaluate("document.documentElement.scrollWidth - innerWidth");
}

/** What axe-core holds to be serious or critical, each with the first element it found. */
export async function barriers(page: Page): Promise<string[]> {
  // The page's own policy lets no stranger's script in; the test is one, so it comes in by the debugger's door.
  const session = await page.context().newCDPSession(page);
  await session.send("Page.setBypassCSP", { enabled: true });
  await page.evaluate(axe.source);
  const result = await page.evaluate(
    `axe.run(document, { resultTypes: ["violations"] })`,
  ) as { violations: { id: string; impact: string; nodes: { html: string }[] }[] };
  return result.violations.filter(({ impact }) => ["serious", "critical"].includes(impact))
    .map(({ id, nodes }) => `${id}: ${nodes[0]?.html ?? ""}`);
}

/** Links of a page: those to its own places, and those to other files. */
export function linksOf(page: Page): Promise<string[]> {
  return page.evaluate(
    `[...document.querySelectorAll("a[href]")].map((a) => a.getAttribute("href"))`,
  );
}

/** Identifiers of a page, in order, twice where they stand twice. */
export function idsOf(page: Page): Promise<string[]> {
  return page.evaluate(`[...document.querySelectorAll("[id]")].map((e) => e.id)`);
}
