/** A bench's own book in the room: its cells run on its record as it stands, and it is nobody else's. Readings are INVENTED. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { openMirror } from "../../lib/knowledge/open.ts";
import { kestrelLane } from "../record/classBench.ts";
import { keyOf, withRoom } from "../room/roomServer.ts";
import { stemOf } from "../stems.ts";
import { barriers, chromium, sideways, startBrowser } from "./browser.ts";

async function filesOf(bench: string): Promise<Record<string, string>> {
  const files: Record<string, string> = {};
  for await (const { name } of Deno.readDir(join(kestrelLane, bench))) {
    files[`${bench}/${name}`] = await Deno.readTextFile(join(kestrelLane, bench, name));
  }
  return files;
}

Deno.test({
  name:
    "a bench's book in the room: reached from its page, cells run on its record of now, another's stays shut (Chromium)",
  ignore: chromium === undefined,
  sanitizeOps: false,
  sanitizeResources: false,
  fn: async () => {
    const files = { ...await filesOf("bench-03"), ...await filesOf("bench-11") };
    await withRoom(files, async (room) => {
      const browser = await startBrowser();
      try {
        const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
        context.setDefaultTimeout(120_000);
        const page = await context.newPage(), complaints: string[] = [], asked: string[] = [];
        page.on("pageerror", ({ message }) => void complaints.push(message));
        page.on("console", (one) => {
          if (one.type() === "error") complaints.push(one.text());
        });
        page.on("request", (one) => void asked.push(new URL(one.url()).origin));
        await page.goto(room.keys.benches["bench-11"]?.url ?? "");
        await page.locator("#to-book").click();
        // the lessons are laid out when they are first asked for; the page waits and says so
        await page.locator("#mirror-title").waitFor();
        const { summary } = await openMirror(join(room.folder, "bench-11"), "2026-11-30");
        const plain = (text: string): string => text.replace(/\s+/g, " ").trim();
        assert.equal(
          plain(await page.locator("#mirror-title").innerText()),
          plain(summary.nextStep.do),
        );
        assert.deepEqual(await barriers(page), []);

        await page.locator(`a[href*="${stemOf("measure-curve")}"]`).first().click();
        await page.locator("html[data-ran]").waitFor({ state: "attached" });
        assert.equal(await page.locator("[data-next-step]").innerText(), summary.nextStep.do);
        assert.match(await page.locator(".way").innerText(), /Bench 11/);
        assert.doesNotMatch(await page.locator("main").innerText(), /Bench 3/);
        assert.ok(await sideways(page) <= 0);
        const states = await page.evaluate(
          `[...document.querySelectorAll("[data-output-of]")].map((e) => e.dataset.state)`,
        ) as string[];
        assert.ok(states.length > 10 && states.every((state) => state === "done"), states.join());

        // a reading that came in meanwhile: the page opened anew has it
        const body = {
          id: crypto.randomUUID(),
          rows: [{
            date: "2026-09-26",
            after_min: "128",
            go_mm: "0.88+0.25",
            nogo_mm: "0.88+0.30",
          }],
        };
        const row = await room.ask(
          "POST",
          "/api/benches/bench-11/tables/sagitta/rows",
          keyOf(room, "bench-11"),
          body,
        );
        assert.equal(row.status, 201, await row.text());
        await page.reload();
        await page.locator("html[data-ran]").waitFor({ state: "attached" });
        const record = await page.evaluate("firstMirror.record()") as Record<string, string>;
        assert.match(record["sagitta.csv"] ?? "", /0\.88\+0\.25/);
        const after = await openMirror(join(room.folder, "bench-11"), "2026-11-30");
        assert.equal(
          await page.locator("[data-next-step]").innerText(),
          after.summary.nextStep.do,
        );

        // a cell reaches nothing, and asks nobody
        const reached = await page.evaluate(
          `firstMirror.run(0, 'await fetch("/api/benches/bench-11")')`,
        ) as { text: string; failed: boolean };
        assert.ok(reached.failed, reached.text);
        assert.deepEqual([...new Set(asked)], [room.origin]);
        assert.deepEqual(
          complaints.filter((one) => !/connect-src|Refused to connect|fetch/i.test(one)),
          [],
        );
      } finally {
        await browser.close();
      }

      // by the interface: the policy goes with the page, and a key opens its own book alone
      const key = keyOf(room, "bench-11");
      const lesson = await room.ask("GET", `/bench/bench-11/book/${stemOf("pour-lap")}.html`, key);
      const policy = lesson.headers.get("content-security-policy") ?? "";
      assert.match(
        policy,
        /default-src 'none'.*worker-src blob:; connect-src 'none'.*frame-ancestors 'none'/,
      );
      assert.doesNotMatch(policy, /script-src[^;]*unsafe/);
      await lesson.body?.cancel();
      for (
        const [path, with_, status] of [
          ["/bench/bench-03/book/", key, 403],
          ["/bench/bench-11/book/benches/bench-03/bench.js", key, 403],
          ["/bench/bench-11/book/benches/bench-11/../../../keys.json", key, 404],
          ["/bench/bench-11/book/benches/bench-11/%2e%2e%2f%2e%2e%2fkeys.json", key, 404],
          ["/bench/bench-11/book/notebooks/x.ipynb", key, 404],
          ["/bench/bench-11/book/library.js", undefined, 401],
          ["/bench/bench-11/book/library.js", room.keys.walls[0]?.key, 403],
          ["/bench/bench-11/book/library.js", room.keys.leader.key, 200],
          ["/bench/bench-99/book/", room.keys.leader.key, 404],
        ] as const
      ) {
        const answer = await room.ask("GET", path, with_);
        await answer.body?.cancel();
        assert.equal(answer.status, status, path);
      }
      const shared = await (await room.ask("GET", "/bench/bench-11/book/class.js", key)).text();
      assert.doesNotMatch(shared, /bench-03|go_mm/);
      const own = await (await room.ask(
        "GET",
        "/bench/bench-11/book/benches/bench-11/bench.js",
        key,
      )).text();
      assert.match(own, /Bench 11/);
      assert.doesNotMatch(own, /Bench 3/);
    });
  },
});
