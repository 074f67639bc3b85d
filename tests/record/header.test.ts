import assert from "node:assert/strict";
import { splitTable } from "../../lib/record/csv.ts";
import { describe, Findings } from "../../lib/record/errors.ts";
import { matchHeader } from "../../lib/record/header.ts";
import { columnsOf, type TableName, TABLES, usualHeader } from "../../lib/record/schema.ts";

function match(
  table: TableName,
  header: string,
): { names: string[]; factors: number[]; told: string[] } {
  const findings = new Findings();
  const csv = splitTable(`${header}\n`, `${table}.csv`, findings);
  const found = csv === undefined ? [] : matchHeader(columnsOf(table), csv, findings);
  return {
    names: found.map(({ column }) => column.name),
    factors: found.map(({ factor }) => factor),
    told: findings.refusals.map(describe),
  };
}

Deno.test("every table's usual header is understood in any order", () => {
  for (const table of TABLES) {
    const headers = columnsOf(table).map(usualHeader).reverse();
    const { names, told } = match(table, headers.join(","));
    assert.deepEqual(told, []);
    assert.deepEqual(names, columnsOf(table).map(({ name }) => name).reverse());
  }
});

Deno.test("a column's unit may be any of its kind", () => {
  const { factors } = match("zones", "run,inner_cm,outer_in,reading_um");
  assert.deepEqual(factors, [1, 10, 25.4, 0.001]);
  assert.equal(match("sagitta", "go_thou,nogo_mil,after_h").factors[2], 60);
});

Deno.test("lines per inch are lines per mm over 25.4", () => {
  const { factors } = match("ronchi", "photo,lines_per_in,offset_mm");
  assert.equal(factors[1], 1 / 25.4);
});

Deno.test("a longer name is not taken for a shorter one with an odd unit", () => {
  assert.deepEqual(match("ronchi", "photo,lines_per_mm,offset_u_mm,offset_mm").names, [
    "photo",
    "lines_per",
    "offset_u",
    "offset",
  ]);
});

Deno.test("capitals do not count, in names or units", () => {
  const { names, factors, told } = match("sun", "Distance_IN,IMAGE_mm,Date");
  assert.deepEqual([names, factors, told], [["distance", "image", "date"], [25.4, 1, 1], []]);
});

Deno.test("a unit where none belongs, and a column without a name", () => {
  assert.match(
    match("grinding", "abrasive,position,minutes_mm").told[0] ?? "",
    /column minutes_mm: found column/,
  );
  assert.match(
    match("sun", "distance_mm,,date").told[0] ?? "",
    /^sun\.csv, line 1, column 2: found column nothing/,
  );
});
