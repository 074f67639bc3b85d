/**
 * One maker's bench told twice: in millimetres with points, and in inches, thou, hours and radians with decimal commas,
 * byte order marks, CRLF, semicolons, tabs, UTF-16 and columns in another order. The readings must be the same.
 */
import assert from "node:assert/strict";
import { fileURLToPath } from "node:url";
import { readRecord } from "../../lib/record/readRecord.ts";

const fixture = (name: string): string =>
  fileURLToPath(new URL(`fixtures/${name}`, import.meta.url));

/** Every number of a record by its path, without lines, which differ by remarks. */
function leaves(value: unknown, path: string, into: Map<string, unknown>): Map<string, unknown> {
  if (typeof value !== "object" || value === null) return into.set(path, value);
  for (const [key, one] of Object.entries(value)) {
    if (["line", "name", "folder"].includes(key) && path === "") continue;
    if (key !== "line") leaves(one, `${path}/${key}`, into);
  }
  return into;
}

Deno.test("a record in inches and commas equals its metric twin to 1e-9", async () => {
  const metric = leaves(await readRecord(fixture("metric")), "", new Map());
  const inch = leaves(await readRecord(fixture("inch")), "", new Map());
  assert.deepEqual([...inch.keys()].sort(), [...metric.keys()].sort());
  let compared = 0;
  let worst = 0;
  for (const [path, value] of metric) {
    const twin = inch.get(path);
    if (typeof value !== "number" || typeof twin !== "number") {
      assert.deepEqual(twin, value, path);
      continue;
    }
    const apart = Math.abs(twin - value) / Math.max(1, Math.abs(value));
    worst = Math.max(worst, apart);
    compared++;
    assert.ok(apart < 1e-9, `${path}: ${twin} against ${value}`);
  }
  // 26 numbers of the settings and 37 in the tables; the worst was 5e-16 when this was written.
  assert.ok(compared > 50, `${compared} numbers compared`);
  assert.ok(worst < 1e-12, `worst ${worst}`);
});

Deno.test("the twin in inches really has the bytes it is meant to have", async () => {
  const bytes = await Deno.readFile(`${fixture("inch")}/sagitta.csv`);
  assert.deepEqual([...bytes.subarray(0, 3)], [0xef, 0xbb, 0xbf]);
  assert.ok(new TextDecoder().decode(bytes).includes("\r\n"));
  const sun = await Deno.readFile(`${fixture("inch")}/sun.csv`);
  assert.deepEqual([...sun.subarray(0, 2)], [0xff, 0xfe]);
});

Deno.test("a unit in the file's own spelling is exact: 6 in is 152.4 mm", async () => {
  const { settings } = await readRecord(fixture("inch"));
  // READ: the inch is 25.4 mm and the pound 453.59237 g by definition (international agreement of 1959, from memory).
  assert.equal(settings.aperture, 152.4);
  assert.ok(Math.abs((settings.telescope?.parts?.[0]?.mass ?? 0) - 2 * 453.59237) < 1e-9);
});
