/** What goes wrong in a room on a real day: folders that go, hands in the files, two phones, clocks, a laptop asleep, hostile text. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { recordsFolder } from "../../lib/knowledge/open.ts";
import { run } from "../commands/run.ts";
import { childrenOf } from "./roomTrial.ts";
import { BENCH, benches, decoding, keyOf, type OpenRoom, withRoom } from "./roomServer.ts";

const GRINDING = "/api/benches/bench-01/tables/grinding/rows";
const wait = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms));

/** A row of ten minutes; INVENTED */
const body = (id: string, more: Record<string, string> = {}): unknown => ({
  id,
  rows: [{
    date: "2026-11-30",
    abrasive: "F80",
    position: "mirror on top",
    minutes: "10",
    ...more,
  }],
});

async function said(answer: Response): Promise<{ status: number; text: string }> {
  return { status: answer.status, text: await answer.text() };
}

const table = (room: OpenRoom, bench = "bench-01"): Promise<string> =>
  Deno.readTextFile(join(room.folder, bench, "grinding.csv"));

/** Asks until an answer is as wanted, for ten seconds. */
async function until(ask: () => Promise<Response>, wanted: RegExp): Promise<string> {
  let text = "";
  for (let turn = 0; turn < 50; turn++) {
    text = (await said(await ask())).text;
    if (wanted.test(text)) return text;
    await wait(200);
  }
  throw new Error(`never ${wanted}: ${text.slice(0, 400)}`);
}

Deno.test("a bench's folder that goes while its page is open: a sentence, the others go on; it comes back with its key", () =>
  withRoom(benches(2), async (room) => {
    const key = keyOf(room, "bench-01"), away = `${room.folder}/.away`;
    assert.equal((await said(await room.ask("POST", GRINDING, key, body("a")))).status, 201);
    await Deno.rename(join(room.folder, "bench-01"), away);
    const gone = await said(await room.ask("POST", GRINDING, key, body("b")));
    assert.equal(gone.status, 404);
    assert.match(gone.text, /folder is gone|no such bench/);
    const other = await room.ask(
      "POST",
      "/api/benches/bench-02/tables/grinding/rows",
      keyOf(room, "bench-02"),
      body("c"),
    );
    assert.equal((await said(other)).status, 201);
    await until(
      () => room.ask("GET", "/api/class", room.keys.leader.key),
      /^(?!.*"folder":"bench-01")/,
    );
    await Deno.rename(away, join(room.folder, "bench-01"));
    // what the phone kept goes with the same id, and what it had sent before is known still
    await until(() => room.ask("POST", GRINDING, key, body("b")), /"lines"/);
    assert.equal((await said(await room.ask("POST", GRINDING, key, body("a")))).status, 200);
    assert.equal((await table(room)).match(/^2026-11-30/gm)?.length, 2);
  }));

Deno.test("mirror.yaml broken by hand while the page is open: told, rows still go in, and mended it is read again", () =>
  withRoom(benches(1), async (room) => {
    const key = keyOf(room, "bench-01"), path = join(room.folder, "bench-01", "mirror.yaml");
    const facts = (): Promise<Response> => room.ask("GET", "/api/benches/bench-01", key);
    await until(facts, /"state":"read"/);
    await Deno.writeTextFile(path, "title: Bench\naperture: wide\n");
    assert.match(await until(facts, /"state":"refused"/), /mirror\.yaml/);
    assert.equal((await said(await room.ask("POST", GRINDING, key, body("a")))).status, 201);
    await Deno.writeTextFile(path, BENCH["mirror.yaml"] ?? "");
    await until(facts, /"state":"read"/);
    const { code, err } = await run("check", [
      join(room.folder, "bench-01"),
      "--today",
      "2026-11-30",
    ]);
    assert.equal(code, 0, err);
  }));

