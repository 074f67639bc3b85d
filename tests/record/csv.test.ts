import assert from "node:assert/strict";
import fc from "fast-check";
import { type CsvTable, splitTable } from "../../lib/record/csv.ts";
import { describe, Findings } from "../../lib/record/errors.ts";

function split(text: string): { table: CsvTable | undefined; told: string[] } {
  const findings = new Findings();
  const table = splitTable(text, "t.csv", findings);
  return { table, told: findings.refusals.map(describe) };
}

Deno.test("comma, semicolon and tab part cells; the header decides", () => {
  for (const sign of [",", ";", "\t"]) {
    const { table, told } = split(`a${sign}b\n1${sign}2\n`);
    assert.deepEqual([table?.delimiter, table?.rows, told], [
      sign,
      [{ line: 2, cells: ["1", "2"] }],
      [],
    ]);
  }
});

Deno.test("in a table of one column a comma is part of the number", () => {
  assert.deepEqual(split("distance_mm\n1199,5\n").table?.rows[0]?.cells, ["1199,5"]);
});

Deno.test("LF, CRLF and CR end lines, and the last line may lack its end", () => {
  for (const end of ["\n", "\r\n", "\r"]) {
    const { table } = split(["a,b", "", "1,2", "3,4"].join(end));
    assert.deepEqual(table?.rows.map(({ line }) => line), [3, 4]);
  }
});

Deno.test("remarks and blank lines do not count as rows, but as lines", () => {
  const { table } = split("# one\n\n  # two\na,b\n# three\n1,2\n,,,\n  \n3,4\n");
  assert.deepEqual(table?.header, { line: 4, cells: ["a", "b"] });
  assert.deepEqual(table?.rows.map(({ line }) => line), [6, 9]);
  assert.deepEqual(table?.comments, ["one", "two", "three"]);
});

Deno.test("a grade such as #400 begins a row only where grades come first", () => {
  assert.deepEqual(split("abrasive,minutes\n#400,20\n# 400 to come\n#F80,5\n").table?.rows, [
    { line: 2, cells: ["#400", "20"] },
  ]);
  assert.deepEqual(split("go_mm,nogo_mm\n#400,20\n1,2\n").table?.rows.length, 1);
  assert.deepEqual(split('abrasive;minutes\n"#400";20\n').table?.rows[0]?.cells, ["#400", "20"]);
});

Deno.test("quotation marks hold delimiters, line ends and each other", () => {
  const { table } = split('a,b\n "x, y" , "say ""so""" \n"two\nlines",3\n4,5\n');
  assert.deepEqual(table?.rows, [
    { line: 2, cells: ["x, y", 'say "so"'] },
    { line: 3, cells: ["two\nlines", "3"] },
    { line: 5, cells: ["4", "5"] },
  ]);
});

Deno.test("empty cells between tabs are kept", () => {
  assert.deepEqual(split('a\tb\tc\n\t"x"\t\n').table?.rows[0]?.cells, ["", "x", ""]);
});

Deno.test("nameless empty columns of a spreadsheet fall away, filled ones are refused", () => {
  const { table, told } = split("a,b,,\n1,2,,\n3,4,5,\n");
  assert.deepEqual(table?.rows, [{ line: 2, cells: ["1", "2"] }]);
  assert.match(told[0] ?? "", /^t\.csv, line 3: found 4 cells, wanted 2 as in the header/);
});

Deno.test("what was written with quotation marks is read back, whatever it holds", () => {
  const cell = fc.string({ unit: fc.constantFrom("a", '"', ",", ";", "\n", " ", "é", "#", "=") })
    .map((text) => text.trim());
  const row = fc.tuple(cell, cell).filter(([one, other]) => one + other !== "");
  fc.assert(
    fc.property(fc.array(row, { maxLength: 6 }), fc.constantFrom(",", ";", "\t"), (rows, sign) => {
      const quote = (text: string): string => `"${text.replaceAll('"', '""')}"`;
      const lines = rows.map(([one, other]) => quote(one) + sign + quote(other));
      const { table, told } = split([`"one"${sign}"other"`, ...lines].join("\r\n"));
      assert.deepEqual(told, []);
      assert.deepEqual(table?.rows.map(({ cells }) => cells), rows.map((cells) => [...cells]));
    }),
  );
});

Deno.test("no text makes the splitter throw", () => {
  const text = fc.string({
    unit: fc.constantFrom("a", '"', ",", ";", "\n", "\r", "\t", " ", "#", "0"),
  });
  fc.assert(fc.property(text, (any) => {
    const { table, told } = split(any);
    assert.ok(table !== undefined || told.length > 0);
  }));
});

Deno.test("column names that stand again are refused once, by their line", () => {
  const { told } = split("go_mm,nogo_mm\n0.9,0.93\nGo_mm,nogo_mm\n0.8,0.83\n");
  assert.equal(told.length, 1);
  assert.match(told[0] ?? "", /^t\.csv, line 3: found the column names again.*take this line out/);
});
