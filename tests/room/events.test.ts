/** Events: to whom, in which order, and again to whoever was away; and limits by key. */
import assert from "node:assert/strict";
import { Events } from "../../lib/room/events.ts";
import { Limits } from "../../lib/room/limits.ts";
import { benches, decoding, keyOf, withRoom } from "./roomServer.ts";

/** What a stream has told so far: ids and benches. */
function heard(stream: ReadableStream<Uint8Array>): { told: string[]; stop: () => Promise<void> } {
  const told: string[] = [], reader = stream.pipeThrough(decoding()).getReader();
  void (async () => {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      for (const [, id, bench] of value.matchAll(/id: (\d+)\ndata: \{"bench":"([^"]*)"/g)) {
        told.push(`${id} ${bench}`);
      }
    }
  })().catch(() => undefined);
  return { told, stop: () => reader.cancel() };
}

const moment = (): Promise<void> => new Promise((done) => setTimeout(done, 20));

Deno.test("a bench hears its own; whoever comes back hears what it missed, of the last thousand", async () => {
  const events = new Events(100);
  const own = heard(events.stream(({ bench }) => bench === "a", undefined));
  for (const bench of ["a", "b", "a"]) events.tell({ bench, table: "" });
  await moment();
  assert.deepEqual(own.told, ["101 a", "103 a"]);
  const back = heard(events.stream(() => true, "101"));
  events.tell({ bench: "c", table: "" });
  await moment();
  assert.deepEqual(back.told, ["102 b", "103 a", "104 c"]);
  for (let n = 0; n < 1100; n++) events.tell({ bench: "d", table: "" });
  const late = heard(events.stream(() => true, "0"));
  await moment();
  assert.equal(late.told.length, 1000);
  assert.equal(late.told.at(-1), "1204 d");
  for (const one of [own, back, late]) await one.stop();
  assert.equal(events.listeners, 0);
});

Deno.test("limits: one key's bucket empties for itself alone, and fills again", () => {
  const limits = new Limits(5, 2);
  const waits = Array.from({ length: 8 }, () => limits.take("one", 0));
  assert.deepEqual(waits, [0, 0, 0, 0, 0, 1, 1, 1]);
  assert.equal(limits.take("other", 0), 0);
  assert.deepEqual([1000, 1000, 1000].map((now) => limits.take("one", now)), [0, 0, 1]);
});

Deno.test("a reading is told within two seconds, with the step that follows; nonsense from one phone hinders no other", () =>
  withRoom(benches(2), async (room) => {
    const one = keyOf(room, "bench-01"), two = keyOf(room, "bench-02");
    const headers = { authorization: `Bearer ${room.keys.leader.key}` };
    const answer = await fetch(`${room.origin}/api/events`, { headers });
    assert.match(answer.headers.get("content-type") ?? "", /^text\/event-stream/);
    const reader = answer.body?.pipeThrough(decoding()).getReader();
    const told = (async (): Promise<string> => {
      let text = "";
      for (;;) {
        text += (await reader?.read())?.value ?? "";
        const found = /^data: (.*"table":"grinding".*)$/m.exec(text)?.[1];
        if (found !== undefined) return found;
      }
    })();
    let isOver = false, nonsense = 0, limited = 0;
    const flood = (async (): Promise<void> => {
      while (!isOver) {
        await Promise.all(Array.from({ length: 10 }, async () => {
          const path = "/api/benches/bench-02/tables/grinding/rows";
          const { status, body } = await room.ask("POST", path, two, "}nonsense{");
          await body?.cancel();
          nonsense++;
          if (status === 429) limited++;
          else assert.equal(status, 400);
        }));
        await new Promise((done) => setTimeout(done, 50));
      }
    })();
    const times: number[] = [];
    let from = performance.now();
    for (let n = 0; n < 10; n++) {
      from = performance.now();
      const sent = await room.ask("POST", "/api/benches/bench-01/tables/grinding/rows", one, {
        id: `r${n}`,
        rows: [{ date: "2026-11-30", abrasive: "F80", position: "mirror on top", minutes: "5" }],
      });
      assert.equal(sent.status, 201);
      await sent.body?.cancel();
      times.push(performance.now() - from);
      if (n === 0) {
        const event = JSON.parse(await told) as Record<string, string>;
        assert.ok(performance.now() - from < 2000, "the wall is no more than two seconds behind");
        assert.deepEqual([event["bench"], event["table"]], ["bench-01", "grinding"]);
        assert.match(event["next_step"] ?? "", /[.]$/);
      }
      await new Promise((done) => setTimeout(done, 300));
    }
    isOver = true;
    await flood;
    await reader?.cancel();
    assert.ok(nonsense > 200 && limited > 0, `${nonsense} asked, ${limited} told to wait`);
    assert.ok(Math.max(...times) < 1000, `slowest ${Math.max(...times).toFixed(0)} ms`);
  }));
