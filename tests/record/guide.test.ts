/**
 * The tables of columns in data/records/README.md follow from the schema. After a change of the schema
 * `RECORD=1 deno test -A tests/record/guide.test.ts` writes them again.
 */
import assert from "node:assert/strict";
import {
  type ColumnInWords,
  inWords,
  SCHEMA,
  type TableName,
  TABLES,
} from "../../lib/record/schema.ts";

const path = new URL("../../data/records/README.md", import.meta.url);

/** What the guide says of a column: its meaning, the words to choose from, and what there is to know besides. */
function told({ meaning, more, choices = [] }: ColumnInWords): string {
  const words = choices.map((choice) => `\`${choice}\``);
  const listed = meaning.includes(words[0] ?? "`")
    ? ""
    : `: ${words.slice(0, -1).join(", ")} or ${words.at(-1)}`;
  return `${meaning}${words.length === 0 ? "" : listed}${more === undefined ? "" : `; ${more}`}`;
}

function columnTable(columns: readonly ColumnInWords[]): string {
  const rows = columns.map((one) => `| \`${one.head}\` | ${told(one)} | \`${one.example}\` |`);
  return ["| column | holds | example |", "|---|---|---|", ...rows].join("\n");
}

/** The guide with a part's first table of columns written anew; a part begins with these words. */
function withTable(guide: string, begin: string, columns: readonly ColumnInWords[]): string {
  const from = guide.indexOf(`\n${begin}`), at = guide.indexOf("\n| column |", from);
  const next = guide.indexOf("\n`", from + 1);
  assert.ok(
    from >= 0 && at >= 0,
    `the guide has a line that begins ${begin}, and a table after it`,
  );
  assert.ok(next < 0 || at < next, `a table of columns stands after ${begin}`);
  const rest = guide.slice(at + 1).split("\n"),
    end = rest.findIndex((line) => !line.startsWith("|"));
  return `${guide.slice(0, at + 1)}${columnTable(columns)}\n${rest.slice(end).join("\n")}`;
}

/** A table's own columns, which stand before the common ones, and the common ones. */
function parted(
  table: TableName,
): [own: readonly ColumnInWords[], common: readonly ColumnInWords[]] {
  const all = inWords(table), count = Object.keys(SCHEMA[table].columns).length;
  return [all.slice(0, count), all.slice(count)];
}

/** The guide as the schema would have it. */
function followed(guide: string): string {
  return TABLES.reduce(
    (text, table) => withTable(text, `\`${table}.csv\`, ${SCHEMA[table].title}`, parted(table)[0]),
    withTable(guide, "In every table", parted("sun")[1]),
  );
}

Deno.test("the guide tells every column of every table as the schema has it", async () => {
  const guide = await Deno.readTextFile(path);
  if (Deno.env.get("RECORD") !== undefined) await Deno.writeTextFile(path, followed(guide));
  assert.equal(await Deno.readTextFile(path), followed(guide));
});

Deno.test("a column that the guide lacks, or has in other words, is found", async () => {
  const guide = await Deno.readTextFile(path);
  for (const changed of ["| `chord_mm` |", "how far from the centre"]) {
    const damaged = guide.replaceAll(changed, "| `other_mm` |");
    assert.notEqual(followed(damaged), damaged);
    assert.equal(followed(damaged), guide);
  }
});
