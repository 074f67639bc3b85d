/**
 * A room played in three browsers: a learner's phone, the wall, the leader's phone. She grinds with the caller, measures,
 * overshoots, is told, mends; walks out of reach and back; takes an entry back. Readings are INVENTED.
 */
import assert from "node:assert/strict";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { recordsFolder } from "../../lib/knowledge/open.ts";
import { run } from "../commands/run.ts";
import { kestrelLane } from "../record/classBench.ts";
import { type OpenRoom, withRoom } from "../room/roomServer.ts";
import { barriers, chromium, sideways, startBrowser } from "./browser.ts";

async function filesOf(bench: string): Promise<Record<string, string>> {
  const files: Record<string, string> = {};
  for await (const { name } of Deno.readDir(join(kestrelLane, bench))) {
    files[`${bench}/${name}`] = await Deno.readTextFile(join(kestrelLane, bench, name));
  }
  return files;
}

interface Seen {
  readonly page: Page;
  readonly complaints: string[];
}

/** A browser of its own, as that holder's phone or laptop comes in by its code. */
async function comeIn(browser: Browser, url: string, width: number, height: number): Promise<Seen> {
  const context = await browser.newContext({
    viewport: { width, height },
    hasTouch: width < 1000,
    reducedMotion: "reduce",
  });
  context.setDefaultTimeout(30_000);
  const page = await context.newPage(), complaints: string[] = [];
  page.on("pageerror", (error) => void complaints.push(error.message));
  page.on("console", (message) => {
    // what is out of reach is said by the page, and by the browser too
    if (message.type() === "error" && !/ERR_INTERNET|Failed to (load|fetch)/.test(message.text())) {
      complaints.push(message.text());
    }
  });
  await page.goto(url);
  await page.waitForURL((now) => !now.pathname.endsWith("/enter"));
  return { page, complaints };
}

const step = (page: Page): Promise<string> => page.locator("[data-next-step]").innerText();

/** Waits until a page says something. */
async function until(page: Page, selector: string, says: RegExp): Promise<string> {
  const place = page.locator(selector).filter({ hasText: says }).first();
  await place.waitFor({ state: "attached" });
  return await place.innerText();
}

async function leaves(page: Page, go: readonly string[], nogo: readonly string[]): Promise<void> {
  await page.evaluate(`location.hash = "leaves"`);
  const key = (leaf: string): Promise<void> =>
    page.locator("#leaf-keys button", { hasText: leaf }).click();
  await page.locator('[data-stack="0"]').click();
  for (const leaf of go) await key(leaf);
  await page.locator('[data-stack="1"]').click();
  for (const leaf of nogo) await key(leaf);
  await page.locator("#leaf-enter").click();
}

async function minutes(page: Page, count: number, side: string): Promise<void> {
  await page.evaluate(`location.hash = "minutes"`);
  await page.locator(`[data-side="${side}"]`).click();
  for (let n = 0; n < count; n++) await page.locator('[data-add="1"]').click();
  await page.locator("#min-enter").click();
}

Deno.test({
  name:
    "a learner grinds with the caller, measures, overshoots, is told, mends; wall and leader follow; the record is fine",
  ignore: chromium === undefined,
  sanitizeOps: false,
  sanitizeResources: false,
  fn: async () => {
    const files = {
      ...await filesOf("bench-11"),
      ...await filesOf("bench-07"),
      "class.yaml": "title: Kestrel Lane\nadults: 2\nstock: { F80: 900 g }\n",
    };
    await withRoom(files, async (room) => await played(room, files));
  },
});

