import assert from "node:assert/strict";
import { basename, join } from "node:path";
import { isAlive, tempFolder } from "../../lib/book/tempFolder.ts";
import { inFolder } from "./notebooks.ts";

const module = new URL("../../lib/book/tempFolder.ts", import.meta.url).href;

/** Another process that makes a folder and ends without taking it away. */
async function leftBy(place: string): Promise<string> {
  const code = `const { tempFolder } = await import(${JSON.stringify(module)});
    console.log(await tempFolder("kernel", ${JSON.stringify(place)}));`;
  const { stdout } = await new Deno.Command(Deno.execPath(), { args: ["eval", code] }).output();
  return new TextDecoder().decode(stdout).trim();
}

Deno.test("what a dead process left is cleared away by the next; what lives, or is another's, stays", () =>
  inFolder(async (folder) => {
    const left = await leftBy(folder);
    assert.ok((await Deno.stat(left)).isDirectory, "left behind");
    await Deno.writeTextFile(join(left, "line"), "7");
    const living = join(folder, `.learner-${Deno.ppid}-abc`), mine = join(folder, ".notes-2026-x");
    for (const one of [living, mine]) await Deno.mkdir(one);
    const made = await tempFolder("kernel", folder);
    assert.match(basename(made), new RegExp(`^\\.kernel-${Deno.pid}-`));
    const names = (await Array.fromAsync(Deno.readDir(folder))).map(({ name }) => name).sort();
    assert.deepEqual(names, [basename(made), basename(living), basename(mine)].sort());
  }));

Deno.test("a process that has ended is not alive, this one is", async () => {
  const child = new Deno.Command(Deno.execPath(), { args: ["eval", ""] }).spawn();
  await child.status;
  assert.equal(isAlive(child.pid), false);
  assert.equal(isAlive(Deno.pid), true);
});
