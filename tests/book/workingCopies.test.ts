/** A reader's copies of the lessons: made once, never replaced. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { buildBook } from "../../lib/book/build.ts";
import { Kernel } from "../../lib/book/kernel/kernel.ts";
import { notebookText, parseNotebook, readNotebook } from "../../lib/book/notebook.ts";
import {
  copiesOf,
  layCopies,
  makeKitKnown,
  noteWritten,
  readersFiles,
  saveReadersFiles,
} from "../../lib/book/workingCopies.ts";
import { onBench } from "./buildBench.ts";
import { inFolder } from "./notebooks.ts";
import { code, notebookOf, prose } from "./sampleBook.ts";
import { stemOf } from "../stems.ts";

const kit = fileURLToPath(new URL("../../notebooks", import.meta.url));

async function namesIn(folder: string): Promise<readonly string[]> {
  return (await Array.fromAsync(Deno.readDir(folder))).map(({ name }) => name).sort();
}

/** A folder of lessons in which one can be changed. */
async function lessonsIn(
  folder: string,
): Promise<{ lessons: string; write: (text: string) => Promise<void> }> {
  const lessons = join(folder, "lessons");
  await Deno.mkdir(lessons);
  const write = (text: string): Promise<void> =>
    Deno.writeTextFile(
      join(lessons, `${stemOf("measure-curve")}.ipynb`),
      notebookText(notebookOf([prose(`# Curve\n\n${text}`), code("console.log(1)", [])])),
    );
  await write("How deep?");
  return { lessons, write };
}

Deno.test("the kit's lessons are copied once; the second time nothing is touched", () =>
  inFolder(async (folder) => {
    const copies = copiesOf(folder, false);
    const { made, newer } = await layCopies(copies, false);
    assert.deepEqual(made, (await namesIn(kit)).filter((name) => name.endsWith(".ipynb")));
    assert.deepEqual(newer, []);
    const before = await Deno.stat(join(copies, `${stemOf("measure-curve")}.ipynb`));
    assert.deepEqual(await layCopies(copies, false), { made: [], newer: [] });
    const after = await Deno.stat(join(copies, `${stemOf("measure-curve")}.ipynb`));
    assert.deepEqual([after.ino, after.mtime], [before.ino, before.mtime]);
    const [copy, lesson] = await Promise.all(
      [copies, kit].map((place) => readNotebook(join(place, `${stemOf("measure-curve")}.ipynb`))),
    );
    assert.deepEqual(copy?.cells, lesson?.cells);
  }));

Deno.test("what a reader wrote stays, whatever it is; a newer lesson is laid beside it with its number", () =>
  inFolder(async (folder) => {
    const { lessons, write } = await lessonsIn(folder), own = join(folder, "own");
    const lay = (): ReturnType<typeof layCopies> => layCopies(own, false, lessons);
    assert.deepEqual((await lay()).made, [`${stemOf("measure-curve")}.ipynb`]);
    const path = join(own, `${stemOf("measure-curve")}.ipynb`);
    const text = (await Deno.readTextFile(path)).replace("console.log(1)", "console.log(41 + 1)");
    await Deno.writeTextFile(path, text);
    assert.deepEqual(
      await lay(),
      { made: [], newer: [] },
      "a changed copy of today's lesson is enough",
    );
    await write("How deep, and how surely?");
    assert.deepEqual(await lay(), { made: [], newer: [`${stemOf("measure-curve")}-2.ipynb`] });
    assert.deepEqual(await lay(), { made: [], newer: [] });
    assert.equal(await Deno.readTextFile(path), text);
    await write("How deep, how surely, and what next?");
    await Deno.writeTextFile(
      join(own, `${stemOf("measure-curve")}-2.ipynb`),
      "no notebook any more",
    );
    assert.deepEqual((await lay()).newer, [`${stemOf("measure-curve")}-3.ipynb`]);
    assert.equal(
      await Deno.readTextFile(join(own, `${stemOf("measure-curve")}-2.ipynb`)),
      "no notebook any more",
    );
    assert.equal(await Deno.readTextFile(path), text);
  }));

Deno.test("a notebook of the same name that the reader began alone stays", () =>
  inFolder(async (folder) => {
    const { lessons } = await lessonsIn(folder), own = join(folder, "own");
    await Deno.mkdir(own);
    await Deno.writeTextFile(join(own, `${stemOf("measure-curve")}.ipynb`), "mine");
    assert.deepEqual(await layCopies(own, false, lessons), {
      made: [],
      newer: [`${stemOf("measure-curve")}-2.ipynb`],
    });
    assert.equal(await Deno.readTextFile(join(own, `${stemOf("measure-curve")}.ipynb`)), "mine");
  }));

