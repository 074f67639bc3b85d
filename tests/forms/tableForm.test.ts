/** The form of a table: the file's own columns, or a fresh file's; what stands in it before anybody types. */
import assert from "node:assert/strict";
import { tableForm } from "../../lib/forms/tableForm.ts";
import { columnsOf, TABLES } from "../../lib/record/schema.ts";
import { read } from "../record/bench.ts";

const TODAY = "2026-11-30";
const MASKED =
  "aperture: 150 mm\nfocal_length: 1200 mm\nbevel: 1 mm\nmask: [0 mm, 30 mm, 45 mm, 60 mm]\n";

Deno.test("every table has a form of the columns that a fresh one has, each with a meaning and an example", async () => {
  const record = await read({});
  for (const table of TABLES) {
    const { fields, title } = tableForm(table, undefined, record, TODAY);
    assert.ok(title.length > 10 && fields.length >= 4, table);
    for (const { name, meaning, example, label } of fields) {
      assert.ok(meaning.length > 5 && example !== "", `${table} ${name}`);
      assert.doesNotMatch(label, /_/);
    }
    const required = columnsOf(table).filter((column) => column.required === true).length;
    assert.equal(fields.filter((field) => field.required).length, required, table);
  }
  const { fields } = tableForm("sagitta", undefined, record, TODAY);
  assert.deepEqual(fields.map(({ name, write }) => `${name} ${write}`), [
    "date words",
    "after_min number",
    "go_mm sum",
    "nogo_mm sum",
    "note words",
  ]);
});

Deno.test("a file's own columns, units and order are the form's", async () => {
  const text = "# at the bench\nnogo_in;go_in;after_h\n";
  const { fields } = tableForm("sagitta", text, await read({}), TODAY);
  // DERIVED 0.88 mm and 0.25 mm over 25.4 mm are 0.0346 and 0.00984 inches; 120 min are 2 h
  assert.deepEqual(fields.map(({ name, unit, example }) => [name, unit, example]), [
    ["nogo_in", "in", "0.0335+0.0118"],
    ["go_in", "in", "0.0346+0.00984"],
    ["after_h", "h", "2"],
  ]);
});

Deno.test("zones with a mask have a field for each opening; lengths in inches where the record wants them", async () => {
  const masked = await read({ "mirror.yaml": MASKED });
  const names = tableForm("zones", undefined, masked, TODAY).fields.map(({ name }) => name);
  assert.ok(
    ["zone_1_mm", "zone_2_mm", "zone_3_mm", "first_again_mm"].every((one) => names.includes(one)),
  );
  assert.ok(!names.includes("zone_4_mm") && !names.includes("inner_mm"));
  const inches = await read({ "mirror.yaml": `${MASKED}shown_in: inch\n` });
  const [, , distance] = tableForm("lamp", undefined, inches, TODAY).fields;
  // DERIVED 2398 mm over 25.4 mm, three digits
  assert.deepEqual([distance?.name, distance?.example], ["distance_in", "94.4"]);
});

Deno.test("day, minutes so far and the next run stand in their fields; what is read stays empty", async () => {
  const record = await read({
    "grinding.csv":
      "date,abrasive,position,minutes\n2026-03-21,F80,mirror on top,20\n2026-03-22,F80,tool on top,15\n",
    "zones.csv":
      "date,run,inner_mm,outer_mm,reading_mm\n2026-11-30,2,0,30,1.1\n2026-11-30,2,30,60,1.2\n",
  });
  const usual = (table: "sagitta" | "zones" | "grinding"): Record<string, string> =>
    Object.fromEntries(
      tableForm(table, undefined, record, TODAY).fields.flatMap(({ name, usual }) =>
        usual === undefined ? [] : [[name, usual]]
      ),
    );
  // DERIVED 20 and 15 minutes
  assert.deepEqual(usual("sagitta"), { date: TODAY, after_min: "35" });
  assert.equal(usual("zones")["run"], "3");
  assert.deepEqual(usual("grinding"), { date: TODAY });
});

Deno.test("few words are shown to choose from, and what is a danger is told", async () => {
  const record = await read({});
  const position = tableForm("grinding", undefined, record, TODAY).fields
    .find(({ name }) => name === "position");
  assert.deepEqual(position?.choices, ["mirror on top", "tool on top"]);
  const [first = ""] = tableForm("sun", undefined, record, TODAY).remarks;
  assert.match(first, /Never look at the Sun/);
});

Deno.test("a header that cannot be understood gives a form without fields, and no error", async () => {
  const form = tableForm("sun", '"', await read({}), TODAY);
  assert.deepEqual(form.fields, []);
});
