/** Bounds far above what hands write: told in a sentence, and before anything heavy is done. */
import assert from "node:assert/strict";
import { describe } from "../../lib/record/errors.ts";
import { read, refusals } from "./bench.ts";

const HEAD = "date,run,inner_mm,outer_mm,reading_mm\n";

/** Runs over so many openings of one mask. */
function zones(runs: number, openings: number): string {
  const rows: string[] = [];
  for (let run = 0; run < runs; run++) {
    for (let at = 0; at < openings; at++) {
      const [inner, outer] = [at, at + 1].map((edge) => (74 * edge / openings).toFixed(3));
      rows.push(`2026-06-12,r${run},${inner},${outer},12.${run % 10}`);
    }
  }
  return `${HEAD}${rows.join("\n")}\n`;
}

async function told(files: Readonly<Record<string, string>>): Promise<readonly string[]> {
  return (await refusals(files)).map(describe);
}

Deno.test("three hundred runs over twelve openings, and one run over a hundred, are read", async () => {
  assert.equal((await read({ "zones.csv": zones(300, 12) })).zones.length, 3600);
  assert.equal((await read({ "zones.csv": zones(1, 100) })).zones.length, 100);
});

Deno.test("two thousand openings, or more than a thousand runs, are refused by a bound that is told", async () => {
  const [openings, ...others] = await told({ "zones.csv": zones(1, 2000) });
  assert.match(
    openings ?? "",
    /^zones\.csv, line 102: found more than 100 different openings, wanted at most 100: /,
  );
  assert.deepEqual(others, []);
  const [runs] = await told({ "zones.csv": zones(1001, 5) });
  assert.match(
    runs ?? "",
    /^zones\.csv, line 5002: found more than 1000 runs, wanted at most 1000/,
  );
});

Deno.test("a wide table whose rows give more readings than a table may have is stopped there", async () => {
  const mask = Array.from({ length: 61 }, (_, edge) => `${edge} mm`).join(", ");
  const head = Array.from({ length: 60 }, (_, zone) => `zone_${zone + 1}_mm`).join(",");
  const row = Array.from({ length: 60 }, () => "12.1").join(",");
  const wide = Array.from({ length: 1700 }, (_, run) => `r${run % 9},${row}`).join("\n");
  const [one, ...others] = await told({
    "mirror.yaml": `aperture: 150 mm\nfocal_length: 1200 mm\nbevel: 1 mm\nmask: [${mask}]\n`,
    "zones.csv": `run,${head}\n${wide}\n`,
  });
  assert.match(
    one ?? "",
    /^zones\.csv, line 1668: found more than 100000 readings, wanted a maker's table/,
  );
  assert.deepEqual(others, []);
});

Deno.test("a record's tables together: one that is too much is told, and no other is read after it", async () => {
  const sun = `distance_mm\n${"1199\n".repeat(90_000)}`;
  const [one, ...others] = await told({
    "sagitta.csv": `depth_mm\n${"1.17\n".repeat(90_000)}`,
    "sun.csv": sun,
    "zones.csv": zones(1, 2000),
  });
  assert.match(one ?? "", /^sun\.csv: found more than 150000 readings in all tables together/);
  assert.deepEqual(others, []);
});

Deno.test("more than a hundred photographs are refused, and not one more is looked at", async () => {
  const rows = Array.from({ length: 5000 }, (_, i) => `p${i}.jpg,4,-8`).join("\n");
  const all = await told({ "ronchi.csv": `photo,lines_per_mm,offset_mm\n${rows}\n` });
  assert.match(
    all[0] ?? "",
    /^ronchi\.csv, line 102, column photo: found 5000 photographs, wanted at most 100/,
  );
  assert.equal(all.length, 101);
});
