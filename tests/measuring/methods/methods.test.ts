/** The registry: each method once, its table in a record, its rows found, its draws about its estimate. */
import assert from "node:assert/strict";
import {
  asMethod,
  CURVE_TABLES,
  FREE_OF_RIM,
  methodNamed,
  methods,
  methodTitle,
  rowsOf,
} from "../../../lib/measuring/methods/methods.ts";
import { SCHEMA } from "../../../lib/record/schema.ts";
import { KESTREL } from "../bench.ts";

const TABLES = {
  sagitta: [
    { go: [0.88, 0.25], nogo: [0.85, 0.3] },
    { go: [0.88, 0.24], nogo: [0.85, 0.3] },
    { depth: 1.14 },
  ],
  spherometer: [
    { surface: "flat", dial: 5.001 },
    { surface: "mirror", dial: 5.522 },
  ] as const,
  sun: [{ distance: 1199, image: 11.1, date: "2026-04-18" }],
  lamp: [{ distance: 2398 }, { distance: 2391 }],
};

Deno.test("each method has a name of its own and a table that the record has", () => {
  const names = methods.map(({ name }) => name);
  assert.equal(new Set(names).size, names.length);
  for (const { name, title, by, table } of methods) {
    assert.ok(table in SCHEMA, `${name} reads ${table}`);
    assert.match(title, /^[A-Z]/);
    assert.match(by, /^by /);
  }
  assert.deepEqual(CURVE_TABLES, ["sagitta", "spherometer", "sun", "lamp"]);
});

Deno.test("one table serves two methods, each its own rows", () => {
  const found = methods.map((method) => [method.name, rowsOf(method, TABLES).length]);
  assert.deepEqual(found, [
    ["leaves", 2],
    ["depth gauge", 1],
    ["spherometer", 2],
    ["sun distance", 1],
    ["sun image", 1],
    ["lamp", 2],
  ]);
  assert.deepEqual(methods.flatMap((method) => rowsOf(method, {})), []);
});

Deno.test("every method reduces its rows under its own name; without rows there is no estimate", () => {
  for (const method of methods) {
    const estimate = method.reduce(rowsOf(method, TABLES), KESTREL);
    assert.equal(estimate?.method, method.name);
    assert.equal(method.reduce([], KESTREL), undefined);
  }
});

Deno.test("at the middle of its inputs a method's draws give its estimate; a check is not drawn", () => {
  for (const method of methods) {
    const rows = rowsOf(method, TABLES), estimate = method.reduce(rows, KESTREL);
    if (method.draws === undefined) {
      assert.ok(method.check !== undefined, method.name);
      continue;
    }
    const { inputs, addRadius } = method.draws(rows, KESTREL, {}), out = new Float64Array(1);
    const middle = Object.entries(inputs).map(([name, { mean }]) => [name, Float64Array.of(mean)]);
    addRadius(Object.fromEntries(middle), 1, out);
    assert.equal(out[0]?.toFixed(6), estimate?.radius.value.toFixed(6), method.name);
  }
});

Deno.test("a name is found, a strange one stands for itself or is refused", () => {
  assert.equal(methodNamed("sun image")?.table, "sun");
  assert.equal(methodNamed("guess"), undefined);
  assert.deepEqual([methodTitle("leaves"), methodTitle("guess")], ["Leaves", "guess"]);
  assert.throws(() => asMethod("guess"), /a method's name, got guess/);
});

Deno.test("what knows nothing of the bevel: lamp, then the Sun's distance, before the spherometer, no check", () => {
  assert.deepEqual(FREE_OF_RIM.map(({ name }) => name), ["lamp", "sun distance", "spherometer"]);
});
