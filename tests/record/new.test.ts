/** `deno task new`, run as a maker runs it. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { targetOf, whyNot } from "../../lib/commands/new.ts";
import { readRecord } from "../../lib/record/readRecord.ts";

const root = fileURLToPath(new URL("../..", import.meta.url));

async function run(...args: string[]): Promise<{ code: number; out: string; err: string }> {
  const command = new Deno.Command(Deno.execPath(), {
    args: ["task", "--quiet", "new", ...args],
    cwd: root,
    env: { NO_COLOR: "1" },
  });
  const { code, stdout, stderr } = await command.output();
  const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);
  return { code, out: text(stdout), err: text(stderr) };
}

async function inTemp(use: (folder: string) => Promise<void>): Promise<void> {
  const folder = await Deno.makeTempDir();
  try {
    await use(folder);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

Deno.test("a fresh record reads without refusal and bears its folder's name", async () => {
  await inTemp(async (folder) => {
    const target = join(folder, "shelf", "red group's 2nd mirror");
    const { code, out } = await run(target);
    assert.equal(code, 0);
    assert.match(out, /^Begun: .*red group's 2nd mirror\n/);
    const record = await readRecord(target);
    assert.equal(record.settings.title, "red group's 2nd mirror");
    assert.deepEqual(record.warnings, []);
    const names = [...Deno.readDirSync(target)].map(({ name }) => name).sort();
    assert.deepEqual(names, [
      "diary.csv",
      "grinding.csv",
      "knife.csv",
      "lamp.csv",
      "mirror.yaml",
      "observations.csv",
      "photos",
      "ronchi.csv",
      "sagitta.csv",
      "spherometer.csv",
      "star.csv",
      "sun.csv",
      "zones.csv",
    ]);
  });
});

Deno.test("a name without a slash goes into data/records, any other is a path", () => {
  assert.equal(targetOf("two words"), join(root, "data", "records", "two words"));
  assert.equal(targetOf("./mine"), join(Deno.cwd(), "mine"));
  assert.equal(targetOf("/tmp/mine"), "/tmp/mine");
});

Deno.test("what is there already is never touched", async () => {
  await inTemp(async (folder) => {
    const target = join(folder, "mine");
    await Deno.mkdir(target);
    await Deno.writeTextFile(join(target, "mirror.yaml"), "precious");
    const { code, out, err } = await run(target);
    assert.equal(code, 1);
    assert.equal(out, "");
    assert.equal(err, `${target} is there already and was not touched: choose another name.\n`);
    assert.equal(await Deno.readTextFile(join(target, "mirror.yaml")), "precious");
    assert.equal([...Deno.readDirSync(target)].length, 1);
  });
});

Deno.test("a file, an empty folder or a dead link in the way are not touched either", async () => {
  await inTemp(async (folder) => {
    await Deno.writeTextFile(join(folder, "file"), "x");
    await Deno.mkdir(join(folder, "empty"));
    await Deno.symlink("/no/such/place", join(folder, "link"));
    for (const name of ["file", "empty", "link"]) {
      assert.equal((await run(join(folder, name))).code, 1, name);
    }
    assert.equal(await Deno.readTextFile(join(folder, "file")), "x");
    assert.equal([...Deno.readDirSync(join(folder, "empty"))].length, 0);
  });
});

Deno.test("help in plain words, and a mistyped command", async () => {
  const help = await run("--help");
  assert.equal(help.code, 0);
  assert.match(help.out, /^deno task new NAME\n/);
  for (const args of [[], ["one", "two"], ["--nmae", "x"]]) {
    const { code, out, err } = await run(...args);
    assert.equal(code, 2, args.join(" "));
    assert.equal(out, "");
    assert.match(err, /Try: deno task new --help\n$/);
    assert.doesNotMatch(err, /\n {4}at /);
  }
});

Deno.test("names that are none", async () => {
  for (const name of ["", " ", ".", "..", "x".repeat(101), "a\nb"]) {
    assert.equal(whyNot(name)?.split("\n").length, 1, JSON.stringify(name));
  }
  for (const name of ["a", "two words", "../mirrors/mine", "ऊँचाई", "x".repeat(100)]) {
    assert.equal(whyNot(name), undefined, name);
  }
  assert.deepEqual(await run(".."), {
    code: 1,
    out: "",
    err: '".." is not a name for a new record.\n',
  });
});

Deno.test("a place that cannot be written", async () => {
  const { code, err } = await run("/proc/nowhere/mine");
  assert.equal(code, 1);
  assert.match(err, /^\/proc\/nowhere\/mine may not be written: choose a folder of your own\.\n$/);
});