Deno.test("two phones on one bench: each row once, both hear of it, and an entry is taken back once", () =>
  withRoom(benches(1), async (room) => {
    const key = keyOf(room, "bench-01");
    const ears = await Promise.all([1, 2].map(async () => {
      const answer = await fetch(`${room.origin}/api/events`, {
        headers: { authorization: `Bearer ${key}` },
      });
      return answer.body?.pipeThrough(decoding()).getReader();
    }));
    const both = await Promise.all(
      Array.from({ length: 12 }, (_, n) =>
        // every third is one row that both phones send
        room.ask("POST", GRINDING, key, body(n % 3 === 0 ? "shared" : `own-${n}`))),
    );
    const statuses = await Promise.all(both.map(async (one) => (await said(one)).status));
    assert.deepEqual(
      [statuses.filter((one) => one === 201).length, statuses.filter((one) => one === 200).length],
      [9, 3],
    );
    for (const ear of ears) {
      let heard = "";
      while (!/"table":"grinding"/.test(heard)) heard += (await ear?.read())?.value ?? "";
      await ear?.cancel();
    }
    assert.equal((await table(room)).match(/^2026-11-30/gm)?.length, 9);
    const undone = await Promise.all(
      [1, 2].map(() => room.ask("DELETE", `${GRINDING}/shared`, key)),
    );
    for (const one of undone) assert.equal((await said(one)).status, 200);
    assert.equal((await table(room)).match(/^2026-11-30/gm)?.length, 8);
    // sent once more by the phone that had not heard: the id counts for ever
    assert.equal((await said(await room.ask("POST", GRINDING, key, body("shared")))).status, 200);
    assert.equal((await table(room)).match(/^2026-11-30/gm)?.length, 8);
  }));

Deno.test("a phone's clock a day off: tomorrow is refused with the day it is, yesterday stands, and the page takes the room's day", () =>
  withRoom(benches(1), async (room) => {
    const key = keyOf(room, "bench-01");
    const ahead = await said(
      await room.ask("POST", GRINDING, key, body("a", { date: "2026-12-01" })),
    );
    assert.equal(ahead.status, 422);
    assert.match(ahead.text, /2026-12-01.*2026-11-30/);
    const behind = await room.ask("POST", GRINDING, key, body("b", { date: "2026-11-29" }));
    assert.equal((await said(behind)).status, 201);
    const facts = await (await room.ask("GET", "/api/benches/bench-01", key)).json() as {
      readonly today: string;
    };
    assert.equal(facts.today, "2026-11-30");
  }));

Deno.test({
  name: "a laptop asleep: what was on its way is answered after it, once; the wall hears on",
  ignore: Deno.build.os !== "linux",
  fn: () =>
    withRoom(benches(2), async (room) => {
      const key = keyOf(room, "bench-01"), { pid } = room.process;
      const answer = await fetch(`${room.origin}/api/events`, {
        headers: { authorization: `Bearer ${room.keys.leader.key}` },
      });
      const ear = answer.body?.pipeThrough(decoding()).getReader();
      const all = [pid, ...childrenOf(pid)];
      for (const one of all) Deno.kill(one, "SIGSTOP");
      const sent = Promise.all(
        ["a", "a", "b"].map((id) => room.ask("POST", GRINDING, key, body(id))),
      );
      await wait(3000);
      for (const one of all) Deno.kill(one, "SIGCONT");
      const statuses = await Promise.all((await sent).map(async (one) => (await said(one)).status));
      assert.deepEqual(statuses.toSorted(), [200, 201, 201]);
      assert.equal((await table(room)).match(/^2026-11-30/gm)?.length, 2);
      let heard = "";
      while (!/"bench":"bench-01","table":"grinding"/.test(heard)) {
        heard += (await ear?.read())?.value ?? "";
      }
      await ear?.cancel();
    }),
});

