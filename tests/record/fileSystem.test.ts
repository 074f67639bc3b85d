/** The door to files: paths as they are split and joined, and nothing else of the library that opens files for itself. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import {
  files,
  folderOf,
  kitFolder,
  lastName,
  pathInside,
  useFiles,
} from "../../lib/record/fileSystem.ts";
import { memoryFiles } from "../../lib/record/memoryFiles.ts";

Deno.test("the kit's folder is the one that holds deno.json", async () => {
  assert.equal(kitFolder, fileURLToPath(new URL("../..", import.meta.url)).replace(/[\\/]$/, ""));
  assert.equal((await files().info(`${kitFolder}/deno.json`)).isFile, true);
});

Deno.test("paths: last name, folder, what lies inside", () => {
  // DERIVED by reading them aloud: the part behind the last slash, and what stands before it
  for (
    const [path, name, folder] of [
      ["/records/mine", "mine", "/records"],
      ["/records/mine/", "mine", "/records"],
      ["C:\\records\\mine", "mine", "C:\\records"],
      ["/mine", "mine", "/"],
    ]
  ) {
    assert.equal(lastName(path ?? ""), name);
    assert.equal(folderOf(path ?? ""), folder);
  }
  assert.equal(pathInside("photos//./a/../b.jpg"), "photos/b.jpg");
  for (const out of ["", ".", "..", "a/../..", "../mine/a.csv", "/a", "C:/a", "a\\b", "a/.."]) {
    assert.equal(pathInside(out), undefined, out);
  }
});

Deno.test("other files count until the disk is asked for again", async () => {
  useFiles(memoryFiles(new Map([["/kit/data/records/x/mirror.yaml", "aperture: 1 mm"]])));
  try {
    assert.equal(files().readNow("/kit/data/records/x/mirror.yaml").length, 14);
    assert.equal(await files().isThere(`${kitFolder}/deno.json`), false);
  } finally {
    useFiles(undefined);
  }
  assert.equal(await files().isThere(`${kitFolder}/deno.json`), true);
});

Deno.test("records and what is known of them open files by this door alone, and name no module of Node", async () => {
  const lib = fileURLToPath(new URL("../../lib", import.meta.url)), found: string[] = [];
  for (const layer of ["record", "knowledge", "lessons", "stages"]) {
    for await (const { name, isFile } of Deno.readDir(join(lib, layer))) {
      if (!isFile) continue;
      const code = (await Deno.readTextFile(join(lib, layer, name)))
        .split("\n").filter((line) => !/^\s*(\/?\*|\/\/)/.test(line)).join("\n");
      if (/\bDeno\.|from "node:|\bprocess\./.test(code)) found.push(`${layer}/${name}`);
    }
  }
  // begunRecord writes, and no page loads it; polars.ts asks which C library the machine has
  assert.deepEqual(found.toSorted(), [
    "record/begunRecord.ts",
    "record/fileSystem.ts",
    "record/polars.ts",
  ]);
});
