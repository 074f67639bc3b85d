/** The work of the hands on a bench's page: one step at a time, its caution above it, the place kept. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { benchNumbers } from "../../lib/lessons/procedures/procedure.ts";
import { procedureFor } from "../../lib/lessons/procedures/procedures.ts";
import { kestrelLane } from "../record/classBench.ts";
import { keyOf, withRoom } from "../room/roomServer.ts";
import { barriers, chromium, sideways, startBrowser } from "./browser.ts";

/** INVENTED: a mirror of Kestrel Lane whose next step is the pitch lap. */
const BENCH = "bench-07";

Deno.test({
  name:
    "steps of the hands: caution above each, adult and learner side by side, the place kept over a reload (Chromium)",
  ignore: chromium === undefined,
  sanitizeOps: false,
  sanitizeResources: false,
  fn: async () => {
    const files: Record<string, string> = {};
    for await (const { name } of Deno.readDir(join(kestrelLane, BENCH))) {
      files[`${BENCH}/${name}`] = await Deno.readTextFile(join(kestrelLane, BENCH, name));
    }
    const lap = procedureFor(
      "pour-lap",
      benchNumbers({ aperture: 150, focalLength: 1200, thickness: 25 }),
    );
    assert.ok(lap !== undefined);
    await withRoom(files, async (room) => {
      const browser = await startBrowser();
      try {
        const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
        context.setDefaultTimeout(30_000);
        const page = await context.newPage(), complaints: string[] = [];
        page.on("pageerror", ({ message }) => void complaints.push(message));
        await page.goto(room.keys.benches[BENCH]?.url ?? "");
        await page.locator("[data-next-step]").filter({ hasText: /\w/ }).waitFor();
        await page.locator('.foot a[href="#steps"]').click();
        // the work is that of the next step; before it begins all its cautions, who does it, what lies ready
        await page.locator("#work-title").filter({ hasText: lap.title }).waitFor();
        assert.match(await page.locator("#work-cautions").innerText(), /^Only a trained adult/);
        assert.match(await page.locator("#work-step").innerText(), /Who:.*Ready:.*Alone\?/s);
        const y = async (selector: string): Promise<number> =>
          (await page.locator(selector).boundingBox())?.y ?? NaN;
        assert.ok(await y("#work-caution") < await y("#work-step"));

        const on = page.locator("#step-on"), at = page.locator("#work-at");
        const box = await on.boundingBox();
        assert.ok((box?.height ?? 0) >= 56, "keys for a wet thumb");
        for (const [i, step] of lap.steps.entries()) {
          await on.click();
          assert.equal(await at.innerText(), `Step ${i + 1} of ${lap.steps.length}`);
          assert.ok((await page.locator("#work-step .do").innerText()).includes(step.do));
          assert.equal(await page.locator("#work-cautions li").count(), step.cautions.length);
          if (step.cautions.length > 0) {
            assert.ok(await y("#work-caution") < await y("#work-step"), `step ${i + 1}`);
          }
          // an adult's half stands left of the learner's, and never in it
          assert.equal(await page.locator(".both").count(), step.adult === undefined ? 0 : 1);
          if (step.adult !== undefined) {
            const [adult, own] = await page.locator(".both > div").all();
            const left = await adult?.boundingBox(), right = await own?.boundingBox();
            assert.ok((left?.x ?? NaN) < (right?.x ?? NaN), `step ${i + 1}`);
            assert.ok((await adult?.innerText())?.includes(step.adult));
            assert.ok(!(await own?.innerText())?.includes(step.adult));
          }
          assert.equal(
            await page.locator("#drawn svg").count(),
            step.drawing === undefined ? 0 : 1,
          );
          assert.ok(await sideways(page) <= 0, `step ${i + 1}`);
          if (i === 2) assert.deepEqual(await barriers(page), []);
          if (i === 3) break;
        }

        // closed and opened again: where she was
        await page.reload();
        await page.locator("#work-at").filter({ hasText: /^Step 4 of/ }).waitFor();
        await page.locator("#step-back").click();
        assert.match(await at.innerText(), /^Step 3 of/);
        // another work is looked at without losing this one's place
        await page.locator("#work").selectOption("grind-hollow");
        await page.locator("#work-title").filter({ hasText: "Grind the first hour" }).waitFor();
        assert.match(await at.innerText(), /^\d+ steps$/);
        await page.locator("#work").selectOption("pour-lap");
        await page.locator("#work-at").filter({ hasText: /^Step 3 of/ }).waitFor();
        assert.deepEqual(complaints, []);
      } finally {
        await browser.close();
      }
      const key = keyOf(room, BENCH), path = `/api/benches/${BENCH}/steps`;
      for (
        const [stage, with_, status] of [
          ["judge-mirror", key, 404],
          ["..%2f..%2fmirror.yaml", key, 404],
          ["pour-lap", undefined, 401],
          ["pour-lap", room.keys.walls[0]?.key, 403],
        ] as const
      ) {
        const answer = await room.ask("GET", `${path}/${stage}`, with_);
        await answer.body?.cancel();
        assert.equal(answer.status, status, stage);
      }
    });
  },
});
