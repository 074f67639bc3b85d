/** A pack for this system, started in a network of its own that has nothing but its own loopback: all works, nothing is fetched. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { unzipSync } from "fflate";
import { command, inFolder, saidBy } from "./run.ts";

/** Whether a network of one's own can be had: Linux, by util-linux' unshare and iproute2's ip. */
const hasNamespace = Deno.build.os === "linux" &&
  await new Deno.Command("unshare", { args: ["-rn", "ip", "link", "set", "lo", "up"] }).output()
    .then(({ success }) => success, () => false);

const pack = (...args: readonly string[]): Promise<{ code: number; out: string; err: string }> =>
  saidBy(command("pack", args).spawn());

/** What a shell says in a network without any way out, with nothing of this machine's own settings. */
async function cutOff(home: string, script: string): Promise<{ code: number; text: string }> {
  const { code, stdout, stderr } = await new Deno.Command("unshare", {
    args: ["-rn", "sh", "-c", `ip link set lo up\n${script}`],
    clearEnv: true,
    env: { HOME: home, PATH: "/usr/sbin:/usr/bin:/sbin:/bin", NO_COLOR: "1" },
    stdin: "null",
  }).output();
  return { code, text: new TextDecoder().decode(stdout) + new TextDecoder().decode(stderr) };
}

Deno.test({
  name:
    "a pack checks a record, runs a cell in a kernel, builds a book and opens a room without any network",
  ignore: !hasNamespace,
  fn: () =>
    inFolder(async (folder) => {
      const { code, out, err } = await pack("--for", "linux", "--out", folder);
      assert.equal(code, 0, err);
      assert.match(out, /first-mirror-linux: \d{3} MB, \d+ files/);
      const stick = join(folder, "first-mirror-linux"), start = join(stick, "start.sh");
      assert.match(
        (await cutOff(folder, "getent hosts example.org || echo nowhere")).text,
        /nowhere/,
      );

      const checked = await cutOff(folder, `sh '${start}' check demo-150-f8`);
      assert.equal(checked.code, 0, checked.text);
      assert.match(checked.text, /Next step: coating/);
      // its kernel starts, and a cell in it answers
      const doctor = await cutOff(folder, `sh '${start}' doctor`);
      assert.equal(doctor.code, 0, doctor.text);
      assert.match(doctor.text, /ok +kernel +starts and answers/);
      const book = await cutOff(folder, `sh '${start}' book halfway-200-f6`);
      assert.equal(book.code, 0, book.text);
      assert.ok((await Deno.stat(join(stick, "kit/book/halfway-200-f6/index.html"))).isFile);
      const room = await cutOff(
        folder,
        `sh '${start}' room class-kestrel-lane > '${folder}/room.txt' 2>&1 & pid=$!
for k in $(seq 100); do grep -q "leader’s page" '${folder}/room.txt' && break; sleep 0.3; done
cat '${folder}/room.txt'; kill $pid; wait $pid`,
      );
      assert.match(room.text, /The leader’s page: http:\/\/127\.0\.0\.1:\d+\/enter#/);
      for (const { text } of [checked, doctor, book, room]) assert.doesNotMatch(text, /Download/);

      const again = await pack("--for", "linux", "--out", folder);
      assert.deepEqual([again.code, /is there already; take it away/.test(again.err)], [1, true]);
    }),
});

Deno.test("a pack for a tablet is the book alone in a zip under 20 MB, and opens at its first page", () =>
  inFolder(async (folder) => {
    const { code, err } = await pack("--for", "tablet", "--out", folder);
    assert.equal(code, 0, err);
    const bytes = await Deno.readFile(join(folder, "first-mirror-book-demo-150-f8.zip"));
    assert.ok(bytes.length < 20e6, `${bytes.length}`);
    const files = unzipSync(bytes), top = "first-mirror-book-demo-150-f8";
    for (const name of ["index.html", "library.js", "record.js"]) {
      assert.ok((files[`${top}/${name}`]?.length ?? 0) > 1000, name);
    }
  }));

Deno.test("pack names what it cannot do", async () => {
  const { code, err } = await pack("--for", "amiga");
  assert.deepEqual([code, err.split("\n")[0]], [
    2,
    '--for takes linux, macos, windows, all or tablet, not "amiga".',
  ]);
});
