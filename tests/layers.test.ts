/** The layers of lib: imports run down only, never in a circle; printed as they are held. */
import assert from "node:assert/strict";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { circles, drawLayers, importsOf, layers, sources, uphill } from "./layers.ts";

const lib = fileURLToPath(new URL("../lib/", import.meta.url));
const files = sources(lib);

Deno.test("layers: every folder of lib is a layer, and every layer is there", () => {
  const folders = new Set(
    [...files.keys()].flatMap((file) => file.split("/").slice(0, -1)[0] ?? []),
  );
  assert.deepEqual([...folders].sort(), layers.flat().toSorted());
});

Deno.test("layers: no file of lib imports uphill", () => {
  assert.deepEqual([...files].flatMap(([file, source]) => uphill(file, source)), []);
  const seen = [...files].flatMap(([file, source]) => importsOf(file, source)).length;
  assert.ok(seen > 1000, `only ${seen} imports were seen`);
});

Deno.test("layers: no files of lib import one another in a circle, types included", () => {
  assert.deepEqual(circles(files), []);
  const two = new Map([["a/b.ts", 'import "./c.ts";'], ["a/c.ts", 'export * from "./b.ts";']]);
  assert.deepEqual(circles(two), [["a/b.ts", "a/c.ts"]]);
});

Deno.test("layers: printed from the top down, each with its files and lines", () => {
  const drawn = drawLayers(files);
  Deno.stdout.writeSync(new TextEncoder().encode(`${drawn}\n`));
  for (const layer of layers.flat()) assert.match(drawn, new RegExp(`\\b${layer}\\b`));
  assert.match(drawn, /uphill 0, circles 0/);
});

Deno.test("layers: an import uphill is seen however it is written", () => {
  const written = [
    'import { a } from "../book/a.ts";',
    'import type { A } from "../book/a.ts";',
    'import {\n  a,\n} from "../book/a.ts";',
    'export * from "../book/a.ts";',
    'import "../book/a.ts";',
    'const { a } = await import("../book/a.ts");',
  ];
  for (const source of written) {
    assert.deepEqual(uphill("stages/b.ts", source), ["stages/b.ts imports book/a.ts"], source);
  }
  assert.deepEqual(uphill("stages/b.ts", ' * import { a } from "../book/a.ts";'), []);
  assert.deepEqual(uphill("stages/b.ts", 'import { a } from "../figures/a.ts";'), []);
  assert.deepEqual(uphill("measuring/b.ts", 'import { a } from "../testing/a.ts";'), [
    "measuring/b.ts imports testing/a.ts",
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
