/** Benches and trials: all of a folder run, one after the other, whatever becomes of the first. */
import assert from "node:assert/strict";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { Mistyped } from "../../lib/commands/command.ts";
import { runScripts } from "../../lib/commands/scripts.ts";
import { inFolder } from "./run.ts";

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
    for (const [name, status] of [["b", 0], ["a", 3], ["ac", 0]] as const) {
      await Deno.writeTextFile(join(folder, `${name}.trial.ts`), script(name, log, status));
    }
    await Deno.writeTextFile(join(folder, "a.bench.ts"), script("bench", log, 0));
    const took = async (prefix?: string): Promise<readonly [number, string]> => {
      await Deno.writeTextFile(log, "");
      const status = await runScripts(relative(tests, folder), "trial", prefix, { A_WORD: "yes" });
      return [status, await Deno.readTextFile(log)];
    };
    assert.deepEqual(await took(), [1, "a yes\nac yes\nb yes\n"]);
    assert.deepEqual(await took("a"), [1, "a yes\nac yes\n"]);
    assert.deepEqual(await took("ac"), [0, "ac yes\n"]);
    await assert.rejects(took("c"), Mistyped);
  });
});

Deno.test("where there is no such folder, no script has such a name", async () => {
  await assert.rejects(runScripts("no-such-folder", "trial"), Mistyped);
});
