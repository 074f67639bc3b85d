/** `deno task book` as a person runs it: what it leaves, and what it leaves alone whatever happens. */
import assert from "node:assert/strict";
import { dirname, join } from "node:path";
import { contractProblems } from "../contract/contract.ts";
import { EMPTY } from "../contract/copies.ts";
import { bookOn, saidOfEmpty } from "../notebooks/books.ts";
import { alive, descendants, kernels, until } from "./processes.ts";
import { assertForPeople, command, contents, inFolder, names, run, saidBy } from "./run.ts";

const unix = { ignore: Deno.build.os !== "linux" };

/** A book elsewhere. */
async function copy(from: string, to: string): Promise<void> {
  await Deno.mkdir(to);
  for (const name of await names(from)) {
    const inner = [join(from, name), join(to, name)] as const;
    await ((await Deno.stat(inner[0])).isFile ? Deno.copyFile(...inner) : copy(...inner));
  }
}

const begin = (folder: string, ...args: string[]): Deno.ChildProcess =>
  command("book", [...args, "--kernels", "--out", "the book"], folder).spawn();

Deno.test({
  name:
    "book: built whole; a second at once is told; one killed or stopped leaves the last good book",
  ...unix,
  fn: async (test) => {
    await inFolder(async (folder) => {
      const book = join(folder, "the book");

      await test.step("one that was built whole", async () => {
        const built = await bookOn("empty"), { code, out, err } = await saidOfEmpty();
        assert.equal(code, 0, err);
        assert.match(
          out,
          /^The book: +.*empty\/index\.html\nIn numbers: +.*empty\/summary\.json\n$/,
        );
        assertForPeople(err);
        assert.deepEqual((await names(dirname(built))).filter((name) => /^\.empty/.test(name)), []);
        const summary = JSON.parse(await Deno.readTextFile(join(built, "summary.json")));
        assert.deepEqual(contractProblems(summary), []);
        assert.equal(summary.record, "empty-130-f7");
        await copy(built, book);
      });

      const before = await contents(book);
      assert.ok(Object.keys(before).length >= 4, "a book has pages");

      await test.step("a second is told; the first, killed half-way, leaves it, and no kernel behind", async () => {
        const build = begin(folder, "halfway-200-f6");
        const ended = saidBy(build);
        await until("a kernel", async () => (await kernels(build.pid)).length > 0);
        assert.ok((await names(folder)).includes(".the book.lock"));
        const second = await run("book", [EMPTY, "--out", "the book"], folder);
        assert.equal(second.code, 1);
        assert.equal(second.out, "");
        assert.match(second.err, /^A build of the book is under way already \(.*\); wait .+\.\n$/);
        const below = await descendants(build.pid);
        build.kill("SIGKILL");
        await ended;
        assert.deepEqual(await contents(book), before);
        await until("the kernels to end", async () => (await alive(below)).length === 0);
      });

      for (const signal of ["SIGINT", "SIGTERM"] as const) {
        await test.step(`one that is stopped by ${signal} says so, tidies up, and leaves it`, async () => {
          const build = begin(folder, "halfway-200-f6");
          const ended = saidBy(build);
          await until("a kernel", async () => (await kernels(build.pid)).length > 0);
          const below = await descendants(build.pid);
          build.kill(signal);
          const { code, out, err } = await ended;
          assert.equal(code, 1);
          assert.equal(out, "");
          assertForPeople(err);
          assert.match(err, /Stopped\. The last book stands as it was\.\n$/);
          assert.deepEqual(
            await names(folder),
            ["the book"],
            "what the killed one left is gone too",
          );
          assert.deepEqual(await contents(book), before);
          await until("the kernels to end", async () => (await alive(below)).length === 0);
        });
      }

      await test.step("a record that is refused leaves it", async () => {
        await Deno.mkdir(join(folder, "a record"));
        await Deno.writeTextFile(join(folder, "a record", "mirror.yaml"), "aperture: 6\n");
        const { code, out, err } = await run("book", ["./a record", "--out", "the book"], folder);
        assert.equal(code, 1);
        assert.equal(out, "");
        assertForPeople(err);
        assert.match(err, /^mirror\.yaml, line 1, column aperture: found .* 6 mm or 6 in/);
        assert.deepEqual(await contents(book), before);
      });
    });
  },
});

Deno.test("book of a refused record writes nothing and starts nothing", async () => {
  await inFolder(async (folder) => {
    await Deno.mkdir(join(folder, "record"));
    await Deno.writeTextFile(join(folder, "record", "sun.csv"), "distance_mm\n1199\n");
    const { code, out, err } = await run("book", ["./record", "--out", "book"], folder);
    assert.equal(code, 1);
    assert.equal(out, "");
    assertForPeople(err);
    assert.match(err, /^mirror\.yaml: found .+, wanted .+\n$/);
    assert.deepEqual(await names(folder), ["record"]);
  });
});

Deno.test("book into a place that cannot be written: a sentence, nothing written", async () => {
  await inFolder(async (folder) => {
    await Deno.writeTextFile(join(folder, "file"), "mine");
    await Deno.mkdir(join(folder, "mine"));
    await Deno.writeTextFile(join(folder, "mine", "letter.txt"), "dear Asha");
    const places: readonly (readonly [place: string, told: RegExp])[] = [
      ["file", /file is not a folder; name another place with --out\.\n$/],
      ["file/book", /book cannot be written \(.+\); name another folder with --out\.\n$/],
      ["mine", /mine holds letter\.txt, which is no part of a book, .+ with --out\.\n$/],
      ...(Deno.build.os === "linux"
        ? [["/proc/book", /^\/proc\/book cannot be written \(.+\); name another folder/] as const]
        : []),
    ];
    for (const [place, told] of places) {
      const { code, out, err } = await run("book", [EMPTY, "--out", place], folder);
      assert.equal(code, 1, place);
      assert.equal(out, "");
      assertForPeople(err);
      assert.match(err, told);
    }
    assert.deepEqual(await names(folder), ["file", "mine"]);
    assert.equal(await Deno.readTextFile(join(folder, "mine", "letter.txt")), "dear Asha");
  });
});
