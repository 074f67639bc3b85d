import assert from "node:assert/strict";
import { columnsOf, COMMON, SCHEMA, TABLES, usualHeader } from "../../lib/record/schema.ts";
import { read } from "./bench.ts";

const guide = await Deno.readTextFile(new URL("../../data/records/README.md", import.meta.url));

/** The guide's part on one table: from its name to the next table's. */
function partOn(table: string): string {
  return new RegExp(`\`${table}\\.csv\`, [^\\n]*\\n([\\s\\S]*?)(?=\\n\`\\w+\\.csv\`, |\\n## |$)`)
    .exec(guide)?.[1] ?? "";
}

Deno.test("the guide tells every column of every table with an example", () => {
  for (const table of TABLES) {
    for (const column of SCHEMA[table]) {
      const row = new RegExp(`^\\| \`${usualHeader(column)}\` \\| [^|]+ \\| \`[^|]+\` \\|$`, "m");
      assert.match(partOn(table), row, `${table}: ${column.name}`);
    }
  }
  for (const column of COMMON) {
    assert.ok(guide.includes(`| \`${usualHeader(column)}\` |`), column.name);
  }
});

Deno.test("the guide tells no column that there is not", () => {
  for (const table of TABLES) {
    const told = [...partOn(table).matchAll(/^\| `([a-z_]+)` \|/gm)].map((match) => match[1]);
    assert.deepEqual(told, SCHEMA[table].map(usualHeader), table);
  }
});

Deno.test("each column's own example is read without a refusal", async () => {
  for (const table of TABLES) {
    if (table === "ronchi") continue; // its example names a photograph
    const rows = examples(table);
    const record = await read({ [`${table}.csv`]: rows });
    assert.ok(record[table].length >= 1, table);
  }
});

/** A table of examples; where columns exclude each other, or a partner row is needed, by hand. */
function examples(table: typeof TABLES[number]): string {
  const columns = columnsOf(table).filter(({ name }) => table !== "sagitta" || name !== "depth");
  const row = columns.map(({ example }) => `"${example}"`).join(",");
  const partner = table === "spherometer" ? `\n${row.replace('"mirror"', '"flat"')}` : "";
  return `${columns.map(usualHeader).join(",")}\n${row}${partner}\n`;
}

Deno.test("the template has a table for each kind of reading, with known columns only", async () => {
  for (const table of TABLES) {
    const text = await Deno.readTextFile(
      new URL(`../../data/template/${table}.csv`, import.meta.url),
    );
    const [header = ""] = text.split("\n").filter((line) => !line.startsWith("#"));
    const known = columnsOf(table).map(usualHeader);
    for (const name of header.split(",")) assert.ok(known.includes(name), `${table}: ${name}`);
    const example = /^# (\d{4}-.*|F80.*)$/m.exec(text)?.[1] ?? "";
    assert.equal(example.split(",").length, header.split(",").length, `${table}: ${example}`);
  }
});

Deno.test("the template's examples read as rows once their mark is taken away", async () => {
  for (const table of TABLES) {
    if (table === "ronchi") continue;
    const text = await Deno.readTextFile(
      new URL(`../../data/template/${table}.csv`, import.meta.url),
    );
    const record = await read({ [`${table}.csv`]: text.replace(/^# (?=\d{4}-)/gm, "") });
    assert.ok(record[table].length >= 1, table);
  }
});