async function played(room: OpenRoom, files: Readonly<Record<string, string>>): Promise<void> {
  const browser = await startBrowser();
  try {
    const bench = room.keys.benches["bench-11"]?.url ?? "", wallUrl = room.keys.walls[0]?.url ?? "";
    const learner = await comeIn(browser, bench, 390, 844);
    const wall = await comeIn(browser, wallUrl, 1920, 1080);
    const leader = await comeIn(browser, room.keys.leader.url, 390, 844);
    const { page } = learner;

    // the caution stands above the step, and both in view of a phone; the key is not in the address any more
    assert.match(await until(page, "[data-next-step]", /Grind/), /^Grind the last minute/);
    assert.match(await page.locator("#cautions").innerText(), /Safety glasses/);
    const top = async (selector: string): Promise<number> =>
      (await page.locator(selector).boundingBox())?.y ?? NaN;
    assert.ok(await top("#caution") < await top("#step") && await top("#step") < 780);
    assert.equal(new URL(page.url()).pathname, "/bench/bench-11");
    assert.equal(new URL(page.url()).hash, "");
    await until(wall.page, "#list .no", /11/);

    // the caller: silent until asked, counts, calls the turn by the course's rule, asks once, enters
    await page.locator("#to-strokes").click();
    assert.equal(await page.locator("#sound").innerText(), "Sound is off");
    for (let n = 0; n < 20; n++) await page.locator("#faster").click();
    assert.match(await page.locator("#pace").innerText(), /^80 strokes/);
    await page.locator("#sound").click();
    await page.locator("#begin").click();
    await until(page, "#n", /^[1-8]$/);
    await until(page, "#call", /^Turn now: mirror 150°, tool 50°$/);
    await until(page, "#call", /^Next turn/);
    await page.locator("#spent").click();
    assert.match(
      await page.locator("#question-text").innerText(),
      /^Enter 1 minute, F80, mirror on top\?$/,
    );
    await page.locator("#yes").click();
    await until(page, "#last", /1 min|grinding/);

    // she measures: the depth is there; the wall says so within two seconds of the reading
    await leaves(page, ["0.88", "0.25"], ["0.85", "0.30"]);
    await until(page, "#last", /0\.88\+0\.25/);
    await until(page, "[data-next-step]", /Stop|begin F120|Grind/);
    const stopped = await step(page);
    const from = performance.now();
    await until(wall.page, "#list .what", new RegExp(stopped.slice(0, 12)));
    assert.ok(performance.now() - from < 2000, "the wall follows within two seconds");

    // out of reach: what is entered waits, is counted, and goes by itself; nothing is doubled
    await page.context().setOffline(true);
    await minutes(page, 5, "mirror on top");
    await until(page, "#wait", /^1 entry waits on this phone/);
    assert.equal(await page.evaluate("document.documentElement.dataset.reach"), "out");
    await page.reload().catch(() => undefined);
    await page.context().setOffline(false);
    await page.goto(bench.split("/enter")[0] + "/bench/bench-11");
    await until(page, "#saved", /saved in the room/);
    await until(page, "#last", /mirror on top, 5/);

    // too deep: she is told, and so is the leader
    await leaves(page, ["0.88", "0.28"], ["0.88", "0.30"]);
    await until(page, "[data-next-step]", /tool on top/);
    await until(leader.page, "#benches tr", /too deep/);
    await until(wall.page, "#list .why", /too deep/);

    // an entry of the wrong side is refused by nobody, so she takes it back; the row is gone and the journal has it
    await minutes(page, 2, "mirror on top");
    await until(page, "#last", /mirror on top, 2/);
    await page.locator("#undo").click();
    await page.locator("#last .gone", { hasText: "mirror on top, 2" }).waitFor();

    // a refusal comes back in the record's words, and is typed again
    await page.evaluate(`location.hash = "other"`);
    await page.locator("#table").selectOption("diary");
    await page.locator('[data-table="diary"] input[name="what"]').fill("pitts");
    await page.locator('[data-table="diary"] .push').click();
    assert.match(await until(page, "#returned-why", /pitts/), /did you mean pits/);
    await page.locator("#returned-drop").click();

    // mended: tool on top, then the depth is right again
    await minutes(page, 4, "tool on top");
    await until(page, "#last", /tool on top, 4/);
    await leaves(page, ["0.88", "0.25"], ["0.85", "0.30"]);
    await until(page, "#last", /0\.88\+0\.25/);
    await page.waitForFunction(
      `!/tool on top, then measure/.test(document.querySelector("[data-next-step]").textContent)`,
    );

    for (const { page: seen, complaints } of [learner, wall, leader]) {
      assert.deepEqual(complaints, []);
      assert.equal(await sideways(seen), 0);
      assert.deepEqual(await barriers(seen), []);
    }
    await checked(room, files);
  } finally {
    await browser.close();
  }
}

