/** `deno task check` as a person runs it: what it prints, what it writes, how it ends. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { deserialize } from "node:v8";
import { contractProblems } from "../contract/contract.ts";
import { EMPTY, withCopy } from "../contract/copies.ts";
import { assertForPeople, inFolder, names, run } from "./run.ts";

const unchanged = (_: string, text: string): string => text;

Deno.test("check prints what is known, how surely, and the next step, in plain lines", async () => {
  const { code, out, err } = await run("check", []);
  assert.equal(code, 0);
  assert.equal(err, "");
  for (
    const words of [
      /^Asha's mirror, Kestrel Lane, blue group +\(demo-150-f8\)$/m,
      /^150 mm aperture, f\/8$/m,
      /^ +together +radius 2396\.\d mm ± 2\.\d mm/m,
      /^ +set aside +sagitta\.csv, line 7: /m,
      /^ +meets the goal +yes$/m,
      /^Next step: coating$/m,
      /^ +caution +\S/m,
    ]
  ) assert.match(out, words);
  // deno-lint-ignore no-control-regex -- colours have no place in a file or a pipe
  assert.doesNotMatch(out, /\u001b|undefined|NaN|null|\[object/);
});

Deno.test("a folder outside the project, with spaces in both names, is read from where it is", async () => {
  await inFolder(async (folder) => {
    await withCopy("halfway-200-f6", unchanged, async (copy) => {
      const before = await names(copy);
      const { code, out } = await run("check", [copy, "--json", "what is known.json"], folder);
      assert.equal(code, 0);
      assert.match(out, /\(bram's second try\)/);
      assert.match(out, /^Written: what is known\.json$/m);
      assert.deepEqual(await names(folder), ["what is known.json"], "nothing else is written");
      assert.deepEqual(await names(copy), before, "nothing in the record is changed");
      const summary = JSON.parse(await Deno.readTextFile(join(folder, "what is known.json")));
      assert.deepEqual(contractProblems(summary), []);
      assert.equal(summary.record, "bram's second try");
    }, "bram's second try");
  });
});

Deno.test("through deno task, from the kit's own folder, it is the same", async () => {
  await inFolder(async (folder) => {
    const file = join(folder, "out.json");
    const { code, stdout, stderr } = await new Deno.Command(Deno.execPath(), {
      args: ["task", "--quiet", "check", "halfway-200-f6", "--json", file],
      cwd: fileURLToPath(new URL("../../", import.meta.url)),
      env: { NO_COLOR: "1" },
    }).output();
    assert.equal(code, 0, new TextDecoder().decode(stderr));
    assert.match(
      new TextDecoder().decode(stdout),
      /^Bram's mirror.*\n[\s\S]*^Written: .*out\.json$/m,
    );
    assert.deepEqual(contractProblems(JSON.parse(await Deno.readTextFile(file))), []);
  });
});

Deno.test("--json is the same byte for byte each time, and newer replaces older", async () => {
  await inFolder(async (folder) => {
    const read = async (file: string): Promise<string> => {
      assert.equal((await run("check", ["--json", file], folder)).code, 0);
      return await Deno.readTextFile(join(folder, file));
    };
    const first = await read("a.json");
    assert.equal(await read("b.json"), first);
    await Deno.writeTextFile(join(folder, "a.json"), `{"kit_version":"0.0.1"}`);
    assert.equal(await read("a.json"), first);
    assert.deepEqual(contractProblems(JSON.parse(first)), []);
  });
});

Deno.test("what was reduced before is told again to the byte, and anew where it cannot be used", async () => {
  const kept = fileURLToPath(new URL("../../book/.kept/checks/", import.meta.url));
  await withCopy("class-kestrel-lane/bench-05", unchanged, async (copy) => {
    const file = join(kept, encodeURIComponent(copy).slice(-200));
    const told = async (): Promise<string> => {
      const { code, out } = await run("check", [copy]);
      assert.equal(code, 0);
      return out;
    };
    try {
      const first = await told(), bytes = await Deno.readFile(file);
      assert.match(first, /zones/);
      assert.equal(await told(), first);
      assert.deepEqual(await Deno.readFile(file), bytes, "nothing was reduced anew");
      await Deno.writeFile(file, bytes.subarray(0, 500));
      assert.equal(await told(), first, "half a file");
      // by value: a whole number is four bytes or eight, as the engine happened to hold it
      const anew = deserialize(await Deno.readFile(file));
      assert.deepEqual(anew, deserialize(bytes), "it was reduced anew, and kept");
      const zones = join(copy, "zones.csv"), text = (await Deno.readTextFile(zones)).trimEnd();
      await Deno.writeTextFile(zones, `${text.slice(0, text.lastIndexOf("\n"))}\n`);
      assert.notEqual(await told(), first, "a reading less is another mirror");
    } finally {
      await Deno.remove(file).catch(() => {});
    }
  }, "bench-05");
});

Deno.test("a record with nothing measured says so, and what it took as usual", async () => {
  const { code, out } = await run("check", [EMPTY]);
  assert.equal(code, 0);
  assert.match(out, /^Taken as usual$/m);
  assert.match(out, /^Next step: blanks$/m);
  assert.doesNotMatch(out, /Curve|Verdict|0 mm ±/);
});

Deno.test("--today sets the day: what lies after it is refused, what is no day is mistyped", async () => {
  const { code, out, err } = await run("check", ["--today", "2026-06-20"]);
  assert.equal(code, 1);
  assert.equal(out, "");
  assert.match(
    err,
    /^zones\.csv, line 35, column date: found "2026-06-26", wanted a day up to today, 2026-06-20/m,
  );
  assert.equal((await run("check", ["--today", "2026-11-15"])).code, 0);
  const none = await run("check", ["--today", "26 June"]);
  assert.equal(none.code, 2);
  assert.match(
    none.err,
    /^--today wants a day such as 2026-04-18, got "26 June"\.\nTry: deno task check --help\n$/,
  );
});

Deno.test("--json into a folder that is not there: refused in a sentence, nothing written", async () => {
  await inFolder(async (folder) => {
    const { code, out, err } = await run("check", ["--json", "not/there/out.json"], folder);
    assert.equal(code, 1);
    assert.equal(out, "");
    assert.match(err, /not\/there\/out\.json cannot be written; .+\.\n$/);
    assert.deepEqual(await names(folder), []);
  });
});

Deno.test("--json never takes the place of a maker's own file or folder", async () => {
  await inFolder(async (folder) => {
    const mine: Record<string, string> = {
      "sagitta.csv": "go_mm,nogo_mm\n0.19,0.20\n",
      "notes.json": `{"mine": true}`,
      "empty.txt": "",
    };
    for (const [name, text] of Object.entries(mine)) {
      await Deno.writeTextFile(join(folder, name), text);
      const { code, out, err } = await run("check", ["--json", name], folder);
      assert.equal(code, 1, name);
      assert.equal(out, "");
      assert.match(
        err,
        /is not a summary of a mirror, so it is left alone; name another file\.\n$/,
      );
      assert.equal(await Deno.readTextFile(join(folder, name)), text);
    }
    const { code, err } = await run("check", ["--json", "."], folder);
    assert.equal(code, 1);
    assertForPeople(err);
    assert.deepEqual(await names(folder), Object.keys(mine).sort());
  });
});

Deno.test({
  name: "--json into a folder that may not be written: refused in a sentence",
  ignore: Deno.build.os === "windows",
  fn: async () => {
    // /proc takes no files from anybody, not even from the administrator
    const { code, out, err } = await run("check", ["--json", "/proc/out.json"]);
    assert.equal(code, 1);
    assert.equal(out, "");
    assert.match(err, /^\/proc\/out\.json cannot be written; .+\.\n$/);
  },
});

Deno.test("a mistyped command has a status of its own and points to the help", async () => {
  for (const args of [["--jsno", "x"], ["--json"], ["one", "two"]]) {
    const { code, out, err } = await run("check", args);
    assert.equal(code, 2, args.join(" "));
    assert.equal(out, "");
    assertForPeople(err);
    assert.match(err, /check/);
  }
});

Deno.test("a folder of records is a class: printed, as JSON, as a page, each refused over another's file", async () => {
  await inFolder(async (folder) => {
    const { code, out, err } = await run("check", [
      ...["class-kestrel-lane", "--json", "class.json", "--page", "class.html"],
    ], folder);
    assert.deepEqual([code, err], [0, ""]);
    assert.match(out, /^class-kestrel-lane: 12 mirrors/);
    assert.match(out, /^Written: class\.json, class\.html$/m);
    const { rows, attention } = JSON.parse(await Deno.readTextFile(join(folder, "class.json")));
    assert.deepEqual([rows.length, attention.length, attention[0]], [12, 12, "bench-11"]);
    await Deno.writeTextFile(join(folder, "mine.html"), "<p>mine</p>");
    const second = await run("check", ["class-kestrel-lane", "--page", "mine.html"], folder);
    assert.equal(second.code, 1);
    assert.match(second.err, /is not a page of a class, so it is left alone/);
    assert.equal(await Deno.readTextFile(join(folder, "mine.html")), "<p>mine</p>");
  });
});

Deno.test("--page of a single record is a mistyped command", async () => {
  const { code, out, err } = await run("check", ["halfway-200-f6", "--page", "x.html"]);
  assert.deepEqual([code, out], [2, ""]);
  assert.match(err, /--page goes with a folder of records/);
});