Deno.test("a learner's copies hold no answer and no page about a class", () =>
  inFolder(async (folder) => {
    const { made } = await layCopies(folder, true);
    assert.ok(!made.some((name) => name.includes("compare-class")) && made.length > 15);
    for (const name of made) {
      const text = await Deno.readTextFile(join(folder, name));
      assert.doesNotMatch(text, /\/\/ answer"|\bexercise\(/, name);
      parseNotebook(text, name);
    }
  }));

Deno.test("copies outside the kit's folder find the kit; a deno.json of the reader's own stays", () =>
  inFolder(async (folder) => {
    await makeKitKnown(folder);
    const kernel = await Kernel.start({ cwd: folder });
    try {
      const code =
        'const { openRecord } = await import("first-mirror/knowledge"); (await openRecord()).demo.record.name';
      const { messages, reply } = await kernel.run({ code, cell: 1, imports: [] }, 60_000);
      assert.match(JSON.stringify(messages), /demo-150-f8/, JSON.stringify(reply));
    } finally {
      await kernel.stop();
    }
    await Deno.writeTextFile(join(folder, "deno.json"), '{ "tasks": {} }');
    await makeKitKnown(folder);
    assert.equal(await Deno.readTextFile(join(folder, "deno.json")), '{ "tasks": {} }');
    const inside = join(kit, "..", "data");
    await makeKitKnown(inside);
    assert.ok(!(await namesIn(inside)).includes("deno.json"));
  }));

// What a reader wrote into a book outlives every later build of it.

const STEM = stemOf("choose-mirror");

Deno.test("a notebook changed in a book is laid into the record's folder before the book is replaced", () =>
  onBench(async ({ options, notebook }) => {
    await notebook(STEM, prose("# Choosing\n\nHow wide?"), code("console.log(1)", []));
    const first = await buildBook(options),
      theirs = join(first.folder, "notebooks", `${STEM}.ipynb`);
    assert.deepEqual(first.saved, []);
    assert.deepEqual(
      (await buildBook(options)).saved,
      [],
      "a book as it was built holds nothing of a reader's",
    );
    await Deno.writeTextFile(theirs, '{"an answer": "of an evening"}');
    await Deno.writeTextFile(join(first.folder, "notebooks", "mine.txt"), "a thought");
    const { saved } = await buildBook(options);
    const own = join(options.record, "notebooks");
    assert.deepEqual(saved, [join(own, `${STEM}.ipynb`), join(own, "mine.txt")]);
    assert.equal(await Deno.readTextFile(saved[0] ?? ""), '{"an answer": "of an evening"}');
    assert.match(await Deno.readTextFile(theirs), /"nbformat": 4/, "the book is whole and new");
    await Deno.writeTextFile(theirs, "of the next evening");
    const again = await buildBook({ ...options });
    assert.deepEqual(again.saved, [join(own, `${STEM}-2.ipynb`)], "nothing there is replaced");
    assert.equal(await Deno.readTextFile(saved[0] ?? ""), '{"an answer": "of an evening"}');
  }));

Deno.test("a learner's book lays them where the learner's copies are", () =>
  onBench(async ({ options, notebook }) => {
    await notebook(STEM, prose("# Choosing\n\nHow wide?"), code("console.log(1)", []));
    const learner = { ...options, edition: "learner" } as const;
    const { folder } = await buildBook(learner);
    await Deno.writeTextFile(join(folder, "notebooks", `${STEM}.ipynb`), "an answer");
    const { saved } = await buildBook(learner);
    assert.deepEqual(saved, [join(options.record, "learner-notebooks", `${STEM}.ipynb`)]);
  }));

Deno.test({
  name: "where they can be laid nowhere the last book stays, and a sentence says why",
  ignore: Deno.build.os === "windows",
  fn: () =>
    onBench(async ({ options, notebook }) => {
      await notebook(STEM, prose("# Choosing\n\nHow wide?"), code("console.log(1)", []));
      const { folder } = await buildBook(options),
        theirs = join(folder, "notebooks", `${STEM}.ipynb`);
      await Deno.writeTextFile(theirs, "an answer");
      await Deno.writeTextFile(join(options.record, "notebooks"), "a file in the way");
      await assert.rejects(
        buildBook(options),
        /holds notebooks that you have changed, and they cannot be laid into .*; move them/,
      );
      assert.equal(await Deno.readTextFile(theirs), "an answer");
    }),
});

Deno.test("a book that does not tell how it was written: what is later than its first page is the reader's", () =>
  inFolder(async (book) => {
    await Deno.mkdir(join(book, "notebooks"));
    for (const name of ["index.html", "notebooks/a.ipynb", "notebooks/b.ipynb"]) {
      await Deno.writeTextFile(join(book, name), "as built");
    }
    const later = new Date(Date.now() + 3_600_000);
    await Deno.utime(join(book, "notebooks", "b.ipynb"), later, later);
    assert.deepEqual(await readersFiles(book), ["b.ipynb"]);
    await noteWritten(book);
    assert.deepEqual(await readersFiles(book), []);
    assert.deepEqual(await saveReadersFiles(book, join(book, "none")), []);
  }));