/** The record afterwards: its first bytes as they were, comments too; `check` reads it; the journal tells of all. */
async function checked(room: OpenRoom, files: Readonly<Record<string, string>>): Promise<void> {
  const text = (name: string): Promise<string> =>
    Deno.readTextFile(join(room.folder, "bench-11", name));
  for (const name of ["grinding.csv", "sagitta.csv", "mirror.yaml"]) {
    assert.ok((await text(name)).startsWith(files[`bench-11/${name}`] ?? "?"), name);
  }
  const added = (await text("grinding.csv")).slice((files["bench-11/grinding.csv"] ?? "").length);
  assert.deepEqual(added.trim().split("\n").map((line) => line.split(",").slice(2, 4).join(" ")), [
    ...["mirror on top 1", "mirror on top 5", "tool on top 4"],
  ]);
  assert.match(added, /^2026-11-30,F80,mirror on top,1,\d+,$/m);
  const sagitta = (await text("sagitta.csv")).slice((files["bench-11/sagitta.csv"] ?? "").length);
  assert.equal(sagitta.trim().split("\n").length, 3);
  assert.match(sagitta, /^2026-11-30,\d+,0\.88\+0\.25,0\.85\+0\.30,$/m);
  assert.match(await text("history.csv"), /,grinding,\d+,undo,/);
  const { code, err } = await run("check", [
    ...[join(room.folder, "bench-11"), "--today", "2026-11-30"],
  ]);
  assert.equal(code, 0, err);
}

Deno.test({
  name:
    "the wall at 1920 x 1080 with 12 and 30 benches, light and dark: one screen, no row turns over, 30 px at least, contrast",
  ignore: chromium === undefined,
  sanitizeOps: false,
  sanitizeResources: false,
  fn: async () => {
    for (const count of [12, 30]) {
      const files: Record<string, string> = { "class.yaml": "title: Kestrel Lane, day 3 of 5\n" };
      for (let n = 1; n <= count; n++) {
        const from = `bench-${String((n - 1) % 12 + 1).padStart(2, "0")}`;
        const to = `bench-${String(n).padStart(2, "0")}`;
        for (const [path, text] of Object.entries(await filesOf(from))) {
          files[path.replace(from, to)] = text;
        }
      }
      await withRoom(files, async (room) => {
        const browser = await startBrowser();
        try {
          const { page } = await comeIn(browser, room.keys.walls[0]?.url ?? "", 1920, 1080);
          await until(page, "#list .no", /11/);
          await until(page, ".fresh", /^renewed/);
          for (const colorScheme of ["light", "dark"] as const) {
            await page.emulateMedia({ colorScheme });
            const told = await page.evaluate(`(() => {
              const all = [...document.querySelectorAll("#wall *")].filter((e) => e.children.length === 0 && e.textContent.trim() && e.getClientRects().length && !e.closest(".sr"));
              const sizes = all.map((e) => parseFloat(getComputedStyle(e).fontSize));
              const tall = [...document.querySelectorAll(".what, .why")].filter((e) => e.getClientRects().length && e.clientHeight > 1.6 * parseFloat(getComputedStyle(e).fontSize)).length;
              const list = document.querySelector("#list").getBoundingClientRect(), stand = document.querySelector("#stand").getBoundingClientRect();
              return { least: Math.min(...sizes), tall, over: document.documentElement.scrollHeight - innerHeight, gap: stand.top - list.bottom, stand: document.querySelectorAll("#stand li *").length, rows: document.querySelectorAll("#list .no").length };
            })()`) as Record<string, number>;
            assert.ok(
              (told["least"] ?? 0) >= 30,
              `${count} ${colorScheme} ${JSON.stringify(told)}`,
            );
            assert.deepEqual([told["tall"], told["over"]], [0, 0], JSON.stringify(told));
            assert.ok(
              (told["gap"] ?? -1) >= 0,
              `the list runs into the stand: ${JSON.stringify(told)}`,
            );
            assert.equal(told["stand"], count, "every bench stands somewhere");
            assert.ok((told["rows"] ?? 99) <= 8);
            assert.deepEqual(await barriers(page), []);
          }
        } finally {
          await browser.close();
        }
      });
    }
  },
});

