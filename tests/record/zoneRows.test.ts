/** zones.csv, one row for each opening and one row for each run: the same readings in the same order. */
import assert from "node:assert/strict";
import { MIRROR, read, refusals } from "./bench.ts";
import { describe } from "../../lib/record/errors.ts";
import { inOrderRead } from "../../lib/record/readings.ts";
import type { ZoneRow } from "../../lib/record/types.ts";

const MASKED = `${MIRROR}mask: [0 mm, 30 mm, 45 mm, 57 mm]\n`;

const bare = (
  { run, inner, outer, reading, angleDeg, knifeDeg, order, date }: ZoneRow,
): unknown[] => [
  date,
  run,
  inner,
  outer,
  reading,
  angleDeg,
  knifeDeg,
  order,
];

Deno.test("the wide form gives the rows of the long one", async () => {
  const wide = await read({
    "mirror.yaml": MASKED,
    "zones.csv": "date,run,angle_deg,knife_deg,zone_1_mm,zone_2_mm,zone_3_mm,note\n" +
      "2026-06-12,1,45,90,12.34,12.29,12.18,still\n",
  });
  const long = await read({
    "mirror.yaml": MASKED,
    "zones.csv": "date,run,angle_deg,knife_deg,inner_mm,outer_mm,reading_mm,note\n" +
      "2026-06-12,1,45,90,0,30,12.34,still\n2026-06-12,1,45,90,30,45,12.29,\n2026-06-12,1,45,90,45,57,12.18,\n",
  });
  assert.deepEqual(wide.zones.map(bare), long.zones.map(bare));
  // INVENTED: what was typed
  assert.deepEqual(bare(wide.zones[1] as ZoneRow), [
    "2026-06-12",
    "1",
    30,
    45,
    12.29,
    45,
    90,
    undefined,
  ]);
  assert.deepEqual(wide.zones.map(({ line }) => line), [2, 2, 2]);
  assert.deepEqual(wide.zones.map(({ note }) => note), ["still", "still", "still"]);
});

Deno.test("an empty cell is a zone not read; the first zone read again stands at the run's end", async () => {
  const { zones, warnings } = await read({
    "mirror.yaml": MASKED,
    "zones.csv": "run,order,zone_1_mm,zone_2_mm,zone_3_mm,first_again_mm\n" +
      "a,outward,1.1,,1.3,1.15\nb,inward,1.1,1.2,1.3,1.36\n",
  });
  assert.deepEqual(zones.map(({ run, inner, reading }) => [run, inner, reading]), [
    ["a", 0, 1.1],
    ["a", 45, 1.3],
    ["a", 0, 1.15],
    ["b", 0, 1.1],
    ["b", 30, 1.2],
    ["b", 45, 1.3],
    ["b", 45, 1.36],
  ]);
  const readOf = (run: string): number[] =>
    inOrderRead(zones.filter((row) => row.run === run)).map(({ reading }) => reading);
  assert.deepEqual(readOf("a"), [1.1, 1.3, 1.15]);
  assert.deepEqual(readOf("b"), [1.3, 1.2, 1.1, 1.36], "read from the edge inward");
  assert.deepEqual(warnings.filter(({ message }) => /twice/.test(message)), []);
});

Deno.test("inches, a decimal comma, a semicolon, angles in rad; a full turn is none", async () => {
  // DERIVED: 0.2, 1.2 and 2 in x 25.4
  const { zones } = await read({
    "mirror.yaml": `${MIRROR}mask: [[0.2, 1.2], [1.2, 2.0]] in\n`,
    "zones.csv": "run;angle_rad;knife_deg;zone_1_in;zone_2_um\n1;1,5707963267949;360;0,5;12700\n",
  });
  const found = zones.map(({ inner, outer, reading, angleDeg, knifeDeg }) =>
    [inner, outer, reading].map((mm) => Number(mm.toFixed(6))).concat(
      angleDeg ?? -1,
      knifeDeg ?? -1,
    )
  );
  // DERIVED: 25.4 mm an inch
  assert.deepEqual(found, [[5.08, 30.48, 12.7, 90, 0], [30.48, 50.8, 12.7, 90, 0]]);
});

Deno.test("a mask in mirror.yaml leaves the long form as it is, and columns of zones may be missing", async () => {
  const long = await read({
    "mirror.yaml": MASKED,
    "zones.csv": "run,inner_mm,outer_mm,reading_mm\n1,0,30,1\n1,30,45,1.1\n",
  });
  assert.equal(long.zones.length, 2);
  const wide = await read({
    "mirror.yaml": MASKED,
    "zones.csv": "run,zone_2_mm,zone_3_mm\n1,1,1.1\n",
  });
  assert.deepEqual(wide.zones.map(({ inner }) => inner), [30, 45]);
});

Deno.test("with a mask that was refused the wide table is not refused a second time", async () => {
  const told = await refusals({
    "mirror.yaml": `${MIRROR}mask: [0 mm, 50 mm, 45 mm]\n`,
    "zones.csv": "run,zone_1_mm\n1,1\n",
  });
  assert.deepEqual(told.map(describe), [
    "mirror.yaml, line 4, column mask[3]: found 45 mm, wanted more than the edge before it, 50 mm: " +
    "give the edges from the centre outward",
  ]);
});

Deno.test("the default of seating is told once the mirror was turned", async () => {
  const of = async (second: number): Promise<readonly string[]> =>
    (await read({
      "mirror.yaml": MASKED,
      "zones.csv": `run,angle_deg,zone_1_mm,zone_2_mm\n1,0,1,1.1\n2,${second},1,1.1\n`,
    })).defaults.filter((sentence) => sentence.startsWith("tester.seating:"));
  assert.deepEqual(await of(0), []);
  assert.match((await of(45)).join(), /0\.1 mm/);
});

Deno.test("rows of the long form stand as they were typed, and are put in the order they say", async () => {
  const { zones } = await read({
    "zones.csv": "run,order,inner_mm,outer_mm,reading_mm\n" +
      "1,inward,0,30,1\n1,inward,30,45,2\n1,inward,45,57,3\n" +
      "2,inward,45,57,3\n2,inward,30,45,2\n2,inward,0,30,1\n3,,30,45,2\n3,,0,30,1\n3,,45,57,3\n",
  });
  const readOf = (run: string): number[] =>
    inOrderRead(zones.filter((row) => row.run === run)).map(({ reading }) => reading);
  assert.deepEqual(["1", "2", "3"].map(readOf), [[3, 2, 1], [3, 2, 1], [2, 1, 3]]);
});
