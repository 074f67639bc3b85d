/** A long task ends when it is told to, and when the task that started it is gone. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { alive, until } from "./processes.ts";
import { inFolder } from "./run.ts";

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
