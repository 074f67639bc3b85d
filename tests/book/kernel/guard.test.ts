/** No kernel outlives the process that started it, however that process ends. */
import assert from "node:assert/strict";
import { setTimeout as sleep } from "node:timers/promises";
import { inFolder } from "../notebooks.ts";

const unix = Deno.build.os !== "windows";
const kernelModule = new URL("../../../lib/book/kernel/kernel.ts", import.meta.url).href;

/** A program that starts a kernel, sends it into a loop without end, and says the kernel's number. */
const program = (ending: string): string => `
import { Kernel } from ${JSON.stringify(kernelModule)};
const kernel = await Kernel.start({ cwd: Deno.cwd() });
kernel.run({ code: "while (true) {}", cell: 1, imports: [] }, 600_000);
setTimeout(() => { console.log(kernel.pid); ${ending} }, 300);
`;

/** Whether a process is there and not just a name left in the table. */
async function isAlive(pid: number): Promise<boolean> {
  const ps = new Deno.Command("ps", { args: ["-o", "stat=", "-p", String(pid)], stdout: "piped" });
  const state = new TextDecoder().decode((await ps.output()).stdout).trim();
  return state !== "" && !state.startsWith("Z");
}

async function isGoneWithin(pid: number, ms: number): Promise<boolean> {
  for (const end = Date.now() + ms; Date.now() < end; await sleep(50)) {
    if (!await isAlive(pid)) return true;
  }
  return false;
}

async function leftOver(folder: string): Promise<string[]> {
  const found: string[] = [];
  for await (const { name } of Deno.readDir(folder)) found.push(name);
  return found;
}

/** Starts the program as the leader of a group of processes, as a shell does, and gives its and its kernel's number. */
async function start(
  folder: string,
  ending = "",
): Promise<{ child: Deno.ChildProcess; kernel: number }> {
  const file = `${folder}/program.ts`;
  await Deno.writeTextFile(file, program(ending));
  const tmp = `${folder}/tmp`;
  await Deno.mkdir(tmp);
  const child = new Deno.Command("setsid", {
    args: [Deno.execPath(), "run", "-A", "--no-lock", "--no-config", file],
    env: { TMPDIR: tmp, NO_COLOR: "1" },
    stdin: "null",
    stdout: "piped",
    stderr: "null",
  }).spawn();
  const reader = child.stdout.getReader();
  const { value } = await reader.read();
  const kernel = Number(new TextDecoder().decode(value).trim());
  await reader.cancel();
  assert.ok(kernel > 0, "the program said its kernel's number");
  return { child, kernel };
}

const ends: readonly (readonly [
  how: string,
  end: (child: Deno.ChildProcess) => Promise<void>,
  ending?: string,
])[] = [
  ["it is killed", (child) => Promise.resolve(child.kill("SIGKILL"))],
  ["it is interrupted alone", (child) => Promise.resolve(child.kill("SIGINT"))],
  ["Ctrl-C reaches the whole group", async (child) => {
    await new Deno.Command("kill", { args: ["-INT", "--", `-${child.pid}`] }).output();
  }],
  ["it crashes", () => Promise.resolve(), 'throw new Error("crash");'],
];

for (const [how, end, ending] of ends) {
  Deno.test({
    name: `no kernel is left in its loop, and no file, when ${how}`,
    ignore: !unix,
    fn: () =>
      inFolder(async (folder) => {
        const { child, kernel } = await start(folder, ending);
        if (ending === undefined) assert.ok(await isAlive(kernel), "the kernel was running");
        await end(child);
        await child.status;
        assert.ok(await isGoneWithin(kernel, 5000), `kernel ${kernel} is gone`);
        for (let i = 0; i < 40 && (await leftOver(`${folder}/tmp`)).length > 0; i++) {
          await sleep(50);
        }
        assert.deepEqual(await leftOver(`${folder}/tmp`), []);
      }),
  });
}
