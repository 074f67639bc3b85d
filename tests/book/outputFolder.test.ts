import assert from "node:assert/strict";
import { basename, join } from "node:path";
import {
  checkPlace,
  isAlive,
  OutputRefused,
  putWhole,
  tempFolder,
} from "../../lib/book/outputFolder.ts";
import { inFolder } from "./notebooks.ts";
import { stemOf } from "../stems.ts";

async function withFolder(act: (folder: string) => Promise<void>): Promise<void> {
  const folder = await Deno.makeTempDir({ prefix: "first-mirror-shelf-" });
  try {
    await act(folder);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

const fill = (text: string) => async (folder: string): Promise<void> => {
  await Deno.writeTextFile(join(folder, "index.html"), text);
  await Deno.writeTextFile(join(folder, "summary.json"), "{}");
  await Deno.mkdir(join(folder, "notebooks"));
};
const names = async (folder: string): Promise<string[]> =>
  (await Array.fromAsync(Deno.readDir(folder))).map(({ name }) => name).sort();

Deno.test("a book is put where nothing stood, and where the last one stood, with nothing left beside it", () =>
  withFolder(async (folder) => {
    const out = join(folder, "demo");
    await putWhole(out, fill("first"));
    await Deno.writeTextFile(join(out, `${stemOf("smooth-surface")}.html`), "of the first only");
    await putWhole(out, fill("second"));
    assert.equal(await Deno.readTextFile(join(out, "index.html")), "second");
    assert.deepEqual(await names(out), ["index.html", "notebooks", "summary.json"]);
    assert.deepEqual(await names(folder), ["demo"]);
  }));

Deno.test("where filling fails the last book stays, and no half of a new one", () =>
  withFolder(async (folder) => {
    const out = join(folder, "demo");
    await putWhole(out, fill("good"));
    const failing = putWhole(out, async (part) => {
      await fill("half")(part);
      assert.equal(await Deno.readTextFile(join(out, "index.html")), "good", "readable meanwhile");
      throw new Error("the kernel died");
    });
    await assert.rejects(failing, /^Error: the kernel died/);
    assert.equal(await Deno.readTextFile(join(out, "index.html")), "good");
    assert.deepEqual(await names(folder), ["demo"]);
  }));

Deno.test("a folder that holds anything else is left alone, and what it holds is named", () =>
  withFolder(async (folder) => {
    const out = join(folder, "photos");
    await Deno.mkdir(out);
    await Deno.writeTextFile(join(out, "wedding.jpg"), "");
    await assert.rejects(putWhole(out, fill("book")), (error: Error) => {
      assert.ok(error instanceof OutputRefused);
      assert.match(error.message, /photos holds wedding\.jpg, which is no part of a book/);
      return true;
    });
    assert.deepEqual(await names(out), ["wedding.jpg"]);
    await Deno.writeTextFile(join(folder, "file"), "");
    await assert.rejects(checkPlace(join(folder, "file")), /is not a folder/);
  }));

Deno.test("an empty folder may be filled, one with a system's own files too", () =>
  withFolder(async (folder) => {
    const out = join(folder, "demo");
    await Deno.mkdir(out);
    await Deno.writeTextFile(join(out, ".DS_Store"), "");
    await putWhole(out, fill("book"));
    assert.deepEqual(await names(out), ["index.html", "notebooks", "summary.json"]);
  }));

Deno.test("what a killed build left is cleared away, and a book it had moved aside comes back", () =>
  withFolder(async (folder) => {
    const out = join(folder, "demo");
    await putWhole(out, fill("last good"));
    await Deno.rename(out, join(folder, ".demo.1234.old"));
    await Deno.mkdir(join(folder, ".demo.5678.part"));
    await Deno.mkdir(join(folder, ".other.5678.part"));
    await assert.rejects(putWhole(out, () => Promise.reject(new Error("again"))), /again/);
    assert.equal(await Deno.readTextFile(join(out, "index.html")), "last good");
    assert.deepEqual(await names(folder), [".other.5678.part", "demo"]);
  }));

const module = new URL("../../lib/book/outputFolder.ts", import.meta.url).href;

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