Deno.test("hostile notes and names: kept as text in one line each, read by check, and markup nowhere", async () => {
  const name = `x"><img src=a onerror=alert(1)>`;
  const files = {
    ...benches(1),
    "bench-02/mirror.yaml": `title: '${name}'\naperture: 150 mm\nfocal_length: 1200 mm\n`,
  };
  await withRoom(files, async (room) => {
    const { key } = room.keys.leader;
    const notes = [
      "two\nlines\r\nof it",
      "=cmd|' /C calc'!A0",
      `<script>alert("1")</script>, and; a "quoted" \ttab`,
      "# no remark",
      "\u202etxt.exe\u0000",
    ];
    for (const [n, note] of notes.entries()) {
      const { status, text } = await said(
        await room.ask("POST", GRINDING, key, body(`n${n}`, { note })),
      );
      assert.ok(status === 201 || status === 422, `${status} ${text}`);
    }
    const lines = (await table(room)).trim().split("\n");
    const rows = lines.filter((line) => line.startsWith("2026-11-30"));
    assert.equal(lines.length - rows.length, 2, "a header, one row of old, and nothing else");
    const checked = await run("check", [join(room.folder, "bench-01"), "--today", "2026-11-30"]);
    assert.equal(checked.code, 0, checked.err);
    assert.ok(rows.length >= 4);
    for (const page of ["/cards", "/day", "/wall", "/leader"]) {
      const html = await (await room.ask("GET", page, key)).text();
      assert.doesNotMatch(html, /<img|<script>alert/, page);
    }
    const facts = await (await room.ask("GET", "/api/benches/bench-01", key)).text();
    for (const sign of ["\u202e", "\u0000"]) assert.ok(!facts.includes(sign));
  });
});

Deno.test("a picture of a million by a million: kept as sent, told by the summary, and the room goes on", () =>
  withRoom(benches(2), async (room) => {
    const key = keyOf(room, "bench-01");
    // READ (PNG specification, W3C, third edition, 11.2.1): length, "IHDR", width, height, depth, kind
    const head = [
      0x89,
      0x50,
      0x4e,
      0x47,
      0x0d,
      0x0a,
      0x1a,
      0x0a,
      0,
      0,
      0,
      13,
      0x49,
      0x48,
      0x44,
      0x52,
    ];
    const size = [0, 0x0f, 0x42, 0x40, 0, 0x0f, 0x42, 0x40, 8, 0, 0, 0, 0, 1, 2, 3, 4];
    const kept = await room.ask(
      "POST",
      "/api/benches/bench-01/photos",
      key,
      new Uint8Array([...head, ...size]),
      { "content-type": "image/png", "idempotency-key": "bomb" },
    );
    assert.equal(kept.status, 201);
    const { path } = await kept.json() as { path: string };
    const row = await room.ask("POST", "/api/benches/bench-01/tables/ronchi/rows", key, {
      id: "r",
      rows: [{
        ...{ date: "2026-11-30", photo: path.slice("photos/".length) },
        ...{ lines_per_mm: "4", offset_mm: "-8" },
      }],
    });
    assert.ok([201, 422].includes((await said(row)).status));
    const summary = await said(await room.ask("GET", "/api/benches/bench-01/summary", key));
    assert.equal(summary.status, 422, summary.text);
    assert.match(summary.text, /ronchi\.csv.*photo/);
    const other = await room.ask(
      "POST",
      "/api/benches/bench-02/tables/grinding/rows",
      keyOf(room, "bench-02"),
      body("z"),
    );
    assert.equal((await said(other)).status, 201);
  }));

Deno.test("a bench with photographs: its summary in the room is what check writes of it", () =>
  withRoom(benches(1), async (room) => {
    const from = join(recordsFolder, "demo-150-f8"), to = join(room.folder, "bench-02");
    await Deno.mkdir(join(to, "photos"), { recursive: true });
    for (const folder of ["", "photos"]) {
      for await (const { name, isFile } of Deno.readDir(join(from, folder))) {
        if (isFile) await Deno.copyFile(join(from, folder, name), join(to, folder, name));
      }
    }
    const { key } = room.keys.leader;
    await until(() => room.ask("GET", "/api/class", key), /"folder":"bench-02"/);
    const answer = await said(await room.ask("GET", "/api/benches/bench-02/summary", key));
    assert.equal(answer.status, 200, answer.text);
    const json = `${room.folder}/.summary.json`;
    const { code, err } = await run("check", [to, "--json", json, "--today", "2026-11-30"]);
    assert.equal(code, 0, err);
    assert.equal(answer.text.trim(), (await Deno.readTextFile(json)).trim());
    assert.match(answer.text, /"photo"/);
    assert.doesNotMatch(room.said(), /error|fault/i);
  }));
