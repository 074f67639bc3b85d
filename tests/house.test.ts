/** The house's own rules: imports run downhill from room to room, and no file is long. */
import assert from "node:assert/strict";
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";

const lib = fileURLToPath(new URL("../lib/", import.meta.url));

/** From the bottom of the hill up: a room knows those before it. */
const rooms = [
  ...["numeric", "quantity", "optics", "measuring", "shaping", "testing", "coating"],
  ...["telescope", "sky", "record", "figures", "lessons", "stages", "book", "commands"],
];

function filesBelow(folder: string): string[] {
  return [...Deno.readDirSync(folder)].flatMap(({ name, isDirectory }) =>
    isDirectory
      ? filesBelow(join(folder, name))
      : name.endsWith(".ts")
      ? [relative(lib, join(folder, name))]
      : []
  );
}

const files = filesBelow(lib).sort();

/** The files of lib that a source asks for, by the paths of its imports; examples in its comments are not its own. */
function askedFor(file: string, source: string): string[] {
  const found = source.matchAll(/^(?!\s*\*).*(?:\bfrom|\bimport)[\s(]*"(\.[^"]+)"/gm);
  return [...found].map(([, path = ""]) => join(dirname(file), path));
}

const roomOf = (file: string): string => file.includes("/") ? file.split("/", 1)[0] ?? "" : "";

/** Whether one room may know the other; what stands in no room, the kit's version, all may know. */
function isDownhill(from: string, to: string): boolean {
  return to === "" || (from !== "" && rooms.indexOf(to) <= rooms.indexOf(from)) &&
      !(from === "figures" && to === "record");
}

function uphill(file: string, source: string): string[] {
  return askedFor(file, source).filter((asked) => !isDownhill(roomOf(file), roomOf(asked)))
    .map((asked) => `${file} asks for ${asked}`);
}

Deno.test("house: every folder of lib is a room of the hill, and every room is there", () => {
  const folders = new Set(files.map(roomOf).filter((room) => room !== ""));
  assert.deepEqual([...folders].sort(), rooms.toSorted());
});

Deno.test("house: no file of lib imports uphill", () => {
  const asked = files.map((file) => [file, Deno.readTextFileSync(join(lib, file))] as const);
  assert.deepEqual(asked.flatMap(([file, source]) => uphill(file, source)), []);
  const crossings = asked.flatMap(([file, source]) =>
    askedFor(file, source).filter((to) => roomOf(to) !== roomOf(file))
  );
  assert.ok(crossings.length > 500, `only ${crossings.length} imports between rooms were seen`);
});

Deno.test("house: an import uphill is seen however it is written", () => {
  const written = [
    'import { a } from "../book/a.ts";',
    'import type { A } from "../book/a.ts";',
    'import {\n  a,\n} from "../book/a.ts";',
    'export * from "../book/a.ts";',
    'import "../book/a.ts";',
    'const { a } = await import("../book/a.ts");',
  ];
  for (const source of written) {
    assert.deepEqual(uphill("stages/b.ts", source), ["stages/b.ts asks for book/a.ts"], source);
  }
  assert.deepEqual(uphill("stages/b.ts", ' * import { a } from "../book/a.ts";'), []);
  assert.deepEqual(uphill("stages/b.ts", 'import { a } from "../figures/a.ts";'), []);
  assert.deepEqual(uphill("figures/b.ts", 'import { a } from "../record/a.ts";'), [
    "figures/b.ts asks for record/a.ts",
  ]);
});

Deno.test("what the kit itself tells is no source: no comment cites course, story or lesson as read", () => {
  const here = fileURLToPath(new URL("./", import.meta.url)), cited: string[] = [];
  const look = (folder: string): void => {
    for (const { name, isDirectory } of Deno.readDirSync(folder)) {
      const path = join(folder, name);
      if (isDirectory) look(path);
      else if (name.endsWith(".ts")) {
        Deno.readTextFileSync(path).split("\n").forEach((line, i) => {
          const source = /(?:\/\/|\*).*\bREAD\b[\s(:]*([^;]*)/.exec(line)?.[1] ?? "";
          if (/^\W*(?:the |our )?(?:course|story|lesson|notebook|workshop)\b/i.test(source)) {
            cited.push(`${relative(here, path)}:${i + 1}`);
          }
        });
      }
    }
  };
  look(here);
  look(lib);
  assert.deepEqual(cited, []);
});
