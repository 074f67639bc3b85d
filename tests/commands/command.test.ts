/** A long task ends when it is told to, and when the task that started it is gone. */
import assert from "node:assert/strict";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { isFault, NotDone, runScripts, UsageError } from "../../lib/commands/command.ts";
import { openClass } from "../../lib/knowledge/classOfRecords.ts";
import { openMirror } from "../../lib/knowledge/open.ts";
import { CannotTell } from "../../lib/numeric/cannotTell.ts";
import { MIRROR, withRecord } from "../record/bench.ts";
import { alive, until } from "./processes.ts";
import { assertForPeople, inFolder } from "./run.ts";

const module = new URL("../../lib/commands/stopped.ts", import.meta.url).href;

/** A task that waits a minute, started by a shell that waits for it. @returns both processes */
async function started(
  folder: string,
  env: Readonly<Record<string, string>>,
): Promise<{ shell: Deno.ChildProcess; task: number }> {
  const file = join(folder, "task.ts"), said = join(folder, "said");
  await Deno.writeTextFile(
    file,
    `import { whenStopped } from ${JSON.stringify(module)};
    const stopped = whenStopped("Stopped. All is as it was.");
    const minute = setTimeout(() => {}, 60_000);
    stopped.signal.addEventListener("abort", () => {
      clearTimeout(minute);
      Deno.writeTextFileSync(${JSON.stringify(join(folder, "why"))}, stopped.signal.reason.message);
      stopped[Symbol.dispose]();
    });
    Deno.writeTextFileSync(${JSON.stringify(said)}, String(Deno.pid));`,
  );
  const shell = new Deno.Command("sh", {
    args: ["-c", '"$0" run -A --no-config "$1" & wait', Deno.execPath(), file],
    clearEnv: true,
    env: { PATH: "/usr/bin:/bin", HOME: folder, ...env },
    stdout: "null",
    stderr: "null",
  }).spawn();
  await until(
    "the task",
    async () => await Deno.stat(said).then(({ size }) => size > 0, () => false),
  );
  return { shell, task: Number(await Deno.readTextFile(said)) };
}

const linux = { ignore: Deno.build.os !== "linux" };

Deno.test({
  name: "a task whose `deno task` was killed ends by itself",
  ...linux,
  fn: () =>
    inFolder(async (folder) => {
      const { shell, task } = await started(folder, { INIT_CWD: folder });
      shell.kill("SIGKILL");
      await shell.status;
      await until("the task to end", async () => (await alive([task])).length === 0);
    }),
});

Deno.test({
  name: "one that was started by something else goes on without it, until it is told to end",
  ...linux,
  fn: () =>
    inFolder(async (folder) => {
      const { shell, task } = await started(folder, {});
      shell.kill("SIGKILL");
      await shell.status;
      await new Promise((later) => setTimeout(later, 1500));
      assert.deepEqual(await alive([task]), [task]);
      Deno.kill(task, "SIGTERM");
      await until("the task to end", async () => (await alive([task])).length === 0);
    }),
});

for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) {
  Deno.test({
    name: `${signal} gives the sentence, and the task ends`,
    ...linux,
    fn: () =>
      inFolder(async (folder) => {
        const { shell, task } = await started(folder, {});
        Deno.kill(task, signal);
        await shell.status;
        await until("the task to end", async () => (await alive([task])).length === 0);
        assert.equal(await Deno.readTextFile(join(folder, "why")), "Stopped. All is as it was.");
      }),
  });
}

// A fault of the program: told as such, with status 70, never as the maker's; and sentences that are none.

const kit = fileURLToPath(new URL("../../", import.meta.url));

/** A fault put into one file of the kit, from outside: digits that `toFixed` cannot give. */
const FAULTY = `const sound = Number.prototype.toFixed;
Number.prototype.toFixed = function (digits) {
  const inSun = new Error().stack.includes("lib/measuring/methods/sunDistance.ts");
  return sound.call(this, inSun ? 101 : digits);
};
`;

const SUN = { "sun.csv": "date,distance_mm\n2026-04-18,1199\n" };

/** Runs `check` on a folder with the fault in the kit. */
async function checkFaulty(folder: string): Promise<{ code: number; out: string; err: string }> {
  return await inFolder(async (beside) => {
    const preload = join(beside, "faulty.ts");
    await Deno.writeTextFile(preload, `// @ts-nocheck\n${FAULTY}`);
    const { code, stdout, stderr } = await new Deno.Command(Deno.execPath(), {
      args: ["run", "-A", "--no-check", "--preload", preload, "lib/commands/check.ts", folder],
      cwd: kit,
      env: { NO_COLOR: "1" },
    }).output();
    const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);
    return { code, out: text(stdout), err: text(stderr) };
  });
}

Deno.test("a fault in a Sun row's reckoning stops with a report and status 70, and blames no reading", async () => {
  await withRecord(SUN, async (folder) => {
    const { code, out, err } = await checkFaulty(folder);
    assert.equal(code, 70);
    assert.equal(out, "");
    assert.match(err, /^This is a fault of the kit, not of your record or your readings\./);
    assert.match(err, /RangeError: toFixed\(\) digits argument/);
    assert.match(err, /lib\/measuring\/methods\/sunDistance\.ts/);
    assert.doesNotMatch(err, /not used|sun\.csv/);
    assert.ok(!err.includes(kit), "a reader's own paths are not in it");
  });
});

