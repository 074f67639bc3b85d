/** The schema of the tables: its own examples are read, and what follows from it says the same. */
import assert from "node:assert/strict";
import { freshTable } from "../../lib/record/freshTable.ts";
import {
  columnsOf,
  COMMON,
  inWords,
  SCHEMA,
  TABLES,
  usualHeader,
} from "../../lib/record/schema.ts";
import type { GrindingRow, RowOf, ZoneRow } from "../../lib/record/types.ts";
import { read, refusals } from "./bench.ts";

/** Fails to compile where two types are not the same. */
function same<A, B>(
  _: (<T>() => T extends A ? 1 : 2) extends (<T>() => T extends B ? 1 : 2) ? true : false,
): void {}

Deno.test("a row's type follows from the schema: needed, optional, words to choose from", () => {
  same<GrindingRow["abrasive"], string>(true);
  same<GrindingRow["strokes"], number | undefined>(true);
  same<GrindingRow["position"], "mirror on top" | "tool on top">(true);
  same<ZoneRow["order"], "outward" | "inward" | undefined>(true);
  same<RowOf<"sagitta">["go"], readonly number[] | undefined>(true);
  same<RowOf<"diary">["date"], string>(true);
  same<RowOf<"sun">["date"], string | undefined>(true);
});

Deno.test("each column's own example is read without a refusal and arrives in its field", async () => {
  for (const table of TABLES) {
    if (hasPhoto(table)) continue;
    const record = await read({ [`${table}.csv`]: examples(table) });
    const row: object | undefined = record[table][0];
    assert.ok(row !== undefined, table);
    for (const { field } of columnsOf(table)) {
      if (table === "sagitta" && field === "depth") continue;
      if (table !== "grinding" && field === "minutes") continue; // in place of after_min
      assert.notEqual(Reflect.get(row, field), undefined, `${table}: ${field}`);
    }
  }
});

/** Its example names a photograph, which is not there. */
function hasPhoto(table: typeof TABLES[number]): boolean {
  return columnsOf(table).some(({ kind }) => kind === "photo");
}

/** A table of examples; where columns exclude each other, or a partner row is needed, by hand. */
function examples(table: typeof TABLES[number]): string {
  const columns = columnsOf(table).filter(({ name }) =>
    (table !== "sagitta" || name !== "depth") && (table === "grinding" || name !== "minutes")
  );
  const row = columns.map(({ example }) => `"${example}"`).join(",");
  const partner = table === "spherometer" ? `\n${row.replace('"mirror"', '"flat"')}` : "";
  return `${columns.map(usualHeader).join(",")}\n${row}${partner}\n`;
}

Deno.test("a number beyond its column's range is refused in every column that has one", async () => {
  for (const table of TABLES) {
    const columns = columnsOf(table);
    for (const column of columns) {
      const { range } = inWords(table)[columns.indexOf(column)] ?? {};
      if (range === undefined) continue;
      const row = columns.map((one) => one === column ? "1e9" : `"${one.example}"`).join(",");
      const text = `${columns.map(usualHeader).join(",")}\n${row}\n`;
      const told = (await refusals({ [`${table}.csv`]: text })).map(({ message }) => message);
      assert.ok(told.some((one) => one.startsWith(`found "1e9", wanted ${range}:`)), column.field);
    }
  }
});

Deno.test("a fresh table names every column, in its header or as one that may be added", () => {
  for (const table of TABLES) {
    const text = freshTable(table);
    const lines = text.trimEnd().split("\n");
    const header = lines.find((line) => !line.startsWith("#")) ?? "", sample = lines.at(-1) ?? "";
    const added = /^# May be added: (.*)\. data/m.exec(text)?.[1]?.split(", ") ?? [];
    assert.deepEqual(
      [...header.split(","), ...added].sort(),
      columnsOf(table).map(usualHeader).sort(),
      table,
    );
    assert.equal(sample.split(",").length, header.split(",").length, `${table}: ${sample}`);
  }
});

Deno.test("a sample of a fresh table speaks of columns that there are", () => {
  for (const table of TABLES) {
    const { columns, samples } = SCHEMA[table];
    for (const field of samples.flatMap(Object.keys)) {
      assert.ok(field in columns || field in COMMON, `${table}: ${field}`);
    }
  }
});

Deno.test("a fresh table's examples read as rows once their mark is taken away", async () => {
  for (const table of TABLES) {
    if (hasPhoto(table)) continue;
    const text = freshTable(table).replace(/^# (?=\d{4}-)/gm, "");
    const record = await read({ [`${table}.csv`]: text });
    assert.ok(record[table].length >= 1, table);
  }
});

Deno.test("columns in words are plain values that a form can be made of", () => {
  for (const table of TABLES) {
    assert.deepEqual(JSON.parse(JSON.stringify(inWords(table))), inWords(table));
  }
  const [surface, dial] = inWords("spherometer");
  assert.deepEqual([surface?.write, surface?.choices], ["choice", ["flat", "mirror"]]);
  assert.deepEqual([dial?.write, dial?.range, dial?.required], [
    "number",
    "-1000 to 1000 mm",
    true,
  ]);
});
