import assert from "node:assert/strict";
import { join } from "node:path";
import { buildBook, Busy, withLock } from "../../lib/book/build.ts";
import { parseNotebook } from "../../lib/book/notebook.ts";
import { KIT_VERSION } from "../../lib/version.ts";
import { contents } from "../commands/run.ts";
import { onBench } from "./buildBench.ts";
import { answersIn } from "./learnerBook.ts";
import { code, prose } from "./sampleBook.ts";
import { stemOf } from "../stems.ts";

const names = async (folder: string): Promise<string[]> =>
  (await Array.fromAsync(Deno.readDir(folder))).map(({ name }) => name).sort();

Deno.test("a record and notebooks in, a whole book out: pages, report, summary, executed notebooks", () =>
  onBench(async ({ folder, options, notebook }) => {
    await notebook(
      stemOf("choose-mirror"),
      prose("# Choosing a mirror\n\nHow wide?"),
      code("console.log(6 * 7)", []),
    );
    await notebook(
      stemOf("measure-curve"),
      prose(`# Measuring the curve\n\nHow deep?\n\n[Before](${stemOf("choose-mirror")}.ipynb)`),
      code(
        'import { openRecord } from "first-mirror/knowledge";\nconsole.log((await openRecord()).yours.record.name === "record")',
        [],
      ),
    );
    const seen: string[] = [];
    const built = await buildBook({ ...options, onProgress: ({ state }) => void seen.push(state) });
    assert.equal(built.stages, 2);
    assert.deepEqual(await names(built.folder), [
      `${stemOf("choose-mirror")}.html`,
      `${stemOf("measure-curve")}.html`,
      "editor.js",
      "glossary.html",
      "index.html",
      "library.js",
      "notebooks",
      "print",
      "print.html",
      "record.js",
      "report.html",
      "search.html",
      "summary.json",
    ]);
    const read = (name: string): Promise<string> => Deno.readTextFile(join(built.folder, name));
    assert.match(await read(`${stemOf("measure-curve")}.html`), /<p class="out">true<\/p>/);
    assert.match(
      await read(`${stemOf("measure-curve")}.html`),
      /<a href="\d\d-choose-mirror\.html">Before<\/a>/,
    );
    assert.match(await read("index.html"), /href="\d\d-choose-mirror\.html">Choosing a mirror</);
    assert.match(await read("report.html"), /<h1>Bench seven<\/h1>/);
    const summary = JSON.parse(await read("summary.json")) as Record<string, unknown>;
    assert.deepEqual([summary["record"], summary["kit_version"]], ["record", KIT_VERSION]);
    const executed = parseNotebook(await read(`notebooks/${stemOf("choose-mirror")}.ipynb`), "01");
    assert.match(JSON.stringify(executed.cells[1]), /"text":"42\\n"/);
    assert.ok(seen.includes("running") && seen.filter((state) => state === "done").length === 2);
    assert.deepEqual(await names(folder), ["book", "record"], "nothing is left beside the book");
  }));

Deno.test("one job or two, and a second time: the same bytes", () =>
  onBench(async ({ folder, options, notebook }) => {
    for (
      const stem of [stemOf("choose-mirror"), stemOf("measure-curve"), stemOf("measure-zones")]
    ) {
      await notebook(stem, prose(`# ${stem}\n\nHow deep?`), code("console.log(6 * 7)", []));
    }
    const books: Record<string, string>[] = [];
    for (const [jobs, name] of [[1, "one"], [2, "two"], [2, "again"]] as const) {
      const { folder: book } = await buildBook({ ...options, jobs, out: join(folder, name) });
      books.push({ ...await contents(book), ...await contents(join(book, "notebooks")) });
    }
    assert.ok(Object.keys(books[0] ?? {}).length >= 8);
    assert.deepEqual(books[1], books[0]);
    assert.deepEqual(books[2], books[0]);
  }));

