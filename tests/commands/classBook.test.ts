/** `deno task book CLASS`, with the permissions it has. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { withClass } from "../record/classBench.ts";
import { run } from "./run.ts";

Deno.test("book of a class of which no record can be read: a sentence each, status 1, and nothing is written", async () => {
  const outer = await Deno.makeTempDir({ prefix: "class book " });
  try {
    for (const name of ["bench-1", "bench-2"]) {
      await Deno.mkdir(join(outer, "ours", name), { recursive: true });
      await Deno.writeTextFile(join(outer, "ours", name, "mirror.yaml"), "aperture: wide\n");
    }
    const { code, err } = await run("book", [join(outer, "ours"), "--out", join(outer, "book")]);
    assert.equal(code, 1);
    assert.match(err, /No bench of .* can be read yet.*\n.*bench-1: mirror\.yaml.*\n.*bench-2: /);
    assert.deepEqual([...Deno.readDirSync(outer)].map(({ name }) => name), ["ours"]);
  } finally {
    await Deno.remove(outer, { recursive: true });
  }
});

Deno.test("book of the demo class: one book, a folder for each bench, and how long it takes", () =>
  withClass({}, async (folder) => {
    const out = join(folder, "..", "book"), begun = performance.now();
    const { code, out: said, err } = await run("book", [
      folder,
      "--out",
      out,
      "--today",
      "2026-09-26",
    ]);
    assert.equal(code, 0, err);
    const seconds = (performance.now() - begun) / 1000;
    // deno-lint-ignore no-console -- the figure is printed
    console.log(`    a class of 12: ${seconds.toFixed(1)} s`);
    assert.match(said, /The book: .*index\.html/);
    const benches = [...Deno.readDirSync(join(out, "benches"))].map(({ name }) => name).sort();
    assert.equal(benches.length, 12);
    for (const bench of benches) {
      const files = [...Deno.readDirSync(join(out, "benches", bench))].map(({ name }) => name);
      assert.deepEqual(files.toSorted(), [
        ...["bench.js", "index.html", "print", "print.html", "report.html", "summary.json"],
      ]);
    }
    // every link of every page leads to a file of the book
    const dead: string[] = [], pages: string[] = [];
    const look = (inside: string): void => {
      for (const { name, isDirectory } of Deno.readDirSync(inside)) {
        const path = join(inside, name);
        if (isDirectory) look(path);
        else if (name.endsWith(".html")) pages.push(path);
      }
    };
    look(out);
    const files = new Set(pages);
    for (const page of pages) {
      const html = await Deno.readTextFile(page);
      for (const [, href = ""] of html.matchAll(/href="([^"#?]+\.html)[^"]*"/g)) {
        const to = join(page, "..", decodeURIComponent(href));
        if (!files.has(to)) dead.push(`${page}: ${href}`);
      }
    }
    assert.ok(pages.length > 100, `${pages.length} pages`);
    assert.deepEqual(dead, []);
    // a book that stands is replaced by the next, and by nothing else
    await Deno.writeTextFile(join(out, "mine.txt"), "a note of my own");
    const again = await run("book", [folder, "--out", out, "--today", "2026-09-26"]);
    assert.equal(again.code, 1);
    assert.match(again.err, /mine\.txt, which is no part of a book/);
  }));