Deno.test({
  name:
    "a bench at 390 x 844 and 320 x 640, every view, light and dark: nothing sideways, keys of 44 px and more, contrast",
  ignore: chromium === undefined,
  sanitizeOps: false,
  sanitizeResources: false,
  fn: async () => {
    const files = { ...await filesOf("bench-11"), ...await filesOf("bench-12") };
    files["bench-12/mirror.yaml"] += "mask: [0 mm, 30 mm, 45 mm, 57 mm, 67 mm, 74 mm]\n";
    await withRoom(files, async (room) => {
      const browser = await startBrowser();
      try {
        for (const [width, height] of [[390, 844], [320, 640]] as const) {
          const { page, complaints } = await comeIn(
            browser,
            room.keys.benches["bench-12"]?.url ?? "",
            width,
            height,
          );
          await until(page, "[data-next-step]", /[a-z]{4}/);
          const views = [
            "next",
            "steps",
            "leaves",
            "zones",
            "minutes",
            "other",
            "strokes",
            "bands",
          ];
          await until(page, "#work-at", /steps$/);
          for (const view of views) {
            await page.evaluate(`location.hash = "${view}"`);
            for (const colorScheme of ["light", "dark"] as const) {
              await page.emulateMedia({ colorScheme });
              const small = await page.evaluate(
                `[...document.querySelectorAll("button, select, .view a, nav a, .file")]
                .filter((e) => e.getClientRects().length && (e.getBoundingClientRect().height < 44 || e.getBoundingClientRect().width < 44))
                .map((e) => e.id || e.textContent)`,
              );
              assert.deepEqual(small, [], `${view} at ${width}`);
              assert.equal(await sideways(page), 0, `${view} at ${width}`);
              assert.deepEqual(await barriers(page), [], `${view} at ${width}, ${colorScheme}`);
            }
          }
          // the zones: a window at a time, the mask drawn, then the run goes in one piece
          await page.evaluate(`location.hash = "zones"`);
          for (let zone = 1; zone <= 5; zone++) {
            await until(page, "#window", new RegExp(`^Window ${zone} of 5`));
            for (const digit of ["1", "2", ".", String(zone)]) {
              await page.locator("#pad button").filter({
                hasText: new RegExp(`^${digit.replace(".", "\\.")}$`),
              }).click();
            }
            await page.locator("#zone-enter").click();
          }
          await until(page, "#last", /12\.5/);
          // the camera: the picture first, then the row that names it
          await page.evaluate(`location.hash = "bands"`);
          await page.locator('[data-off="+"]').click();
          await page.locator("#camera").setInputFiles(
            join(recordsFolder, "demo-150-f8", "photos", "outside-8mm.png"),
          );
          await until(page, "#photo-says", /Sent to the room/);
          await until(page, "#last", /ronchi|bands/);
          assert.deepEqual(complaints, []);
        }
        const ronchi = await Deno.readTextFile(join(room.folder, "bench-12", "ronchi.csv"));
        assert.match(ronchi, /^date,photo,lines_per_mm,offset_mm\n2026-11-30,[\w-]+\.png,4,8\n/);
        assert.equal(ronchi.trim().split("\n").length, 3);
        const zones = await Deno.readTextFile(join(room.folder, "bench-12", "zones.csv"));
        const rows = zones.slice((files["bench-12/zones.csv"] ?? "").length).trim().split("\n");
        assert.equal(rows.length, 10);
        assert.match(rows[4] ?? "", /,67,74,12\.5/);
        const { code, err } = await run("check", [
          ...[join(room.folder, "bench-12"), "--today", "2026-11-30"],
        ]);
        assert.equal(code, 0, err);
      } finally {
        await browser.close();
      }
    });
  },
});

Deno.test({
  name: "a phone whose clock is two days ahead: its entry bears the room's day, and is not refused",
  ignore: chromium === undefined,
  sanitizeOps: false,
  sanitizeResources: false,
  fn: async () => {
    const files = await filesOf("bench-11");
    await withRoom(files, async (room) => {
      const browser = await startBrowser();
      try {
        const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
        context.setDefaultTimeout(30_000);
        const page = await context.newPage();
        await page.clock.install({ time: new Date("2026-12-02T09:00:00") });
        await page.goto(room.keys.benches["bench-11"]?.url ?? "");
        await page.waitForURL((now) => !now.pathname.endsWith("/enter"));
        await until(page, "[data-next-step]", /[a-z]{4}/);
        await minutes(page, 3, "tool on top");
        await until(page, "#last", /tool on top, 3/);
        const log = await Deno.readTextFile(join(room.folder, "bench-11", "grinding.csv"));
        assert.match(log.trim().split("\n").at(-1) ?? "", /^2026-11-30,/);
        assert.equal(await page.locator("#returned").isVisible(), false);
      } finally {
        await browser.close();
      }
    });
  },
});