Deno.test("in a class the other mirrors are shown, the faulty one is not blamed, and the status is 70", async () => {
  await withRecord({}, async (outer) => {
    await Deno.remove(join(outer, "mirror.yaml"));
    for (const name of ["one", "two"]) {
      await Deno.mkdir(join(outer, name));
      await Deno.writeTextFile(join(outer, name, "mirror.yaml"), MIRROR);
    }
    await Deno.writeTextFile(join(outer, "two", "sun.csv"), SUN["sun.csv"]);
    const { code, out, err } = await checkFaulty(outer);
    assert.equal(code, 70);
    assert.match(out, /^one +\S/m);
    assert.match(out, /^ +two: the kit has a fault here; the record is not to blame$/m);
    assert.doesNotMatch(out, /toFixed/);
    assert.match(err, /RangeError: toFixed/);
  });
});

Deno.test("what the readings cannot tell is no RangeError, and a RangeError is never taken for it", async () => {
  assert.ok(!(new CannotTell("two zones or more") instanceof RangeError));
  const sound = Number.prototype.toFixed;
  await withRecord(SUN, async (folder) => {
    Number.prototype.toFixed = function (digits): string {
      const inSun = new Error().stack?.includes("lib/measuring/methods/sunDistance.ts");
      return sound.call(this, inSun ? 101 : digits);
    };
    try {
      await assert.rejects(openMirror(folder), RangeError);
    } finally {
      Number.prototype.toFixed = sound;
    }
  });
});

Deno.test("a sentence to a person is no fault", () => {
  assert.equal(isFault(new NotDone("name another file")), false);
  assert.equal(isFault(new CannotTell("one zone only")), false);
  assert.equal(isFault(new TypeError("x is undefined")), true);
  assert.equal(isFault("thrown text"), true);
});

Deno.test("a folder that may not be looked into does not hide the others; every folder is named", async () => {
  await withRecord({}, async (outer) => {
    await Deno.remove(join(outer, "mirror.yaml"));
    for (const name of ["closed", "one", "two"]) {
      await Deno.mkdir(join(outer, name));
      await Deno.writeTextFile(join(outer, name, "mirror.yaml"), MIRROR);
    }
    const { code, stdout, stderr } = await new Deno.Command(Deno.execPath(), {
      args: [
        "run",
        "-A",
        `--deny-read=${join(outer, "closed")}`,
        "--no-check",
        "--no-prompt",
        "lib/commands/check.ts",
        outer,
      ],
      cwd: kit,
      env: { NO_COLOR: "1" },
    }).output();
    const out = new TextDecoder().decode(stdout), err = new TextDecoder().decode(stderr);
    assert.equal(code, 0, err);
    assert.match(out, /: 2 mirrors$/m);
    assert.match(out, /^ +closed: .*a folder that may not be looked into/m);
    assert.match(out, /^No record: photos \(empty\)$/m);
    assertForPeople(out + err);
    const { others } = await openClass(outer);
    assert.deepEqual(others, [{ folder: "photos", what: "empty" }]);
  });
});

// Benches and trials: all of a folder run, one after the other, whatever becomes of the first.

const tests = fileURLToPath(new URL("../", import.meta.url));
/** Adds its name and a word of the environment to a file, and ends so. */
const script = (name: string, log: string, status: number): string =>
  `Deno.writeTextFileSync(${
    JSON.stringify(log)
  }, "${name} " + Deno.env.get("A_WORD") + "\\n", { append: true });
Deno.exit(${status});
`;

Deno.test("every script whose name begins so is run in order, and one that does not hold is not the last", async () => {
  await inFolder(async (folder) => {
    const log = join(folder, "log");
    for (const [name, status] of [["b", 0], ["ab", 3], ["abc", 0]] as const) {
      await Deno.writeTextFile(join(folder, `${name}.trial.ts`), script(name, log, status));
    }
    await Deno.writeTextFile(join(folder, "a.bench.ts"), script("bench", log, 0));
    const took = async (
      wanted?: string,
      long: readonly string[] = [],
    ): Promise<readonly [number, string]> => {
      await Deno.writeTextFile(log, "");
      const place = relative(tests, folder), env = { A_WORD: "yes" };
      const status = await runScripts(place, "trial", wanted, env, long);
      return [status, await Deno.readTextFile(log)];
    };
    assert.deepEqual(await took(), [1, "ab yes\nabc yes\nb yes\n"]);
    assert.deepEqual(await took("a"), [1, "ab yes\nabc yes\n"]);
    assert.deepEqual(await took("ab"), [1, "ab yes\n"], "one that is named so is that one alone");
    assert.deepEqual(await took("abc"), [0, "abc yes\n"]);
    assert.deepEqual(await took("", ["b"]), [1, "ab yes\nabc yes\n"], "a long one is left out");
    assert.deepEqual(await took("b", ["b"]), [0, "b yes\n"], "but where it is named");
    await assert.rejects(took("c"), UsageError);
  });
});

Deno.test("where there is no such folder, no script has such a name", async () => {
  await assert.rejects(runScripts("no-such-folder", "trial"), UsageError);
});
