/** What a crash leaves between journal and table is put right: neither lost nor doubled. Readings are INVENTED. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { BenchFolder } from "../../lib/room/benchFolder.ts";
import { BENCH, writeClass } from "./roomServer.ts";

const today = "2026-11-30";
const row = { date: today, abrasive: "F80", position: "mirror on top", minutes: "10", note: "é" };
const line = `${today},F80,mirror on top,10,,é\n`;

async function withBench(act: (folder: string) => Promise<void>): Promise<void> {
  const folder = await Deno.makeTempDir({ prefix: "first mirror bench " });
  try {
    await writeClass(folder, BENCH);
    await act(folder);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

const read = (folder: string, name: string): Promise<string> =>
  Deno.readTextFile(join(folder, name));

Deno.test("a table cut anywhere within its last entry is completed after a crash, to the byte", () =>
  withBench(async (folder) => {
    const path = join(folder, "grinding.csv"), before = await Deno.readFile(path);
    const added = await new BenchFolder(folder).addRows(
      "grinding",
      "a",
      "bench",
      [row, row],
      today,
    );
    assert.deepEqual(added, { status: 201, lines: [3, 4] });
    const whole = await Deno.readFile(path);
    for (let length = before.length; length <= whole.length; length++) {
      await Deno.writeFile(path, whole.subarray(0, length));
      await new BenchFolder(folder).recover(true);
      assert.deepEqual(await Deno.readFile(path), whole, `cut at ${length} of ${whole.length}`);
    }
    const again = await new BenchFolder(folder).addRows("grinding", "a", "bench", [row], today);
    assert.deepEqual(again, { status: 200, lines: [3, 4] });
  }));

Deno.test("so is a table that the entry began, one without a last line end, and one in UTF-16", async () => {
  const texts: Readonly<Record<string, Uint8Array | undefined>> = {
    "none yet": undefined,
    "no last line end": new TextEncoder().encode("distance_mm\n2398"),
    "UTF-16": new Uint8Array([
      0xff,
      0xfe,
      ...[..."distance_mm\r\n2398\r\n"].flatMap((sign) => [sign.charCodeAt(0), 0]),
    ]),
  };
  for (const [what, bytes] of Object.entries(texts)) {
    await withBench(async (folder) => {
      const path = join(folder, "lamp.csv");
      if (bytes !== undefined) await Deno.writeFile(path, bytes);
      const bench = new BenchFolder(folder);
      const { status } = await bench.addRows(
        "lamp",
        "l",
        "bench",
        [{ distance_mm: "2400" }],
        today,
      );
      assert.equal(status, 201, what);
      const whole = await Deno.readFile(path);
      for (let length = bytes?.length ?? 0; length <= whole.length; length++) {
        await Deno.writeFile(path, whole.subarray(0, length));
        await new BenchFolder(folder).recover(true);
        assert.deepEqual(await Deno.readFile(path), whole, `${what}, cut at ${length}`);
      }
    });
  }
});

Deno.test("after a closed room a row that is gone was taken out by hand: it stays away, and its id is free", () =>
  withBench(async (folder) => {
    const before = await read(folder, "grinding.csv");
    await new BenchFolder(folder).addRows("grinding", "a", "bench", [row], today);
    await Deno.writeTextFile(join(folder, "grinding.csv"), before);
    await new BenchFolder(folder).recover(false);
    assert.equal(await read(folder, "grinding.csv"), before);
    const again = await new BenchFolder(folder).addRows("grinding", "a", "bench", [row], today);
    assert.deepEqual(again, { status: 201, lines: [3] });
  }));

Deno.test("rows that a hand has written behind the last entry, or mended it, are left as they are", () =>
  withBench(async (folder) => {
    await new BenchFolder(folder).addRows("grinding", "a", "bench", [row], today);
    const whole = await read(folder, "grinding.csv");
    for (const text of [whole + line, whole.replace("é", "mended"), `${whole}# a remark\n`]) {
      await Deno.writeTextFile(join(folder, "grinding.csv"), text);
      await new BenchFolder(folder).recover(true);
      assert.equal(await read(folder, "grinding.csv"), text);
    }
  }));

Deno.test("a torn line of the journal is struck: nothing of it was done, and its id counts for nothing", () =>
  withBench(async (folder) => {
    await new BenchFolder(folder).addRows("grinding", "a", "bench", [row], today);
    const table = await read(folder, "grinding.csv"), journal = await read(folder, "history.csv");
    await Deno.writeTextFile(
      join(folder, "history.csv"),
      `${journal}2026-11-30T10:00:00Z,b,bench,gr`,
    );
    const bench = new BenchFolder(folder);
    await bench.recover(true);
    assert.equal(await read(folder, "history.csv"), journal);
    assert.equal(await read(folder, "grinding.csv"), table);
    assert.equal((await bench.addRows("grinding", "b", "bench", [row], today)).status, 201);
    assert.equal(await read(folder, "grinding.csv"), table + line);
  }));

Deno.test("an entry that was being taken back is taken back after a crash; a picture comes into its place or is struck", () =>
  withBench(async (folder) => {
    const before = await read(folder, "grinding.csv"), bench = new BenchFolder(folder);
    await bench.addRows("grinding", "a", "bench", [row], today);
    const whole = await read(folder, "grinding.csv");
    assert.equal((await bench.undo("grinding", "a", "bench")).status, 200);
    await Deno.writeTextFile(join(folder, "grinding.csv"), whole);
    await new BenchFolder(folder).recover(true);
    assert.equal(await read(folder, "grinding.csv"), before);

    const jpeg = new Uint8Array([0xff, 0xd8, 0xff, 0xe0, 1, 2, 3]);
    const kept = await bench.addPhoto("p", "bench", jpeg, "image/jpeg");
    const path = join(folder, "path" in kept ? kept.path : "");
    await Deno.rename(path, join(folder, ".room-photo-b618-p.part"));
    const name = [...Deno.readDirSync(folder)].map((one) => one.name)
      .find((one) => one.startsWith(".room-photo"));
    assert.ok(name !== undefined);
    await new BenchFolder(folder).recover(true);
    const again = await new BenchFolder(folder).addPhoto("p", "bench", jpeg, "image/jpeg");
    // either it was found and is there, or it was struck and came anew: in both cases one file
    assert.ok(again.status === 200 || again.status === 201);
    assert.equal([...Deno.readDirSync(join(folder, "photos"))].length, 1);
    assert.deepEqual([...Deno.readDirSync(folder)].filter(({ name }) => name.startsWith(".")), []);
  }));

Deno.test("two at once, of one id and of two: each once, in some order", () =>
  withBench(async (folder) => {
    const bench = new BenchFolder(folder);
    const all = await Promise.all(
      ["a", "a", "b", "c", "b"].map((id) => bench.addRows("grinding", id, "bench", [row], today)),
    );
    assert.deepEqual(all.map(({ status }) => status).sort(), [200, 200, 201, 201, 201]);
    assert.equal((await read(folder, "grinding.csv")).split("\n").length, 6);
  }));

Deno.test({
  name:
    "a disk that is full, a folder that may not be written: a sentence, nothing lost, and it goes on afterwards",
  ignore: Deno.build.os !== "linux" || Deno.uid() !== 0,
  fn: () =>
    withBench(async (folder) => {
      const small = join(folder, "small"), disk = join(folder, "disk");
      await Deno.mkdir(small);
      const mount = (...args: string[]): boolean =>
        new Deno.Command("mount", { args, stdout: "null", stderr: "null" }).outputSync().success;
      if (!mount("-t", "tmpfs", "-o", "size=64k", "tmpfs", small)) return;
      try {
        await writeClass(small, BENCH);
        const bench = new BenchFolder(small), filler = join(small, "filler");
        await bench.addRows("grinding", "first", "bench", [row], today);
        const before = await read(small, "grinding.csv");
        const full = await Deno.open(filler, { create: true, write: true });
        try {
          for (;;) full.writeSync(new Uint8Array(512));
        } catch { /* full */ }
        full.close();
        const outcomes = [];
        for (let n = 0; n < 40; n++) {
          outcomes.push(await bench.addRows("grinding", `n${n}`, "bench", [row, row, row], today));
        }
        const refused = outcomes.filter(({ status }) => status === 507);
        assert.ok(refused.length > 0, JSON.stringify(outcomes.map(({ status }) => status)));
        for (const one of refused) assert.match("error" in one ? one.error : "", /disk is full/);
        const taken = outcomes.filter(({ status }) => status === 201).length;
        assert.equal(await read(small, "grinding.csv"), before + line.repeat(3 * taken));
        await Deno.remove(filler);
        const last = `n${outcomes.findIndex(({ status }) => status === 507)}`;
        assert.equal((await bench.addRows("grinding", last, "bench", [row], today)).status, 201);
        assert.equal(await read(small, "grinding.csv"), before + line.repeat(3 * taken + 1));
        mount("-o", "remount,ro", small);
        const closed = await bench.addRows("grinding", "ro", "bench", [row], today);
        assert.equal(closed.status, 503);
        assert.match("error" in closed ? closed.error : "", /cannot be written/);
        mount("-o", "remount,rw", small);
        assert.equal((await bench.addRows("grinding", "ro", "bench", [row], today)).status, 201);
      } finally {
        new Deno.Command("umount", { args: [small] }).outputSync();
      }
      assert.equal(await Deno.stat(disk).then(() => true, () => false), false);
    }),
});
