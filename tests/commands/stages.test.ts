/** Numbers of notebooks and of links to them are those of the places in the course: here, and after `deno task stages`. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { numberStages, unnumbered } from "../../lib/commands/stages.ts";
import { course } from "../../lib/lessons/course.ts";
import { stemOf } from "../stems.ts";
import { inFolder } from "./run.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));

Deno.test("every number of the kit is that of its place; where not, deno task stages puts it right", async () => {
  const { renamed, texts } = await unnumbered(root);
  assert.deepEqual([renamed, [...texts.keys()]], [[], []], "run deno task stages");
});

Deno.test("no other file knows a stage's number: all speak of its name", async () => {
  const numbered = new RegExp(`\\b\\d\\d-(${course.map(({ name }) => name).join("|")})\\b`);
  const told: string[] = [];
  const look = async (folder: string): Promise<void> => {
    for await (const { name, isDirectory } of Deno.readDir(folder)) {
      const path = join(folder, name);
      if (isDirectory) await look(path);
      else if (name.endsWith(".ts")) {
        (await Deno.readTextFile(path)).split("\n").forEach((line, at) => {
          // an example in a comment, or in the words of a task, may show how a file is called
          const shows = /^\s*(\*|\/\/|\/\*)/.test(line) ||
            /is laid beside it with its number/.test(line);
          if (!shows && numbered.test(line)) told.push(`${path}:${at + 1}`);
        });
      }
    }
  };
  for (const room of ["lib", "tests"]) await look(join(root, room));
  assert.deepEqual(told, []);
});

Deno.test("wrong numbers and none are put right in names and links, and nothing else is touched", () =>
  inFolder(async (folder) => {
    const put = (path: string, text: string): Promise<void> =>
      Deno.writeTextFile(join(folder, path), text);
    const read = (path: string): Promise<string> => Deno.readTextFile(join(folder, path));
    await Deno.mkdir(join(folder, "notebooks"));
    const old = `${"03"}-measure-curve.ipynb`;
    for (const [place, { name }] of course.entries()) {
      const was = place === 3
        ? name
        : `${String(place > 3 ? place - 1 : place).padStart(2, "0")}-${name}`;
      await put(`notebooks/${was}.ipynb`, `{"a": "[next](${old}), 03-1"}`);
    }
    await put("README.md", `[a model](notebooks/${old})`);
    await numberStages(folder);
    for (const { stem } of course) {
      const link = `${stemOf("measure-curve")}.ipynb`;
      assert.equal(await read(`notebooks/${stem}.ipynb`), `{"a": "[next](${link}), 03-1"}`);
    }
    assert.equal(await read("README.md"), `[a model](notebooks/${stemOf("measure-curve")}.ipynb)`);
    assert.deepEqual(await numberStages(folder), []);
  }));

Deno.test("what a notebook says comes next is the next stage: the nearest link ahead is replaced, a way back is left", () =>
  inFolder(async (folder) => {
    const [first, second, third, fourth] = course.map(({ stem }) => stem), title = course[2]?.title;
    const path = join(folder, "notebooks", `${second}.ipynb`);
    await Deno.mkdir(join(folder, "notebooks"));
    for (const { stem } of course) {
      await Deno.writeTextFile(join(folder, "notebooks", `${stem}.ipynb`), "{}");
    }
    const says = (link: string): string =>
      `[on](${fourth}.ipynb). Next: [back](${first}.ipynb), then ${link}."`;
    await Deno.writeTextFile(path, says(`[far](${fourth}.ipynb)`));
    assert.deepEqual(await numberStages(folder), [
      `links of notebooks/${second}.ipynb are right now`,
    ]);
    assert.equal(await Deno.readTextFile(path), says(`[${title}](${third}.ipynb)`));
    assert.deepEqual(await numberStages(folder), []);
  }));

Deno.test("a notebook without a row, and a row without a notebook, are told", () =>
  inFolder(async (folder) => {
    await Deno.mkdir(join(folder, "notebooks"));
    await Deno.writeTextFile(join(folder, "notebooks", "21-bake-bread.ipynb"), "{}");
    await assert.rejects(
      numberStages(folder),
      /notebooks\/21-bake-bread\.ipynb has no row in lib\/lessons\/course\.ts\..*has not one open-record\.ipynb/,
    );
  }));