Deno.test("a cell that fails: notebook, cell and line are named, the last good book stays", () =>
  onBench(async ({ folder, options, notebook }) => {
    await notebook(stemOf("choose-mirror"), code("console.log(1)", []));
    const { index } = await buildBook(options);
    const before = await Deno.readTextFile(index);
    await notebook(
      stemOf("choose-mirror"),
      code("console.log(1)", []),
      code('const a = 1;\nthrow new Error("no glass");', []),
    );
    await assert.rejects(buildBook(options), (error: Error) => {
      assert.equal(error.name, "BuildStopped");
      assert.match(error.message, /\d\d-choose-mirror\.ipynb, code cell 2, line 2: .*no glass/);
      assert.doesNotMatch(error.message, /^\s+at /m);
      return true;
    });
    assert.equal(await Deno.readTextFile(index), before);
    assert.deepEqual(await names(folder), ["book", "record"]);
  }));

Deno.test("a formula that cannot be set names its notebook and cell", () =>
  onBench(async ({ options, notebook }) => {
    await notebook(stemOf("choose-mirror"), prose("# Fine"), prose("so $\\frac{1}$ it is"));
    await assert.rejects(
      buildBook(options),
      /\d\d-choose-mirror\.ipynb, cell 2 of all, prose included: formula requires/,
    );
  }));

Deno.test("a record that is refused stops at once, with its sentence, before a kernel starts", () =>
  onBench(async ({ folder, options, notebook, record }) => {
    await notebook(stemOf("choose-mirror"), code("await new Promise(() => {})", []));
    await record("aperture: 150\nfocal_length: 1200 mm\n");
    const begun = performance.now();
    await assert.rejects(buildBook(options), { name: "RecordRefused" });
    assert.ok(performance.now() - begun < 5000);
    assert.deepEqual(await names(folder), ["record"]);
  }));

Deno.test("notebooks that are none of the course's, or none at all, are told", () =>
  onBench(async ({ folder, options, notebook }) => {
    await assert.rejects(buildBook(options), /holds no notebook\.$/);
    await notebook("21-bake-bread", prose("# Bread"));
    await assert.rejects(buildBook(options), /21-bake-bread\.ipynb is no stage of the course/);
    await assert.rejects(
      buildBook({ ...options, notebooks: join(folder, "nowhere") }),
      /nowhere is not a folder of notebooks/,
    );
  }));

Deno.test("a place below a file cannot be written, and is said so in one sentence", () =>
  onBench(async ({ folder, options, notebook }) => {
    await notebook(stemOf("choose-mirror"), prose("# Fine"));
    await Deno.writeTextFile(join(folder, "file"), "");
    await assert.rejects(
      buildBook({ ...options, out: join(folder, "file", "book") }),
      /^BuildStopped: .*book cannot be written \(.*\); name another folder with --out\.$/,
    );
  }));

