/** Exercises in a real browser, from a file on disk: typed, clicked, by keyboard, without script. */
import assert from "node:assert/strict";
import { barriers, chromium, openFile, sideways, startBrowser } from "../browser/browser.ts";
import { samplePage } from "../figures/samples.ts";
import { exercise, exercises } from "../../lib/lessons/exercises.ts";
import { judge } from "../../lib/lessons/judge.ts";

async function withPage(use: (file: string) => Promise<void>): Promise<void> {
  const folder = await Deno.makeTempDir({ prefix: "first-mirror-exercises-" });
  try {
    const file = `${folder}/exercises.html`, all = exercises.map(({ id }) => exercise(id));
    await Deno.writeTextFile(file, samplePage(all));
    await use(file);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

Deno.test({
  name: "exercises check themselves in Chromium as judge does in Deno",
  ignore: chromium === undefined,
  async fn(): Promise<void> {
    const browser = await startBrowser();
    try {
      await withPage(async (file) => {
        const { page, complaints, requests } = await openFile(browser, file);
        const said = async (id: string): Promise<[string | null, string]> => {
          const out = page.locator(`#exercise-${id} .result`);
          return [await out.getAttribute("data-is"), await out.innerText()];
        };
        const bare = (text: string): string => text.replace(/\s+/g, " ");
        for (const each of exercises) {
          const block = page.locator(`#exercise-${each.id}`);
          const tries = "choices" in each ? each.choices : [
            "deep",
            ...each.traps.map((t) => String(t.value)),
            String(each.answer).replace(".", ","),
          ];
          let attempt = 1;
          for (const typed of tries) {
            if ("choices" in each) await block.getByLabel(typed, { exact: true }).check();
            else await block.locator("input[type=text]").fill(typed);
            if (attempt % 2 === 0 && !("choices" in each)) await page.keyboard.press("Enter");
            else await block.locator("button").click();
            const wanted = judge(each, typed, attempt);
            const [is, say] = await said(each.id);
            assert.deepEqual(
              [is, bare(say)],
              [wanted.is, bare(wanted.say)],
              `${each.id}: ${typed}`,
            );
            if (wanted.is === "wrong") attempt += 1;
          }
        }
        assert.equal(new URL(page.url()).hash, "", "nothing is sent anywhere");
        assert.deepEqual([complaints, requests, await barriers(page)], [[], [], []]);
        await page.context().close();
      });
    } finally {
      await browser.close();
    }
  },
});

Deno.test({
  name: "exercises without script show no dead form, and nothing runs sideways on a phone",
  ignore: chromium === undefined,
  async fn(): Promise<void> {
    const browser = await startBrowser();
    try {
      await withPage(async (file) => {
        const { page } = await openFile(browser, file, { width: 360, script: false });
        assert.equal(await page.locator("form.ask:visible").count(), 0);
        assert.equal(await page.locator("details.fold:visible").count(), 3 * exercises.length);
        await page.emulateMedia({ media: "print" });
        assert.equal(await page.locator(".paper-only:visible").count(), exercises.length);
        assert.equal(await page.locator("details.fold:visible").count(), 0);
        await page.context().close();
        const phone = await openFile(browser, file, { width: 360 });
        assert.ok(await sideways(phone.page) <= 0);
        await phone.page.context().close();
      });
    } finally {
      await browser.close();
    }
  },
});
