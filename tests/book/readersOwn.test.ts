/** What a reader wrote into a book outlives every later build of it. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { buildBook } from "../../lib/book/build.ts";
import { noteWritten, readersFiles, saveReadersFiles } from "../../lib/book/readersOwn.ts";
import { onBench } from "./buildBench.ts";
import { inFolder } from "./notebooks.ts";
import { code, prose } from "./sampleBook.ts";

const STEM = "01-choose-mirror";

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