Deno.test("two builds of one book at once: the second is told, the first ends well", () =>
  onBench(async ({ options, notebook }) => {
    await notebook(
      stemOf("choose-mirror"),
      code("await new Promise((later) => setTimeout(later, 1500))", []),
    );
    const first = buildBook(options);
    await new Promise((later) => setTimeout(later, 700));
    await assert.rejects(
      buildBook(options),
      /^Busy: A build of book is under way already \(process \d+/,
    );
    assert.ok((await Deno.stat((await first).index)).isFile);
  }));

Deno.test("a build that is stopped leaves the last book and nothing else", () =>
  onBench(async ({ folder, options, notebook }) => {
    await notebook(stemOf("choose-mirror"), code("await new Promise(() => {})", []));
    const stop = new AbortController();
    const building = buildBook({ ...options, signal: stop.signal });
    setTimeout(() => stop.abort(new Error("Stopped.")), 1500);
    await assert.rejects(building, /^Error: Stopped\.$/);
    assert.deepEqual(await names(folder), ["record"]);
  }));

Deno.test("the learner's edition runs the emptied notebook: the question stands, the answer is nowhere", () =>
  onBench(async ({ options, notebook, folder }) => {
    const show =
      'import { show } from "first-mirror/figures";\nimport { exercise } from "first-mirror/lessons";\n';
    await notebook(
      stemOf("measure-curve"),
      prose("# Measuring the curve\n\nHow deep?"),
      code(
        `${show}// Try it.\nconst tried = 2385; // answer\nshow(exercise("measure-curve-1", "Leaves", tried));`,
        [],
        "exercise",
      ),
    );
    await notebook(stemOf("compare-class"), prose("# The class\n\nWho?"));
    const built = await buildBook({ ...options, edition: "learner" });
    assert.equal(built.stages, 1, "the class is the leader's page");
    assert.deepEqual(await answersIn(built.folder), []);
    const page = await Deno.readTextFile(join(built.folder, `${stemOf("measure-curve")}.html`));
    assert.match(page, /Leaves 12\.7 mm wide: 1\.13 mm passes/);
    assert.match(
      page,
      /<details class="cell" data-cell="\d+" open><summary>Cell \d+, to start from/,
    );
    assert.match(page, /undefined.*your answer, in mm/);
    assert.match(page, /Learner’s edition/);
    assert.deepEqual(await names(folder), ["book", "record"]);
    const leader = await buildBook(options);
    assert.ok((await answersIn(leader.folder)).length > 0, "the leader's edition has it");
  }));

async function withFolder(act: (folder: string) => Promise<void>): Promise<void> {
  const folder = await Deno.makeTempDir({ prefix: "first-mirror-lock-" });
  try {
    await act(folder);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

/** Another process that holds the lock until it is killed. */
async function holder(path: string): Promise<Deno.ChildProcess> {
  const module = new URL("../../lib/book/build.ts", import.meta.url).href;
  const child = new Deno.Command(Deno.execPath(), {
    args: [
      "eval",
      `
      const { withLock } = await import(${JSON.stringify(module)});
      await withLock(${JSON.stringify(path)}, "A build", async () => {
        console.log("held");
        await new Promise((done) => setTimeout(done, 60_000));
      });`,
    ],
    stdout: "piped",
    stderr: "null",
  }).spawn();
  const reader = child.stdout.getReader();
  await reader.read();
  await reader.cancel();
  return child;
}

Deno.test("work is done under the lock, its result handed on, the file gone afterwards", () =>
  withFolder(async (folder) => {
    const path = join(folder, ".book.lock");
    const result = await withLock(path, "A build", async () => {
      const { process } = JSON.parse(await Deno.readTextFile(path)) as { process: number };
      return process;
    });
    assert.equal(result, Deno.pid);
    assert.deepEqual(await Array.fromAsync(Deno.readDir(folder)), []);
  }));

Deno.test("a second build at the same time is told who holds it, and the first is not disturbed", () =>
  withFolder(async (folder) => {
    const path = join(folder, ".book.lock");
    const child = await holder(path);
    try {
      await assert.rejects(
        withLock(path, "A build of demo", () => Promise.resolve()),
        (error: Error) => {
          assert.ok(error instanceof Busy);
          assert.match(
            error.message,
            new RegExp(
              `^A build of demo is under way already \\(process ${child.pid}, since \\d\\d:\\d\\d:\\d\\d\\); wait`,
            ),
          );
          return true;
        },
      );
    } finally {
      child.kill("SIGKILL");
      await child.status;
    }
  }));

Deno.test("the lock of a process that was killed binds nobody", () =>
  withFolder(async (folder) => {
    const path = join(folder, ".book.lock");
    const child = await holder(path);
    child.kill("SIGKILL");
    await child.status;
    assert.ok((await Deno.stat(path)).isFile, "the dead process left its file");
    assert.equal(await withLock(path, "A build", () => Promise.resolve(7)), 7);
  }));

Deno.test("work that fails lets the lock go, and its error through", () =>
  withFolder(async (folder) => {
    const path = join(folder, ".book.lock");
    await assert.rejects(
      withLock(path, "A build", () => Promise.reject(new Error("no glass"))),
      /^Error: no glass/,
    );
    assert.equal(await withLock(path, "A build", () => Promise.resolve(1)), 1);
  }));

Deno.test("of twenty at once exactly one at a time gets in", () =>
  withFolder(async (folder) => {
    const path = join(folder, ".book.lock");
    let inside = 0, most = 0, done = 0;
    const tries = Array.from({ length: 20 }, () =>
      withLock(path, "A build", async () => {
        most = Math.max(most, ++inside);
        await new Promise((later) => setTimeout(later, 2));
        inside--;
        done++;
      }).catch((error: unknown) => assert.ok(error instanceof Busy)));
    await Promise.all(tries);
    assert.equal(most, 1);
    assert.ok(done >= 1);
  }));
