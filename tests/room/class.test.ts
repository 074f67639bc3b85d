/** A class begun, told, printed and written as Parquet; class.yaml. Classes are INVENTED. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { classNow } from "../../lib/knowledge/classLines.ts";
import { openClass } from "../../lib/knowledge/classOfRecords.ts";
import { readClassSettings } from "../../lib/record/classSettings.ts";
import { Findings } from "../../lib/record/errors.ts";
import { assertForPeople, inFolder, run } from "../commands/run.ts";
import { kestrelLane } from "../record/classBench.ts";

Deno.test("class.yaml: all of it optional; what cannot be is refused with its line, the rest is read", () => {
  const read = (text: string): [ReturnType<typeof readClassSettings>, readonly string[]] => {
    const findings = new Findings();
    return [
      readClassSettings(text, findings),
      findings.refusals.map(({ line, message }) => `${line}: ${message}`),
    ];
  };
  assert.deepEqual(read("# nothing\n"), [{}, []]);
  const [settings, refused] = read(
    "title: Ours\nbenches: [{ folder: b1, name: Bench 1, learners: 2 }]\ndates: [2026-09-22]\nhours: 6\nadults: 2\nstock: { f80: 0.9 kg, pitch: 3 kg, oxide: 350 g }\ntester: { count: 2 }\n",
  );
  assert.deepEqual(refused, []);
  assert.deepEqual([...settings.stock ?? []], [["F80", 900], ["pitch", 3000], ["oxide", 350]]);
  assert.deepEqual(settings.benches, [{ folder: "b1", name: "Bench 1", learners: 2 }]);
  const [kept, told] = read("adults: many\nstock: { F80: 900, sand: 1 kg }\ntitle: Ours\n");
  assert.equal(kept.title, "Ours");
  assert.deepEqual(told.map((line) => line.slice(0, 9)), ["1: found ", "2: found ", "2: found "]);
});

Deno.test("names by class.yaml, the leader's pins first, the tester's queue, what is left of the powder", async () => {
  const many = await openClass(kestrelLane, { today: "2026-09-28" });
  const text =
    "benches: [{ folder: bench-03, name: Third }]\nstock: { F80: 2 kg, F1200: 100 g, pitch: 1 kg }\nadults: 1\n";
  const now = classNow(many, readClassSettings(text, new Findings()), ["bench-05", "bench-03"]);
  assert.deepEqual(
    now.benches.slice(0, 3).map(({ folder, name, kind, rank }) => [
      ...[folder, name, kind, rank],
    ]),
    [
      ["bench-05", "Bench 5, blue", "pinned", 1],
      ["bench-03", "Third", "pinned", 2],
      ["bench-11", "Bench 11, blue", "cannot be undone", 3],
    ],
  );
  assert.match(now.benches[0]?.reason ?? "", /^Put first by the leader\. At figuring/);
  assert.deepEqual(now.tester, { count: 1, waiting: ["bench-12"] });
  // bench 6 has a bevel of 0 mm: its edge is stoned with an adult beside
  assert.deepEqual(now.adults, { count: 1, wanted: ["bench-06", "bench-07"] });
  // DERIVED: all logs hold 1534 min of F80; a charge of 4 g lasts 4.5 min in the middle of 3 to 6
  const minutes = many.rows.reduce((sum, row) => sum + (row.used["F80"] ?? 0), 0) * 4.5 / 4;
  const [f80] = now.stock;
  assert.equal(f80?.left, Math.round(2000 - minutes * 4 / 4.5));
  assert.ok(f80 !== undefined && f80.left > 0 && f80.left < 1000);
});

Deno.test("new --class begins a class that check reads and print prints; nothing is written over", () =>
  inFolder(async (folder) => {
    const target = join(folder, "our class");
    const begun = await run("new", ["--class", target, "--benches", "3"], folder);
    assert.equal(begun.code, 0, begun.err);
    const names = [...Deno.readDirSync(target)].map(({ name }) => name).sort();
    assert.deepEqual(names, [".gitignore", "bench-01", "bench-02", "bench-03", "class.yaml"]);
    assert.match(await Deno.readTextFile(join(target, ".gitignore")), /^\.room\/$/m);
    const findings = new Findings();
    const settings = readClassSettings(
      await Deno.readTextFile(join(target, "class.yaml")),
      findings,
    );
    assert.deepEqual(findings.refusals, []);
    assert.deepEqual(settings.benches?.map(({ name }) => name), ["Bench 1", "Bench 2", "Bench 3"]);
    const check = await run("check", [target], folder);
    assert.equal(check.code, 0, check.err);
    assert.match(check.out, /nothing yet {6}Bench 1: Nothing is written yet\./);
    const again = await run("new", ["--class", target], folder);
    assert.equal(again.code, 1);
    assertForPeople(again.err);
    for (
      const args of [["--class", target, "x"], ["--benches", "3"], [
        "--class",
        "y",
        "--benches",
        "0",
      ]]
    ) {
      assert.equal((await run("new", args, folder)).code, 2, args.join(" "));
    }
    const printed = await run("print", [target, "--out", join(folder, "sheets")], folder);
    assert.equal(printed.code, 0, printed.err);
    const html = await Deno.readTextFile(join(folder, "sheets", "index.html"));
    assert.equal(html.match(/<article class="a6"/g)?.length, 3);
    assert.doesNotMatch(html, /<script(?!>try)|undefined|NaN/);
  }));

Deno.test("check --parquet: a row for each folder, every known quantity, the same columns for any class", () =>
  inFolder(async (folder) => {
    const { default: pl } = await import("nodejs-polars");
    const path = join(folder, "class.parquet");
    const { code, err } = await run("check", [kestrelLane, "--parquet", path], folder);
    assert.equal(code, 0, err);
    const frame = pl.readParquet(path);
    assert.equal(frame.height, 12);
    const four = frame.filter(pl.col("folder").eq(pl.lit("bench-04")));
    assert.equal(four.getColumn("state").toArray()[0], "read");
    // RECORDED: as check prints it, 17 um too deep
    assert.equal(Math.round(Number(four.getColumn("too_deep_um").toArray()[0])), 17);
    assert.equal(four.getColumn("quantity_radius_of_curvature_unit").toArray()[0], "mm");
    const fresh = join(folder, "fresh"), other = join(folder, "fresh.parquet");
    await run("new", ["--class", fresh, "--benches", "2"], folder);
    await Deno.mkdir(join(fresh, "bench-03"));
    assert.equal((await run("check", [fresh, "--parquet", other], folder)).code, 0);
    const small = pl.readParquet(other);
    assert.deepEqual(small.columns, frame.columns);
    assert.deepEqual(small.getColumn("state").toArray(), ["read", "read", "empty"]);
    assert.equal((await run("check", [fresh, "--parquet", other], folder)).code, 0, "replaced");
    await Deno.writeTextFile(other, "mine");
    assert.equal((await run("check", [fresh, "--parquet", other], folder)).code, 1, "not ours");
    const record = join(kestrelLane, "bench-01");
    assert.equal((await run("check", [record, "--parquet", other], folder)).code, 2);
  }));
