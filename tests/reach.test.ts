/** Nothing of lib is there for its tests alone: what no command, notebook, page's script or thread reaches is named. */
import assert from "node:assert/strict";
import { fileURLToPath } from "node:url";
import { sources } from "./layers.ts";
import { unreached } from "./reach.ts";

const kit = fileURLToPath(new URL("../", import.meta.url));

/** lib, and the cells of the notebooks as files of their own. */
const lib = [...sources(`${kit}lib/`)].map(([file, text]) => [`lib/${file}`, text] as const);
const cells = [...Deno.readDirSync(`${kit}notebooks`)].filter(({ name }) => name.endsWith(".ipynb"))
  .flatMap(({ name }) => {
    const { cells } = JSON.parse(Deno.readTextFileSync(`${kit}notebooks/${name}`)) as {
      readonly cells: readonly { readonly cell_type: string; readonly source: readonly string[] }[];
    };
    return cells.filter(({ cell_type }) => cell_type === "code")
      .map(({ source }, i) => [`notebooks/${name}/${i}.ts`, source.join("")] as const);
  });

/** What is run or read for itself; the learner's edition writes `question` where the leader's has `exercise`. */
const learner = [
  "learner.ts",
  'import { question } from "first-mirror/lessons"; question;',
] as const;
const doors = [...lib, ...cells, learner].map(([file]) => file).filter((file) =>
  !file.startsWith("lib/") || file.startsWith("lib/commands/") ||
  [
    "knowledge/classWorker",
    "book/kernel/door",
    "figures/live/runtime",
    "living/page",
    "living/editor",
    "living/worker",
    "living/mathjs",
    "living/noRuntimeScript",
  ]
    .some((door) => file === `lib/${door}.ts`)
);

const { imports } = JSON.parse(Deno.readTextFileSync(`${kit}deno.json`)) as {
  readonly imports: Readonly<Record<string, string>>;
};
const named = Object.fromEntries(
  Object.entries(imports).filter(([, to]) => to.startsWith("./"))
    .map(([name, to]) => [name, to.slice(2)]),
);

Deno.test("every declaration of lib is reached from a command, a notebook, the page's script or a thread", () => {
  const dead = unreached(new Map([...lib, ...cells, learner]), doors, named);
  assert.deepEqual(dead.map(({ file, name, lines }) => `${file}: ${name}, ${lines} lines`), []);
});

Deno.test("reach: a name passed on, used by its type, by a whole module and by none", () => {
  const files = new Map([
    ["lib/a/mod.ts", 'export { one, two } from "./b.ts";'],
    [
      "lib/a/b.ts",
      "export const one = 1;\nconst own = 2;\nexport const two = own;\nexport type T = number;",
    ],
    [
      "lib/a/c.ts",
      'import type { T } from "./b.ts";\nexport function f(x: T): T {\n  return x;\n}\nexport const g = f;',
    ],
    [
      "door.ts",
      'import { one } from "first-mirror/a";\nimport * as c from "./lib/a/c.ts";\nc.g(one);',
    ],
  ]);
  const names = (doors: string[]): string[] =>
    unreached(files, doors, { "first-mirror/a": "lib/a/mod.ts" }).map(({ name }) => name);
  assert.deepEqual(names(["door.ts"]), ["own", "two"]);
  assert.deepEqual(names([]), ["one", "own", "two", "T", "f", "g"]);
});
