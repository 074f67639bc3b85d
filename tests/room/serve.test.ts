/** The room's interface, line by line. Classes and readings are INVENTED. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { assertForPeople, run } from "../commands/run.ts";
import { BENCH, benches, keyOf, openRoom, withRoom, writeClass } from "./roomServer.ts";
import { childrenOf } from "./roomTrial.ts";

const ground = {
  ...{ date: "2026-11-30", abrasive: "F80", position: "mirror on top", minutes: "10" },
};
const rowsAt = (bench: string, table: string): string =>
  `/api/benches/${encodeURIComponent(bench)}/tables/${table}/rows`;
const text = (folder: string, path: string): Promise<string> =>
  Deno.readTextFile(join(folder, path));

/** Everything in one room, one part after the other: a server takes a second to open. */
Deno.test("the room's interface", async (t) => {
  const files = {
    ...benches(3),
    "class.yaml": 'title: Kestrel Lane\nbenches: [{ folder: bench-02, name: "Bench 2, red" }]\n',
    "bench-03/sagitta.csv": "go_mm,nogo_mm\nx,1.12\n",
    "bench 05, süd/mirror.yaml": BENCH["mirror.yaml"] ?? "",
    "bench 05, süd/grinding.csv":
      '\ufeffdate;abrasive;position;minutes;strokes;note\r\n2026-04-18;F80;mirror on top;20,5;800;"nass; zweimal"\r\n# the end',
  };
  await withRoom(files, async (room) => {
    const { ask, keys, folder } = room, leader = keys.leader.key, one = keyOf(room, "bench-01");
    await Deno.mkdir(join(folder, "bench-04"));

    await t.step(
      "keys: a file of 0600 with an address and 128 bits each, the leader's printed, no key logged",
      async () => {
        const path = join(folder, ".room", "keys.json");
        if (Deno.build.os !== "windows") {
          assert.equal(((await Deno.stat(path)).mode ?? 0) & 0o777, 0o600);
        }
        assert.equal(keys.leader.url, `${room.origin}/enter#${leader}`);
        // DERIVED: 128 bits in letters of six bits each are 22 letters
        for (const key of [leader, one]) assert.match(key, /^[\w-]{22}$/);
        assert.deepEqual(Object.keys(keys.benches).sort(), [
          ...["bench 05, süd", "bench-01", "bench-02", "bench-03"],
        ]);
        assert.ok(room.said().includes(keys.leader.url));
        for (const { key } of [...Object.values(keys.benches), ...keys.walls]) {
          assert.ok(!room.said().includes(key), "a bench's key was printed");
        }
        const codes = /print: (.*)$/m.exec(room.said())?.[1] ?? "";
        assert.match(await Deno.readTextFile(codes), /<svg[^>]*aria-label="Code of Bench 2, red"/);
      },
    );

    await t.step("no key 401, a foreign key 403, an unknown bench 404, in this order", async () => {
      const wall = keys.walls[0]?.key ?? "";
      const wanted: readonly (readonly [string, string, string | undefined, number])[] = [
        ["GET", "/leader", undefined, 401],
        ["GET", "/leader", "wrong", 401],
        ["GET", "/leader", one, 403],
        ["GET", "/wall", one, 403],
        ["GET", "/api/class", one, 403],
        ["GET", "/api/class.parquet", one, 403],
        ["GET", "/api/benches/bench-02/summary", one, 403],
        ["GET", "/api/benches/bench-99/summary", undefined, 401],
        ["GET", "/api/benches/bench-99/summary", one, 403],
        ["GET", "/api/benches/bench-99/summary", leader, 404],
        ["GET", "/bench/bench-02", one, 403],
        ["GET", "/bench/bench-99", leader, 404],
        ["GET", "/nothing", leader, 404],
        ["GET", "/nothing", undefined, 401],
        ["POST", rowsAt("bench-01", "tables"), one, 404],
        ["POST", rowsAt("../bench-01", "grinding"), leader, 404],
        ["GET", "/wall", wall, 200],
        ["GET", "/api/class", wall, 200],
        ["GET", "/leader", wall, 403],
        ["POST", rowsAt("bench-01", "grinding"), wall, 403],
        ["GET", "/wall", leader, 200],
        ["GET", "/leader", leader, 200],
        ["GET", "/bench/bench-01", one, 200],
        ["GET", "/bench/bench-01", leader, 200],
        ["PUT", "/api/class", leader, 405],
        ["GET", rowsAt("bench-01", "grinding"), one, 405],
        ["PATCH", "/api/benches/bench-01/photos", one, 405],
      ];
      for (const [method, path, key, status] of wanted) {
        const answer = await ask(method, path, key);
        await answer.body?.cancel();
        assert.equal(answer.status, status, `${method} ${path}`);
      }
      for (const path of [`/leader?key=${leader}`, `/api/class?x=${one}`]) {
        assert.equal((await ask("GET", path)).status, 401);
        assert.equal((await ask("GET", path, leader)).status, 401, "a key in a query");
      }
    });

    await t.step("a foreign Origin or Host is refused; the room's own is not", async () => {
      const other = { origin: "http://evil.example" };
      assert.equal((await ask("GET", "/api/class", leader, undefined, other)).status, 403);
      assert.equal(
        (await ask("GET", "/api/class", leader, undefined, { origin: "null" })).status,
        403,
      );
      assert.equal((await ask("GET", "/api/class", undefined, undefined, other)).status, 401);
      const own = { origin: room.origin };
      assert.equal((await ask("GET", "/api/class", leader, undefined, own)).status, 200);
      const { hostname, port } = new URL(room.origin);
      const bare = await Deno.connect({ hostname, port: Number(port) });
      await bare.write(new TextEncoder().encode(
        `GET /api/class HTTP/1.1\r\nHost: evil.example\r\nAuthorization: Bearer ${leader}\r\nConnection: close\r\n\r\n`,
      ));
      const answer = new TextDecoder().decode(await new Response(bare.readable).bytes());
      assert.match(answer, /^HTTP\/1\.1 403 /);
    });

    await t.step(
      "/enter gives the cookie, which opens the bench; pages carry a policy without unsafe script",
      async () => {
        const answer = await ask("POST", "/enter", one);
        assert.deepEqual([answer.status, await answer.json()], [200, { to: "/bench/bench-01" }]);
        const cookie = answer.headers.get("set-cookie") ?? "";
        assert.match(cookie, /^room=[\w-]{22}; .*HttpOnly; SameSite=Strict/);
        const jar = { cookie: cookie.split(";")[0] ?? "" };
        const page = await ask("GET", "/bench/bench-01", undefined, undefined, jar);
        assert.equal(page.status, 200);
        await page.body?.cancel();
        for (const path of ["/enter", "/wall", "/leader", "/bench/bench-01", "/cards", "/day"]) {
          const shown = await ask("GET", path, leader);
          const policy = shown.headers.get("content-security-policy") ?? "";
          assert.equal(shown.status, 200, path);
          assert.match(policy, /^default-src 'none'/, path);
          assert.doesNotMatch(policy, /script-src[^;]*unsafe/, path);
          const html = await shown.text();
          assert.doesNotMatch(html, /\son\w+="|https?:\/\/(?!127\.0\.0\.1|www\.w3\.org)/, path);
          if (path !== "/cards") {
            for (const { key } of Object.values(keys.benches)) assert.ok(!html.includes(key), path);
          }
        }
      },
    );

    await t.step(
      "rows: 201 with their lines, the same id 200 with the same, nothing added; other content neither",
      async () => {
        const id = crypto.randomUUID(), at = rowsAt("bench-01", "grinding");
        const before = await text(folder, "bench-01/grinding.csv");
        const first = await ask("POST", at, one, {
          id,
          rows: [ground, { ...ground, note: "a\nb" }],
        });
        assert.deepEqual([first.status, await first.json()], [201, { lines: [3, 4] }]);
        const after = await text(folder, "bench-01/grinding.csv");
        const row = "2026-11-30,F80,mirror on top,10,,";
        assert.equal(after, `${before}${row}\n${row}a b\n`);
        for (const rows of [[ground], [{ ...ground, minutes: "99" }], [{ strange: "1" }]]) {
          const again = await ask("POST", at, one, { id, rows });
          assert.deepEqual([again.status, await again.json()], [200, { lines: [3, 4] }]);
        }
        assert.equal(await text(folder, "bench-01/grinding.csv"), after);
        const [head, line = ""] = (await text(folder, "bench-01/history.csv")).split("\n");
        assert.equal(head, "at,id,who,table,line,act,text");
        assert.match(line, new RegExp(`^\\d{4}-.*Z,${id},bench,grinding,3\\+4,add,`));
      },
    );

    await t.step(
      "bodies: no JSON and other shapes 400, over 1 MB 413, over 50 rows 422; nothing is written",
      async () => {
        const at = rowsAt("bench-01", "grinding"), id = "some-id";
        const before = await text(folder, "bench-01/grinding.csv");
        const bad: readonly (readonly [unknown, number])[] = [
          ["no json", 400],
          ["[]", 400],
          ["null", 400],
          [{}, 400],
          [{ id, rows: [] }, 400],
          [{ id, rows: "x" }, 400],
          [{ id, rows: [["x"]] }, 400],
          [{ id, rows: [{ minutes: 10 }] }, 400],
          [{ id, rows: [{ minutes: null }] }, 400],
          [{ id: 7, rows: [ground] }, 400],
          [{ id: "", rows: [ground] }, 400],
          [{ id: "x".repeat(200), rows: [ground] }, 400],
          [{ rows: [ground] }, 400],
          [new Uint8Array([0x7b, 0xff, 0x7d]), 400],
          [{ id, rows: [{ ...ground, note: "x".repeat(1_100_000) }] }, 413],
          [{ id, rows: Array.from({ length: 51 }, () => ground) }, 422],
          [{ id, rows: [{}] }, 422],
          [{ id, rows: [{ __proto__x: "1" }] }, 422],
          [`{"id":"${id}","rows":[{"__proto__":"1"}]}`, 422],
        ];
        for (const [body, status] of bad) {
          const answer = await ask("POST", at, one, body);
          const told = await answer.json() as { error?: string; refusals?: string[] };
          assert.equal(answer.status, status, JSON.stringify(body)?.slice(0, 80));
          const sentence = status === 422 ? told.refusals?.[0] : told.error;
          assert.ok(sentence !== undefined && sentence.length > 10, JSON.stringify(told));
        }
        assert.equal(await text(folder, "bench-01/grinding.csv"), before);
      },
    );

    await t.step("what the record's reader refuses is refused in its words", async () => {
      const refused = async (table: string, row: Record<string, string>): Promise<string> => {
        const answer = await ask("POST", rowsAt("bench-02", table), leader, {
          id: crypto.randomUUID(),
          rows: [row],
        });
        const told = await answer.json() as { refusals: string[] };
        assert.equal(answer.status, 422, JSON.stringify(row));
        return told.refusals.join("\n");
      };
      const leaves = { date: "2026-11-30", go_mm: "1.2", nogo_mm: "1.1" };
      assert.match(
        await refused("sagitta", leaves),
        /nogo_mm: found 1\.1 mm, wanted more than the go of 1\.2 mm/,
      );
      assert.match(await refused("grinding", { ...ground, abrasive: "80" }), /F80/);
      assert.match(await refused("grinding", { ...ground, date: "2026-12-01" }), /up to today/);
      assert.match(await refused("grinding", { ...ground, minutes: "1,5" }), /point.*write 1\.5/);
      assert.match(await refused("grinding", { ...ground, note: "=1+1" }), /formula/);
      assert.match(await refused("grinding", { ...ground, minuts: "5" }), /did you mean minutes/);
      assert.match(
        await refused("grinding", { ...ground, side_mm: "20" }),
        /side_mm.*header and an empty cell/,
      );
      assert.match(await refused("grinding", { abrasive: "F80" }), /position/);
      assert.match(
        await refused("sagitta", { ...leaves, nogo_cm: "0.13", nogo_mm: "" }),
        /nogo_cm/,
      );
    });

    await t.step(
      "the file's own style stays: mark, delimiter, decimal comma, line ends, a last line without its end",
      async () => {
        const name = "bench 05, süd", key = keyOf(room, name);
        const path = `${name}/grinding.csv`, before = await text(folder, path);
        const answer = await ask("POST", rowsAt(name, "grinding"), key, {
          id: "a1",
          rows: [{ ...ground, minutes: "7.25", note: 'dry; then wet, "good"' }],
        });
        assert.deepEqual([answer.status, await answer.json()], [201, { lines: [4] }]);
        assert.equal(
          await text(folder, path),
          `${before}\r\n2026-11-30;F80;mirror on top;7,25;;"dry; then wet, ""good"""\r\n`,
        );
        const undone = await ask("DELETE", `${rowsAt(name, "grinding")}/a1`, key);
        assert.equal(undone.status, 200);
        assert.equal(await text(folder, path), `${before}\r\n`);
        const depth = await ask("POST", rowsAt(name, "sagitta"), key, {
          id: "a2",
          rows: [{ go_mm: "0.10", nogo_mm: "0.15" }],
        });
        assert.deepEqual([depth.status, await depth.json()], [201, { lines: [2] }]);
        assert.equal(await text(folder, `${name}/sagitta.csv`), "go_mm,nogo_mm\n0.10,0.15\n");
        await Deno.writeTextFile(join(folder, name, "lamp.csv"), "\n\n");
        const blank = await ask("POST", rowsAt(name, "lamp"), key, {
          id: "a3",
          rows: [{ distance_mm: "2398" }],
        });
        assert.deepEqual(await blank.json(), { lines: [4] });
        await Deno.remove(join(folder, name, "lamp.csv"));
        assert.equal((await ask("DELETE", `${rowsAt(name, "sagitta")}/a2`, key)).status, 200);
        await assert.rejects(text(folder, `${name}/sagitta.csv`), Deno.errors.NotFound);
      },
    );

    await t.step("inches in the file, mm from the phone, and the other way round", async () => {
      await Deno.writeTextFile(join(folder, "bench-02/lamp.csv"), "distance_in\n94.5\n");
      const answer = await ask("POST", rowsAt("bench-02", "lamp"), leader, {
        id: "inch",
        rows: [{ distance_mm: "2413" }, { distance_in: "95" }],
      });
      assert.deepEqual([answer.status, await answer.json()], [201, { lines: [3, 4] }]);
      // DERIVED: 2413 mm / 25.4 mm = 95 in
      assert.equal(await text(folder, "bench-02/lamp.csv"), "distance_in\n94.5\n95\n95\n");
    });

    await t.step(
      "undo: byte for byte else, the id counts for ever, a row changed by hand is left and told",
      async () => {
        const at = rowsAt("bench-01", "sagitta"), path = "bench-01/sagitta.csv";
        const row = { date: "2026-11-30", after_min: "40", go_mm: "0.30", nogo_mm: "0.33" };
        const before = await text(folder, path);
        assert.equal((await ask("POST", at, one, { id: "u1", rows: [row] })).status, 201);
        assert.equal((await ask("POST", at, one, { id: "u2", rows: [row] })).status, 201);
        assert.equal((await ask("DELETE", `${at}/nobody`, one)).status, 404);
        assert.equal((await ask("DELETE", `${rowsAt("bench-01", "lamp")}/u1`, one)).status, 404);
        const undone = await ask("DELETE", `${at}/u1`, one);
        assert.deepEqual([undone.status, await undone.json()], [200, { lines: [4] }]);
        assert.equal((await ask("DELETE", `${at}/u1`, one)).status, 200);
        assert.equal(await text(folder, path), `${before}2026-11-30,40,0.30,0.33,\n`);
        const again = await ask("POST", at, one, { id: "u1", rows: [row] });
        assert.deepEqual([again.status, await again.json()], [200, { lines: [4] }]);
        assert.match(await text(folder, "bench-01/history.csv"), /,u1,bench,sagitta,4,undo,/);
        await Deno.writeTextFile(
          join(folder, path),
          (await text(folder, path)).replace("0.30,0.33,", "0.30,0.33,mended by hand"),
        );
        const kept = await ask("DELETE", `${at}/u2`, one);
        assert.equal(kept.status, 409);
        assert.match((await kept.json() as { error: string }).error, /by hand/);
        assert.match(await text(folder, path), /mended by hand/);
      },
    );

    await t.step("a file that no row can be put behind: 409, and nothing changes", async () => {
      const broken: Readonly<Record<string, string | Uint8Array>> = {
        "an open quotation mark": 'date,what,note\n2026-11-30,pits,"never closed\n',
        "no text": new Uint8Array([0xff, 0x00, 0xff, 0x80]),
        "a header that is none": "one,two\n1,2\n",
      };
      for (const [what, bytes] of Object.entries(broken)) {
        const path = join(folder, "bench-02/diary.csv");
        await (typeof bytes === "string"
          ? Deno.writeTextFile(path, bytes)
          : Deno.writeFile(path, bytes));
        const before = await Deno.readFile(path);
        const answer = await ask("POST", rowsAt("bench-02", "diary"), leader, {
          id: crypto.randomUUID(),
          rows: [{ date: "2026-11-30", what: "no pits" }],
        });
        assert.equal(answer.status, 409, what);
        assert.match((await answer.json() as { error: string }).error, /before the file is mended/);
        assert.deepEqual(await Deno.readFile(path), before);
        await Deno.remove(path);
      }
    });

    await t.step(
      "photographs: 201 with a path, once for an id; what is no picture 415, too large 413",
      async () => {
        const jpeg = new Uint8Array(3000), at = "/api/benches/bench-01/photos";
        jpeg.set([0xff, 0xd8, 0xff, 0xe0]);
        const type = { "content-type": "image/jpeg" };
        const post = (id: string | undefined, body: Uint8Array, kind: Record<string, string>) =>
          ask("POST", at, one, body, { ...kind, ...(id && { "idempotency-key": id }) });
        const first = await post("p1", jpeg, type);
        const { path } = await first.json() as { path: string };
        assert.equal(first.status, 201);
        assert.match(path, /^photos\/[\w-]+\.jpg$/);
        assert.deepEqual(await Deno.readFile(join(folder, "bench-01", path)), jpeg);
        const again = await post("p1", jpeg, type);
        assert.deepEqual([again.status, await again.json()], [200, { path }]);
        assert.equal((await post(undefined, jpeg, type)).status, 400);
        assert.equal((await post("p2", jpeg, { "content-type": "image/heic" })).status, 415);
        assert.equal((await post("p3", jpeg, { "content-type": "image/png" })).status, 415);
        assert.equal((await post("p4", new Uint8Array(100), type)).status, 415);
        const large = new Uint8Array(20_000_001);
        large.set(jpeg);
        assert.equal((await post("p5", large, type)).status, 413);
        assert.equal((await post("p6", large.subarray(0, 20_000_000), type)).status, 201);
        const all = [...Deno.readDirSync(join(folder, "bench-01", "photos"))];
        assert.deepEqual(all.map(({ name }) => /\.jpg$/.test(name)), [true, true]);
      },
    );

    await t.step(
      "the class: every folder with its state, rank and reason; a link is never followed",
      async () => {
        await Deno.symlink("/etc", join(folder, "bench-06"));
        await ask("GET", "/api/benches/bench-06/summary", leader).then((one) => one.body?.cancel());
        const told = await (await ask("GET", "/api/class", leader)).json() as {
          title: string;
          today: string;
          benches: Record<string, unknown>[];
        };
        assert.deepEqual([told.title, told.today], ["Kestrel Lane", "2026-11-30"]);
        const state = new Map(told.benches.map((one) => [one["folder"], one["state"]]));
        assert.deepEqual(Object.fromEntries(state), {
          ...{ "bench-01": "read", "bench-02": "read", "bench-03": "refused", "bench-04": "empty" },
          ...{ "bench 05, süd": "read", "bench-06": "unreadable" },
        });
        assert.deepEqual(told.benches.map((one) => one["rank"]), [1, 2, 3, 4, 5, 6]);
        for (const one of told.benches) assert.ok(String(one["reason"]).length > 3);
        const refused = told.benches.find((one) => one["folder"] === "bench-03");
        assert.match(String(refused?.["why"]), /^sagitta\.csv, line 2/);
        assert.ok(typeof refused?.["next_step"] === "string", "what the other files say is told");
        assert.equal((await ask("GET", "/api/benches/bench-03/summary", leader)).status, 422);
        const post = await ask("POST", rowsAt("bench-06", "lamp"), leader, {
          id: "l",
          rows: [{ distance_mm: "2398" }],
        });
        assert.equal(post.status, 409);
      },
    );

    await t.step(
      "a table with a slip in it takes rows all the same, and an empty folder begins one",
      async () => {
        const answer = await ask("POST", rowsAt("bench-03", "sagitta"), leader, {
          id: "b3",
          rows: [{ go_mm: "0.1", nogo_mm: "0.2" }],
        });
        assert.equal(answer.status, 201);
        const fresh = await ask("POST", rowsAt("bench-04", "grinding"), leader, {
          id: "b4",
          rows: [ground],
        });
        assert.equal(fresh.status, 201);
        assert.match(
          await text(folder, "bench-04/grinding.csv"),
          /^date,abrasive,position,minutes\n/,
        );
      },
    );

    await t.step(
      "an older copy saved over an entry: the leader is told, and may put it back, once",
      async () => {
        const at = rowsAt("bench-01", "lamp"), path = join(folder, "bench-01/lamp.csv");
        await Deno.writeTextFile(path, "distance_mm,note\n2398,\n");
        const row = { distance_mm: "2401", note: "sent" };
        assert.equal((await ask("POST", at, one, { id: "lost", rows: [row] })).status, 201);
        await Deno.writeTextFile(path, "distance_mm,note\n2398,mended in an editor\n");
        let gone: unknown;
        for (let tries = 0; tries < 60 && gone === undefined; tries++) {
          await new Promise((done) => setTimeout(done, 50));
          const told = await (await ask("GET", "/api/class", leader)).json() as {
            benches: { folder: string; gone?: { id: string; words: string }[] }[];
          };
          gone = told.benches.find((bench) => bench.folder === "bench-01")?.gone
            ?.find(({ id }) => id === "lost")?.words;
        }
        assert.equal(gone, "2401, sent");
        assert.equal((await ask("PUT", `${at}/lost`, one)).status, 403);
        const back = await ask("PUT", `${at}/lost`, leader);
        assert.deepEqual([back.status, await back.json()], [200, { lines: [3] }]);
        assert.equal((await ask("PUT", `${at}/lost`, leader)).status, 404);
        assert.equal(
          await Deno.readTextFile(path),
          "distance_mm,note\n2398,mended in an editor\n2401,sent\n",
        );
      },
    );

    await t.step("the summary is that of now, and what `check` writes", async () => {
      const answer = await ask("GET", "/api/benches/bench-01/summary", one);
      const summary = await answer.json() as { next_step: { do: string } };
      const out = join(folder, "..", `${crypto.randomUUID()}.json`);
      const { code, err } = await run("check", [
        ...[join(folder, "bench-01"), "--json", out, "--today", "2026-11-30"],
      ]);
      assert.equal(code, 0, err);
      assert.deepEqual(summary, JSON.parse(await Deno.readTextFile(out)));
      await Deno.remove(out);
    });

    await t.step("Parquet has a row for each folder", async () => {
      const answer = await ask("GET", "/api/class.parquet", leader);
      const bytes = await answer.bytes();
      const { default: pl } = await import("nodejs-polars");
      const path = join(folder, ".room", "class.parquet");
      await Deno.writeFile(path, bytes);
      const frame = pl.readParquet(path);
      assert.equal(frame.height, 6);
      assert.deepEqual(frame.getColumn("state").toArray(), [
        ...["read", "read", "read", "refused", "refused", "unreadable"],
      ]);
    });
  });
});

Deno.test("the same keys and port at the next start; ids outlive it; a second room on one class is refused", async () => {
  const folder = await Deno.realPath(await Deno.makeTempDir({ prefix: "first mirror " }));
  try {
    await writeClass(folder, benches(2));
    const file = `${folder}-keys.json`;
    const room = await openRoom(folder, "--port", "0", "--keys", file);
    const at = rowsAt("bench-01", "grinding"), body = { id: "keep", rows: [ground] };
    const first = await room.ask("POST", at, keyOf(room, "bench-01"), body);
    assert.deepEqual([first.status, await first.json()], [201, { lines: [3] }]);
    const second = await run("room", [folder, "--port", "0"]);
    assert.equal(second.code, 1);
    assert.match(second.err, /served already/);
    assertForPeople(second.err);
    await room.stop("SIGKILL");
    await Deno.writeTextFile(`${folder}-mine.txt`, "mine");
    const mine = await run("room", [folder, "--port", "0", "--keys", `${folder}-mine.txt`]);
    assert.deepEqual([mine.code, /left alone/.test(mine.err)], [1, true], mine.err);
    assert.equal(await Deno.readTextFile(`${folder}-mine.txt`), "mine");
    await Deno.remove(`${folder}-mine.txt`);
    const again = await openRoom(folder, "--keys", file);
    assert.deepEqual([again.keys, again.origin], [room.keys, room.origin]);
    const same = await again.ask("POST", at, keyOf(again, "bench-01"), body);
    assert.deepEqual([same.status, await same.json()], [200, { lines: [3] }]);
    await again.stop();
    await Deno.remove(file);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
});

Deno.test({
  name:
    "the server may touch the class's folder, its file of keys and its address; what reckons reaches neither network nor disk",
  ignore: Deno.build.os !== "linux",
  fn: () =>
    withRoom(benches(1), (room) => {
      const flagsOf = (pid: number): string[] =>
        Deno.readTextFileSync(`/proc/${pid}/cmdline`).split("\0")
          .filter((word) => word.startsWith("--allow-"));
      const [server = [], reckoner = []] = childrenOf(room.process.pid).map(flagsOf)
        .sort((a, b) =>
          a.some((flag) => flag.startsWith("--allow-net")) ? -1 : b.length - a.length
        );
      const kit = fileURLToPath(new URL("../../data", import.meta.url));
      const keys = join(room.folder, ".room", "keys.json");
      assert.deepEqual(server.map((flag) => flag.split("=")[0]), [
        ...["--allow-read", "--allow-write", "--allow-net", "--allow-env"],
      ]);
      assert.equal(server[0], `--allow-read=${[room.folder, kit, keys, `${keys}.part`].join(",")}`);
      assert.equal(server[1], `--allow-write=${[room.folder, keys, `${keys}.part`].join(",")}`);
      assert.match(server[2] ?? "", /^--allow-net=127\.0\.0\.1:\d+$/);
      assert.deepEqual(reckoner.map((flag) => flag.split("=")[0]), [
        ...["--allow-read", "--allow-ffi", "--allow-env"],
      ]);
      return Promise.resolve();
    }),
});

Deno.test("what a room cannot be opened on: a sentence, and status 1 or 2", async () => {
  const folder = await Deno.realPath(await Deno.makeTempDir({ prefix: "first mirror " }));
  try {
    await writeClass(folder, { "mirror.yaml": BENCH["mirror.yaml"] ?? "" });
    const calls: readonly (readonly [args: string[], code: number, says: RegExp])[] = [
      [[folder], 1, /one mirror’s record/],
      [[join(folder, "nowhere")], 1, /is no folder/],
      [[], 2, /wants the folder/],
      // INVENTED: a port that there is none of
      [[folder, "--port", "99999"], 2, /--port/],
      [[folder, "--host", "my room"], 2, /--host/],
      [[folder, "--today", "soon"], 2, /--today/],
    ];
    for (const [args, code, says] of calls) {
      const said = await run("room", args);
      assert.equal(said.code, code, said.err);
      assert.match(said.err, says);
      assertForPeople(said.err);
    }
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
});
