/** Exercises in a real browser, from a file on disk: typed, clicked, by keyboard, without script. */
import assert from "node:assert/strict";
import type { Locator } from "playwright-core";
import { barriers, chromium, openFile, sideways, startBrowser } from "../browser/browser.ts";
import { samplePage } from "../figures/samples.ts";
import type { ChoiceExercise, Exercise } from "../../lib/lessons/exercise.ts";
import { exercise, exercises, question } from "../../lib/lessons/exercises.ts";
import { judge } from "../../lib/lessons/grader.ts";

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

const isChoice = (each: Exercise): each is ChoiceExercise => "choices" in each;
const bare = (text: string): string => text.replace(/\s+/g, " ");

/** Every choice; or a word, every trap and the answer with a decimal comma; and nothing at all. */
const triesOf = (each: Exercise): readonly string[] =>
  isChoice(each) ? ["", ...each.choices] : [
    "",
    "deep",
    ...each.traps.map(({ value }) => String(value)),
    String(each.answer).replace(".", ","),
  ];

/** As a person does: clicked or typed, sent by button or key. */
async function answerByHand(
  block: Locator,
  each: Exercise,
  typed: string,
  byKey: boolean,
): Promise<void> {
  if (isChoice(each) && typed !== "" && !byKey) {
    return await block.getByRole("button", { name: typed, exact: true }).click();
  }
  await block.getByRole("textbox").fill(typed);
  if (byKey) await block.page().keyboard.press("Enter");
  else await block.getByRole("button", { name: "Check", exact: true }).click();
}

/** As much of the page's elements as is used inside the page. */
interface Element {
  readonly innerText: string;
  getAttribute(name: string): string | null;
  querySelector(selector: "form"): Form;
  querySelector(selector: ".result"): Element;
}
interface Form {
  querySelector(selector: "input"): { value: string };
  requestSubmit(): void;
}
type Said = readonly [is: string | null, say: string];

/** What stands in the result: its kind and its words. */
const said = (block: Locator): Promise<Said> =>
  block.locator("form .result").evaluate((element) => {
    const out = element as unknown as Element;
    return [out.getAttribute("data-judged"), out.innerText] as const;
  });

/** All answers one after the other, given inside the page, many times as fast as by hand. */
const answerAtOnce = (block: Locator, tries: readonly string[]): Promise<readonly Said[]> =>
  block.evaluate((element, answers) => {
    const place = element as unknown as Element, form = place.querySelector("form");
    return answers.map((answer) => {
      form.querySelector("input").value = answer;
      form.requestSubmit();
      const out = place.querySelector(".result");
      return [out.getAttribute("data-judged"), out.innerText] as const;
    });
  }, tries);

Deno.test({
  name: "exercises check themselves in Chromium as judge does in Deno",
  ignore: chromium === undefined,
  async fn(): Promise<void> {
    const browser = await startBrowser();
    try {
      await withPage(async (file) => {
        const { page, complaints, requests } = await openFile(browser, file);
        const byHand = [exercises.find(isChoice), exercises.find((one) => !isChoice(one))];
        for (const each of exercises) {
          const block = page.locator(`#exercise-${each.id}`), tries = triesOf(each);
          const found = byHand.includes(each) ? [] : [...await answerAtOnce(block, tries)];
          for (const [place, typed] of tries.entries()) {
            if (byHand.includes(each)) {
              await answerByHand(block, each, typed, place % 2 === 0);
              found.push(await said(block));
            }
            const wanted = judge(each, typed), [is, say = ""] = found[place] ?? [];
            const judged = ["right", "close", "off"].includes(wanted.is) ? wanted.is : null;
            assert.deepEqual(
              [is, bare(say)],
              [judged, bare(wanted.say)],
              `${each.id}: ${typed}`,
            );
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
        assert.equal(await page.locator("details.fold:visible").count(), 4 * exercises.length);
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

Deno.test({
  name:
    "a question's hints are opened by its buttons, one after the other, and its form judges too",
  ignore: chromium === undefined,
  async fn(): Promise<void> {
    const browser = await startBrowser();
    const folder = await Deno.makeTempDir({ prefix: "first-mirror-questions-" });
    try {
      const file = `${folder}/questions.html`;
      await Deno.writeTextFile(file, samplePage(exercises.map(({ id }) => question(id))));
      const { page, complaints } = await openFile(browser, file, { width: 390 });
      for (const each of exercises.slice(0, 6)) {
        const block = page.locator(`#exercise-${each.id}`);
        assert.equal(await block.getByText(each.hints[0]).count(), 0);
        await block.getByRole("button", { name: "A hint" }).click();
        await block.getByRole("button", { name: "Another" }).click();
        for (const hint of each.hints.slice(0, 2)) {
          assert.equal(await block.getByText(hint, { exact: true }).count(), 1);
        }
        await block.getByRole("textbox").fill(String(each.answer));
        await block.getByRole("button", { name: "Check" }).click();
        assert.equal(await block.locator("[data-judged=right]").count(), 1, each.id);
      }
      assert.deepEqual(complaints, []);
    } finally {
      await browser.close();
      await Deno.remove(folder, { recursive: true });
    }
  },
});
