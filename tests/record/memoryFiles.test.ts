/** Files in memory: as a disk without links; records read from them come to the same, byte for byte. */
import assert from "node:assert/strict";
import { join, relative } from "node:path";
import { classBeside } from "../../lib/knowledge/classBeside.ts";
import { openClass } from "../../lib/knowledge/classOfRecords.ts";
import { openMirror, openRecord, recordsFolder } from "../../lib/knowledge/open.ts";
import { summaryText } from "../../lib/knowledge/summaryFile.ts";
import { tellClass } from "../../lib/knowledge/tellClass.ts";
import { describe, RecordRefused } from "../../lib/record/errors.ts";
import { kitFolder, useFiles } from "../../lib/record/fileSystem.ts";
import { type MemoryFile, memoryFiles } from "../../lib/record/memoryFiles.ts";

/** Every file below a folder, by its path: texts as text, pictures as a browser holds them. */
async function inMemory(
  folder: string,
  found = new Map<string, MemoryFile>(),
): Promise<Map<string, MemoryFile>> {
  for await (const { name, isDirectory } of Deno.readDir(folder)) {
    const path = join(folder, name);
    if (isDirectory) await inMemory(path, found);
    else if (!name.endsWith(".png")) found.set(path, await Deno.readTextFile(path));
    else found.set(path, new Blob([await Deno.readFile(path)], { type: "image/png" }));
  }
  return found;
}

/** INVENTED: a record with a fault in each of its files. */
const FAULTY = new Map<string, MemoryFile>([
  ["/bench/faulty/mirror.yaml", "aperture: 150 mm\nfocal_length: 12 m\nbevle: 1 mm\n"],
  ["/bench/faulty/sagitta.csv", "after_min,go_mm,no_go_mm\n10,0.3,zero\n"],
  ["/bench/faulty/ronchi.csv", "photo,offset_mm\nphotos/none.jpg,8\n../../x.jpg,-8\n"],
  ["/bench/faulty/sagita.csv", "after_min,go_mm,no_go_mm\n"],
]);

async function refusalsOf(folder: string): Promise<readonly string[]> {
  try {
    await openMirror(folder);
  } catch (error) {
    if (error instanceof RecordRefused) return error.refusals.map(describe);
    throw error;
  }
  return [];
}

Deno.test("demo, half-way and class come to the same from memory as from disk", async () => {
  const contents = await inMemory(join(kitFolder, "data/tables"));
  await inMemory(recordsFolder, contents);
  const told = async (): Promise<readonly string[]> => {
    const { yours, demo } = await openRecord("halfway-200-f6");
    const { many, isDemo } = await classBeside(yours);
    assert.deepEqual([yours.isDemo, demo.isDemo, isDemo], [false, true, true]);
    return [
      summaryText(demo.summary),
      summaryText(yours.summary),
      ...tellClass(many),
      JSON.stringify(many),
      JSON.stringify(demo.record),
    ];
  };
  // from memory first, so that no table is known from the disk
  useFiles(memoryFiles(contents));
  const disk = { read: Deno.readFile, readNow: Deno.readFileSync, list: Deno.readDir };
  const closed = (): never => assert.fail("the disk was read");
  Object.assign(Deno, { readFile: closed, readFileSync: closed, readDir: closed });
  let fromMemory: readonly string[];
  try {
    fromMemory = await told();
  } finally {
    useFiles(undefined);
    Object.assign(Deno, { readFile: disk.read, readFileSync: disk.readNow, readDir: disk.list });
  }
  assert.ok((fromMemory[0]?.length ?? 0) > 5000 && contents.size > 50, String(contents.size));
  assert.deepEqual(fromMemory, await told());
});

Deno.test("a record named by the page is the reader's, and the demo stands beside it", async () => {
  const contents = await inMemory(join(kitFolder, "data/tables"));
  await inMemory(join(recordsFolder, "demo-150-f8"), contents);
  contents.set("/records/mine/mirror.yaml", "aperture: 200 mm\nfocal_length: 1200 mm\n");
  useFiles(memoryFiles(contents, { record: "/records/mine", today: "2026-06-01" }));
  try {
    const { yours, demo } = await openRecord();
    assert.deepEqual([yours.record.name, yours.isDemo, demo.isDemo], ["mine", false, true]);
    // the class has one record, which is none
    assert.equal((await openClass("/records")).rows.length, 1);
    assert.deepEqual(
      await openMirror("/records/none").catch(({ message }) => message.split(":")[0]),
      "/records/none",
    );
  } finally {
    useFiles(undefined);
  }
});

Deno.test("a record with faults is refused in the same sentences", async () => {
  const outer = await Deno.realPath(await Deno.makeTempDir({ prefix: "memory-" }));
  try {
    const folder = join(outer, "faulty");
    await Deno.mkdir(folder);
    for (const [path, text] of FAULTY) {
      await Deno.writeTextFile(join(folder, relative("/bench/faulty", path)), String(text));
    }
    const fromDisk = await refusalsOf(folder);
    useFiles(memoryFiles(FAULTY));
    const fromMemory = await refusalsOf("/bench/faulty");
    assert.equal(fromDisk.length, 3, fromDisk.join("\n"));
    assert.deepEqual(fromMemory, fromDisk);
  } finally {
    useFiles(undefined);
    await Deno.remove(outer, { recursive: true });
  }
});
