/** All figures and blocks in a real browser: nothing sideways, one drawing a width, no words over one another. */
import { chromium, startBrowser } from "../browser/browser.ts";
import { blocks, figures, samplePage } from "./samples.ts";
import { lookAt } from "./seenFigures.ts";

async function withPage(use: (file: string) => Promise<void>): Promise<void> {
  const folder = await Deno.makeTempDir({ prefix: "first-mirror-samples-" });
  try {
    const file = `${folder}/samples.html`;
    await Deno.writeTextFile(
      file,
      samplePage([...Object.values(figures), ...Object.values(blocks)]),
    );
    await use(file);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

Deno.test({
  name: "figures and blocks in Chromium, at the desk and on the phone, by day and in the dark",
  ignore: chromium === undefined,
  async fn(): Promise<void> {
    const browser = await startBrowser();
    try {
      await withPage(async (file) => {
        await lookAt(browser, file, Object.keys(figures).length);
      });
    } finally {
      await browser.close();
    }
  },
});
