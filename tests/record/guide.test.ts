/**
 * The tables of columns in data/records/README.md follow from the schema, and its page for mirror.yaml has every key. After a change of the schema
 * `RECORD=1 deno test -A tests/record/guide.test.ts` writes them again.
 */
import assert from "node:assert/strict";
import { parse } from "yaml";
import {
  type ColumnInWords,
  inWords,
  SCHEMA,
  type TableName,
  TABLES,
} from "../../lib/record/schema.ts";
import { KEYS } from "../../lib/record/settings.ts";
import type { Reader } from "../../lib/record/yaml.ts";

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

/** Every key's path, such as `telescope.tube.wall`; a group's own comes before those in it. */
function known({ keys = {} }: Pick<Reader<unknown>, "keys">, before = ""): string[] {
  return Object.entries(keys).flatMap(([name, reader]) => {
    const path = before + name.replace(/[A-Z]/g, (capital) => `_${capital.toLowerCase()}`);
    return [path, ...known(reader, `${path}.`)];
  });
}

/** The paths that a page of yaml tells; of a list of groups those of its first. */
function written(page: unknown, before = ""): string[] {
  const group: unknown = Array.isArray(page) ? page[0] : page;
  if (typeof group !== "object" || group === null || Array.isArray(group)) return [];
  return Object.entries(group).flatMap(([key, value]: [string, unknown]) => [
    before + key,
    ...written(value, `${before}${key}.`),
  ]);
}

Deno.test("the guide's mirror.yaml and a fresh one have every key that is read, and no other", async () => {
  const guide = /```yaml\n([\s\S]*?)```/.exec(await Deno.readTextFile(path))?.[1] ?? "";
  const fresh = await Deno.readTextFile(
    new URL("../../data/template/mirror.yaml", import.meta.url),
  );
  for (const text of [guide, fresh.replace(/^# (?= *[a-z_]+:)/gm, "")]) {
    const page: unknown = parse(text);
    assert.deepEqual(written(page).sort(), known(KEYS).sort());
  }
});
