import assert from "node:assert/strict";
import fc from "fast-check";
import { isDate } from "../../lib/record/date.ts";

Deno.test("days of the calendar", () => {
  for (const text of ["2026-04-18", "2024-02-29", "2000-02-29", "1999-12-31"]) {
    assert.ok(isDate(text), text);
  }
});

Deno.test("days that there are not, and days written otherwise", () => {
  const texts = [
    "2026-02-29",
    "1900-02-29",
    "2026-04-31",
    "2026-00-10",
    "2026-13-01",
    "2026-01-00",
    "0026-04-18",
  ];
  texts.push(
    "18/04/2026",
    "2026-4-18",
    "2026/04/18",
    "18.04.2026",
    "26-04-18",
    "2026-04-18T10:00",
    " 2026-04-18",
    "",
  );
  for (const text of texts) assert.ok(!isDate(text), text);
});

Deno.test("every day of two centuries is one", () => {
  const day = fc.date({
    min: new Date("1900-01-01"),
    max: new Date("2199-12-31"),
    noInvalidDate: true,
  });
  fc.assert(fc.property(day, (any) => assert.ok(isDate(any.toISOString().slice(0, 10)))));
});
