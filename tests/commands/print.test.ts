/** `deno task print`: mask, sheets and report without the book, whole or not at all. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { assertForPeople, inFolder, names, run } from "./run.ts";

Deno.test("report, mask and sheets lie there with an index, and every link leads to a file", async () => {
  await inFolder(async (folder) => {
    const { code, out, err } = await run("print", ["demo-150-f8", "--out", "sheets"], folder);
    assert.equal(code, 0, err);
    assert.match(out, /^To print: .*index\.html$/m);
    const made = join(folder, "sheets");
    assert.deepEqual(await names(made), ["index.html", "print", "report.html"]);
    const within = await names(join(made, "print"));
    for (const wanted of ["zone-mask-a4.html", "record-zones-letter.html", "safety-a4.html"]) {
      assert.ok(within.includes(wanted), `${wanted} in ${within.join(" ")}`);
    }
    const pages = ["index.html", "report.html", ...within.map((name) => `print/${name}`)];
    for (const page of pages.filter((name) => name.endsWith(".html"))) {
      const text = await Deno.readTextFile(join(made, page));
      for (const [, link = ""] of text.matchAll(/href="([^"#:]+)"/g)) {
        const file = join(made, page, "..", link);
        assert.ok((await Deno.stat(file)).isFile, `${page} leads to ${link}`);
      }
    }
  });
});

Deno.test("the report says when, in how many runs, through which mask, how far, and has the line to sign", async () => {
  await inFolder(async (folder) => {
    await run("print", ["demo-150-f8", "--out", "sheets"], folder);
    const report = await Deno.readTextFile(join(folder, "sheets", "report.html"));
    // RECORDED: data/records/demo-150-f8/zones.csv, the rows since the last polishing
    assert.match(report, /Tested 2026-06-26 to 2026-06-27: 17 runs, masks 0, 30, 45, 57, 67, 74;/);
    assert.match(report, /scope: the whole surface\./);
    assert.match(report, /Measured by _+ .* signed _+/);
  });
});

Deno.test("the last sheets give way to new ones; a book, or anything else, does not", async () => {
  await inFolder(async (folder) => {
    const made = join(folder, "sheets");
    const again = (): ReturnType<typeof run> =>
      run("print", ["halfway-200-f6", "--out", "sheets"], folder);
    assert.equal((await again()).code, 0);
    assert.equal((await again()).code, 0);
    for (const name of ["summary.json", "diary.txt"]) {
      await Deno.writeTextFile(join(made, name), "mine");
      const { code, err } = await again();
      assert.equal(code, 1);
      assertForPeople(err);
      assert.match(err, /name another folder with --out\.$/m);
      assert.equal(await Deno.readTextFile(join(made, name)), "mine");
      await Deno.remove(join(made, name));
    }
    assert.deepEqual(await names(folder), ["sheets"], "nothing is left beside it");
  });
});

Deno.test("a record that is refused leaves nothing behind", async () => {
  await inFolder(async (folder) => {
    const { code, err } = await run("print", [join(folder, "none"), "--out", "sheets"], folder);
    assert.equal(code, 1);
    assertForPeople(err);
    assert.deepEqual(await names(folder), []);
  });
});

Deno.test("shown_in: inch: report and sheets speak inches, and so does check", async () => {
  await inFolder(async (folder) => {
    const record = join(folder, "mine");
    await Deno.mkdir(record);
    await Deno.writeTextFile(
      join(record, "mirror.yaml"),
      "aperture: 6 in\nfocal_length: 48 in\nthickness: 1 in\nbevel: 1 mm\nshown_in: inch\n",
    );
    await Deno.writeTextFile(join(record, "sun.csv"), "distance_in\n47.9\n48\n48.1\n");
    assert.equal((await run("print", [record, "--out", "sheets"], folder)).code, 0);
    const report = await Deno.readTextFile(join(folder, "sheets", "report.html"));
    const said = report.replace(/<(style|script|svg|head)\b[\s\S]*?<\/\1>/g, "");
    assert.match(said, /6 in f\/8/);
    assert.doesNotMatch(said, /\d[ \u00a0\u2009](mm|µm)\b/);
    const sheet = await Deno.readTextFile(join(folder, "sheets", "print", "record-sun-a4.html"));
    assert.match(sheet, /distance_in/);
    assert.doesNotMatch(sheet, /distance_mm/);
    const { out } = await run("check", [record], folder);
    assert.match(out, /focal length 48 in, radius 96 in/);
    assert.doesNotMatch(out, /\d (mm|µm)\b/);
  });
});
