import assert from "node:assert/strict";
import { openClass } from "../../lib/knowledge/classOfRecords.ts";
import { tellClass } from "../../lib/knowledge/tellClass.ts";
import { kestrelLane, withClass } from "../record/classBench.ts";

Deno.test("a class in plain lines: a line a mirror, the spread, whom to go to", async () => {
  const lines = tellClass(await openClass(kestrelLane)), text = lines.join("\n");
  assert.equal(lines[0], "class-kestrel-lane: 12 mirrors, latest day 2026-09-26");
  assert.equal(lines.filter((line) => /^Bench \d+, (blue|red) /.test(line)).length, 12);
  assert.match(text, /^Bench 4, red .*17 µm too deep, measure the curve$/m);
  assert.match(text, /^ {2}between makers 12\.\d mm, own u 3\.0 mm: 12\.\d mm is left/m);
  assert.match(
    text,
    /^ {3}3 adult {12}Bench 6, red: Edge work: an adult stands beside\. f by leaves is 1\.027/m,
  );
  assert.match(text, /^ {2}12 done {13}Bench 1, blue/m);
  // what to mind stands above the table that names the next steps, each sentence once
  assert.equal(lines[2], "Mind, before the next step");
  assert.ok(text.indexOf("Safety glasses on") < text.indexOf("Bench 1, blue"));
  assert.equal(text.match(/Safety glasses on/g)?.length, 1);
  // deno-lint-ignore no-control-regex -- colours have no place in a file or a pipe
  assert.doesNotMatch(text, /\u001b|undefined|NaN|null|\[object/);
});

Deno.test("what cannot be read stands apart, and how many places there are to mend", () =>
  withClass({ "bench-02/sagitta.csv": "go_mm,nogo_mm\nx,1.12\ny,1.12\n" }, async (folder) => {
    const text = tellClass(await openClass(folder)).join("\n");
    assert.match(
      text,
      /^Cannot be read; the others can\n {2}bench-02: sagitta\.csv, line 2.*\n {4}and 1 more/m,
    );
    assert.match(text, /^ {3}7 cannot be read {3}Bench 2, red: Cannot be read/m);
  }));

Deno.test("a class of none says so and stops at that", () => {
  assert.equal(tellClass({ name: "x", rows: [], unreadable: [] })[0], "x: 0 mirrors");
});

Deno.test("a class whose every record is told in inches is; of one that is mixed all are told in mm", async () => {
  const class_ = await openClass(kestrelLane), inch = { shownIn: "inch" } as const;
  const all = { ...class_, rows: class_.rows.map((row) => ({ ...row, ...inch })) };
  const text = tellClass(all).join("\n");
  assert.match(text, /^mirror +next +f, in +sagitta, in +wanted/m);
  assert.match(text, /^Bench 4, red .*0\.7 thou too deep/m);
  // DERIVED: 12 mm between makers are 12 / 25.4 = 0.47 inches
  assert.match(text, /between makers 0\.4\d in|between makers 0\.5\d? in/);
  assert.doesNotMatch(text, /\d (mm|µm)/);
  const mixed = {
    ...class_,
    rows: class_.rows.map((row, i) => i === 0 ? row : { ...row, ...inch }),
  };
  assert.match(tellClass(mixed).join("\n"), /^mirror +next +f, mm/m);
});
