import assert from "node:assert/strict";
import { join } from "node:path";
import { isClass, openClass, readMember, recordsIn } from "../../lib/knowledge/classOfRecords.ts";
import { rememberIn } from "../../lib/numeric/remembered.ts";
import { kestrelLane, withClass, writeMakers } from "../record/classBench.ts";

const many = await openClass(kestrelLane);

Deno.test("the demo class: twelve benches, all readable, in the order of their numbers", () => {
  assert.equal(many.rows.length, 12);
  assert.deepEqual(many.unreadable, []);
  assert.deepEqual(many.rows.map(({ title }) => title.match(/\d+/)?.[0]), [
    ...Array.from({ length: 12 }, (_, i) => String(i + 1)),
  ]);
  assert.equal(many.today, "2026-09-26");
});

Deno.test("its focal lengths are the story's, by leaves, within half a millimetre", () => {
  // INVENTED with the class: f of the twelve, mm; each maker's own u about 3
  const story = [1198.3, 1191, 1206, 1183, 1202, 1229, 1195, 1208, 1187, 1199, 1211, 1193];
  many.rows.forEach(({ focalBy, title }, i) => {
    const { value = 0, u = 0 } = focalBy.leaves ?? {};
    assert.ok(Math.abs(value - (story[i] ?? 0)) <= 0.5, `${title}: ${value}`);
    assert.ok(u > 2.7 && u < 3.4, `${title}: ${u}`);
  });
});

Deno.test("bench 6 forgot its bevel, and only bench 6", () => {
  const slips = many.rows.filter(({ slip }) => slip !== undefined);
  assert.deepEqual(slips.map(({ record }) => record), ["bench-06"]);
  assert.match(slips[0]?.slip ?? "", /1\.027 times f by the Sun.*bevel/);
});

Deno.test("a record that cannot be read is said with its place, the others are read", () =>
  withClass({ "bench-03/sagitta.csv": "go_mm,nogo_mm\n1.1o,1.12\n" }, async (folder) => {
    const { rows, unreadable } = await openClass(folder);
    assert.equal(rows.length, 11);
    assert.equal(unreadable[0]?.record, "bench-03");
    assert.match(unreadable[0]?.why[0] ?? "", /^sagitta\.csv, line 2, column go_mm: found "1\.1o"/);
  }));

Deno.test("a table without a mirror.yaml is a record to mend, a folder of other things is none", () =>
  withClass({
    "bench-13/sun.csv": "distance_mm\n1200\n",
    "pictures/a.txt": "a",
    ".hidden/mirror.yaml": "aperture: 1 mm",
  }, async (folder) => {
    const { rows, unreadable } = await openClass(folder);
    assert.equal(rows.length, 12);
    assert.deepEqual(unreadable.map(({ record }) => record), ["bench-13"]);
    assert.match(unreadable[0]?.why[0] ?? "", /mirror\.yaml: found no such file/);
  }));

Deno.test({
  name: "a link among the records is not followed",
  ignore: Deno.build.os === "windows",
  fn: () =>
    withClass({}, async (folder) => {
      await Deno.symlink(join(kestrelLane, "bench-01"), join(folder, "linked"));
      assert.ok(!(await recordsIn(folder)).includes("linked"));
    }),
});

Deno.test("a class is a folder with records and no mirror.yaml of its own", async () => {
  assert.equal(await isClass(kestrelLane), true);
  assert.equal(await isClass(join(kestrelLane, "bench-01")), false);
  assert.equal(await isClass(join(kestrelLane, "nowhere")), false);
});

Deno.test("numbers in names are sorted by their value, and some may be left out", async () => {
  const folder = await Deno.makeTempDir({ prefix: "class-" });
  try {
    await writeMakers(folder, 11);
    const names = await recordsIn(folder);
    assert.deepEqual(names.slice(-2), ["bench-10", "bench-11"]);
    const { rows } = await openClass(folder, { without: names.slice(2) });
    assert.deepEqual(rows.map(({ record }) => record), ["bench-1", "bench-2"]);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
});

Deno.test("read by two side by side a class is the same, refusals too", () =>
  withClass({ "bench-05/mirror.yaml": "aperture: 150\n" }, async (folder) => {
    const alone = await openClass(folder, { workers: 1 });
    assert.deepEqual(await openClass(folder, { workers: 2 }), alone);
    assert.equal(alone.unreadable.length, 1);
  }));

Deno.test("a row that was kept is used for the same files, on a day on which they say the same", () =>
  withClass({}, async (folder) => {
    const bench = join(folder, "bench-03"), kept = new Map<string, unknown>();
    const asked: string[] = [];
    rememberIn({
      recall: (what, inputs) => {
        asked.push(what);
        const value = kept.get(what + inputs);
        return value === undefined ? undefined : { value };
      },
      keep: (what, inputs, value) => void kept.set(what + inputs, value),
    });
    try {
      const first = await readMember(bench);
      assert.deepEqual(asked.splice(0)[0], "datedRow");
      assert.deepEqual([await readMember(bench), asked.splice(0)], [first, ["datedRow"]]);
      const early = await readMember(bench, "2026-01-01");
      assert.match("unreadable" in early ? early.unreadable.why[0] ?? "" : "", /a day up to today/);
      const late = await readMember(bench, "2099-01-01");
      const warnings = "row" in late ? late.row.warnings : [];
      assert.ok(warnings.some((one) => one.includes("is the year right?")), warnings.join());
      const { size } = kept;
      await Deno.writeTextFile(join(bench, "sagitta.csv"), "go_mm,nogo_mm\n1.10,1.12\n");
      const other = await readMember(bench);
      assert.ok("row" in first && "row" in other);
      assert.notDeepEqual(other.row.focalBy, first.row.focalBy);
      assert.ok(kept.size > size);
      await Deno.writeTextFile(join(bench, "photo.png"), "");
      asked.length = 0;
      await readMember(bench);
      assert.ok(!asked.includes("datedRow"));
    } finally {
      rememberIn(undefined);
    }
  }));
