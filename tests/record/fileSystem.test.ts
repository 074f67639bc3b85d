/** The door to files: paths as they are split and joined, and nothing else of the library that opens files for itself. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { openMirror } from "../../lib/knowledge/open.ts";
import { summaryText } from "../../lib/knowledge/summaryFile.ts";
import {
  files,
  type FileSystem,
  folderOf,
  kitFolder,
  lastName,
  pathInside,
  useFiles,
} from "../../lib/record/fileSystem.ts";
import { type MemoryFile, memoryFiles } from "../../lib/record/memoryFiles.ts";
import { readRecord } from "../../lib/record/readRecord.ts";

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

/**
 * Files as Windows and macOS have them: whoever asks by other capitals gets the same file, and a folder lists names as they
 * were given. An emulation: no file system of that kind can be mounted where the tests run. With `drive` paths come back as
 * Windows gives them.
 */
function foldingFiles(contents: ReadonlyMap<string, MemoryFile>, drive = false): FileSystem {
  const parts = [...contents.keys()].flatMap((path) => {
    const names = path.split("/");
    return names.map((_, k) => names.slice(0, k + 1).join("/"));
  });
  const real = new Map(parts.map((path) => [path.toLowerCase(), path]));
  const below = memoryFiles(contents);
  const found = (path: string): string => {
    const slashes = path.replace(/^[A-Z]:/, "").replaceAll("\\", "/").replace(/\/$/, "");
    return real.get(slashes.toLowerCase()) ?? slashes;
  };
  return {
    ...below,
    realPath: async (path) => {
      const whole = await below.realPath(found(path));
      return drive ? `C:${whole.replaceAll("/", "\\")}` : whole;
    },
    info: (path) => below.info(found(path)),
    isThere: (path) => below.isThere(found(path)),
    list: (path) => below.list(found(path)),
    read: (path) => below.read(found(path)),
    readNow: (path) => below.readNow(found(path)),
  };
}

/** The demo's texts with the line ends of Windows, and its pictures; the kit's tables likewise. */
async function withCrlf(): Promise<Map<string, MemoryFile>> {
  const contents = new Map<string, MemoryFile>();
  const take = async (folder: string): Promise<void> => {
    for await (const { name, isDirectory } of Deno.readDir(folder)) {
      const path = `${folder}/${name}`;
      if (isDirectory) await take(path);
      else if (/\.(png|jpg)$/.test(name)) contents.set(path, await Deno.readFile(path));
      else contents.set(path, (await Deno.readTextFile(path)).replaceAll(/\r?\n/g, "\r\n"));
    }
  };
  await take(`${kitFolder}/data/records/demo-150-f8`);
  await take(`${kitFolder}/data/tables`);
  return contents;
}

for (const drive of [false, true]) {
  Deno.test(
    `a record with CRLF on files that fold capitals ${
      drive ? "and have drives" : ""
    } comes to the same, byte for byte`,
    async () => {
      const folder = join(kitFolder, "data", "records", "demo-150-f8");
      const before = summaryText((await openMirror(folder)).summary);
      useFiles(foldingFiles(await withCrlf(), drive));
      try {
        assert.equal(summaryText((await openMirror(folder)).summary), before);
        const loud = `${kitFolder}/data/records/DEMO-150-F8`;
        const { summary } = await openMirror(loud);
        assert.equal(
          summaryText(summary),
          before,
          "the folder's name is the disk's, not the asker's",
        );
      } finally {
        useFiles(undefined);
      }
    },
  );
}

Deno.test("a table under a name in other capitals is not read on any disk, and the name it wants is told", async () => {
  const contents = await withCrlf();
  contents.set("/bench/mine/mirror.yaml", "aperture: 150 mm\r\nfocal_length: 1200 mm\r\n");
  contents.set("/bench/mine/Sagitta.csv", "after_min,go_mm,no_go_mm\r\n10,0.3,0.4\r\n");
  for (
    const system of [memoryFiles(contents), foldingFiles(contents), foldingFiles(contents, true)]
  ) {
    useFiles(system);
    try {
      const { warnings } = await readRecord("/bench/mine");
      assert.deepEqual(warnings.map(({ file, message }) => `${file}: ${message}`), [
        "Sagitta.csv: not read: is sagitta.csv meant? Rename it",
      ]);
    } finally {
      useFiles(undefined);
    }
  }
});
