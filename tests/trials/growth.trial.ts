// deno-lint-ignore-file no-console
/**
 * What the kit costs as its inputs grow: depths of a log, openings of a mask, photographs of a record, benches of a class, sets
 * of strokes; and a query over 100,000 simulated records in a hundred Parquet files, by polars and, where Debian's Python has
 * it, by DuckDB.
 *
 * `deno task trial growth`, some two minutes. Counted is the processor's time; the slope is that of a straight line through
 * logarithms: 1 is "in proportion". Bound: 1.25 for all but openings, of which 3 are allowed.
 */
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { recordsFolder } from "../../lib/knowledge/open.ts";
import { frameMaker } from "../../lib/record/polars.ts";
import { curveLog } from "../../lib/shaping/grinding/curveLog.ts";
import { chordRoutine, playRoutine } from "../../lib/shaping/grinding/routine.ts";
import { WearBench } from "../../lib/shaping/grinding/wear.ts";
import { wearSettings } from "../../lib/shaping/grinding/wearLaws.ts";
import { reduceZones } from "../../lib/testing/zones/zones.ts";
import { python, pythonHas } from "../machine.ts";
import { writeMakers } from "../record/classBench.ts";
import { dice } from "../testing/dice.ts";

const check = fileURLToPath(new URL("../../lib/commands/check.ts", import.meta.url));

/** Processor's seconds of this process, and of those that it started and that are gone. */
function processor(): { readonly own: number; readonly children: number } {
  const [, after = ""] = Deno.readTextFileSync("/proc/self/stat").split(") ");
  const [utime = 0, stime = 0, cutime = 0, cstime = 0] = after.split(" ").slice(11, 15).map(Number);
  return { own: (utime + stime) / 100, children: (cutime + cstime) / 100 };
}

/**
 * Seconds that an act takes of the processor: done again until they can be counted, on other numbers each time, for some
 * results are kept.
 */
function own(act: (turn: number) => void): number {
  act(0);
  let times = 0;
  const start = processor().own;
  while (processor().own - start < 0.4) {
    times++;
    act(times);
  }
  return (processor().own - start) / times;
}

async function checked(folder: string): Promise<number> {
  const start = processor().children;
  const { success, stderr } = await new Deno.Command(Deno.execPath(), {
    args: ["run", "-A", check, folder],
  }).output();
  if (!success) throw new Error(new TextDecoder().decode(stderr));
  return processor().children - start;
}

let holds = true;

/** Prints costs beside sizes, and the slope; `idle` is what nothing at all costs. */
function told(
  what: string,
  sizes: readonly number[],
  seconds: readonly number[],
  most: number,
  idle = 0,
): void {
  const x = sizes.map(Math.log), y = seconds.map((s) => Math.log(Math.max(s - idle, 1e-6)));
  const mean = (v: readonly number[]): number => v.reduce((a, b) => a + b, 0) / v.length;
  const mx = mean(x), my = mean(y);
  const slope = x.reduce((sum, v, i) => sum + (v - mx) * ((y[i] ?? 0) - my), 0) /
    x.reduce((sum, v) => sum + (v - mx) ** 2, 0);
  const last = (seconds.at(-1) ?? 0) - idle, each = (1000 * last) / (sizes.at(-1) ?? 1);
  const costs = sizes.map((n, i) => `${n}: ${(1000 * (seconds[i] ?? 0)).toPrecision(3)} ms`).join(
    ", ",
  );
  console.log(
    `${what}: ${costs}; ${each.toPrecision(2)} ms each at the end; slope ${
      slope.toFixed(2)
    } (at most ${most})`,
  );
  if (slope > most) holds = false;
}

const depths = [2000, 8000, 32_000];
told(
  "depths of a log",
  depths,
  depths.map((n) =>
    own((turn) => {
      const d = dice(n + turn), file = "sagitta.csv";
      const readings = Array.from({ length: n }, (_, i) => {
        const afterMin = (120 * (i + 1)) / n;
        const sagitta = 0.02 + 0.009 * afterMin + 0.002 * (d.uniform() - 0.5);
        return { afterMin, sagitta, u: 0.004, file, line: i + 2 };
      });
      const all = { minutes: 120, position: "mirror on top", abrasive: "F80" } as const;
      curveLog({ intervals: [{ ...all, file: "grinding.csv", line: 2 }], readings, target: 1.168 });
    })
  ),
  1.25,
);

const openings = [5, 10, 20, 40, 80];
told(
  "openings of a mask",
  openings,
  openings.map((n) =>
    own((turn) => {
      const d = dice(n + turn);
      const readings = [1, 2, 3, 4].flatMap((run) =>
        Array.from({ length: n }, (_, i) => ({
          run: `${run}`,
          inner: 74 * Math.sqrt(i / n),
          outer: 74 * Math.sqrt((i + 1) / n),
          reading: 12 + (74 ** 2 * (i + 0.5)) / n / 4800 + 0.06 * (d.uniform() - 0.5),
        }))
      );
      const bench = { aperture: 150, bevel: 1, radius: 2400 };
      reduceZones({
        ...{ readings, ...bench, source: "moves", openings: "bands", reference: "paraboloid" },
      });
    })
  ),
  3,
);

const sets = [60, 120, 240, 480];
told(
  "sets of strokes",
  sets,
  sets.map((n) => {
    const played = playRoutine(chordRoutine(150), n);
    return own(() => {
      const bench = new WearBench(wearSettings(150));
      for (const set of played) bench.grind(set);
    });
  }),
  1.25,
);

const temp = await Deno.makeTempDir({ prefix: "growth-" });
try {
  const benches = [25, 50, 100, 200], costs: number[] = [];
  for (const n of benches) {
    await writeMakers(join(temp, `class-${n}`), n);
    costs.push(await checked(join(temp, `class-${n}`)));
  }
  await writeMakers(join(temp, "class-1"), 1);
  told("benches of a class", benches, costs, 1.25, await checked(join(temp, "class-1")));

  const demo = join(recordsFolder, "demo-150-f8"), pictures = [2, 4, 8], looked: number[] = [];
  const [heading = "", ...rows] = (await Deno.readTextFile(join(demo, "ronchi.csv"))).trim().split(
    "\n",
  );
  const plain = rows.filter((row) => !/\.png/.test(row)),
    shot = rows.filter((row) => /\.png/.test(row));
  const record = async (n: number): Promise<string> => {
    const folder = join(temp, `photos-${n}`);
    await new Deno.Command("cp", { args: ["-r", demo, folder] }).output();
    const more: string[] = [];
    for (let k = 0; k < n; k++) {
      const row = shot[k % shot.length] ?? "";
      const [path = ""] = /[\w-]+\.png/.exec(row) ?? [];
      const copy = path.replace(".png", `-${k}.png`);
      await Deno.copyFile(join(demo, "photos", path), join(folder, "photos", copy));
      more.push(row.replace(path, copy));
    }
    if (n === 0) await Deno.remove(join(folder, "ronchi.csv"));
    else {await Deno.writeTextFile(
        join(folder, "ronchi.csv"),
        [heading, ...plain, ...more, ""].join("\n"),
      );}
    return folder;
  };
  for (const n of pictures) looked.push(await checked(await record(n)));
  told("photographs of a record", pictures, looked, 1.25, await checked(await record(0)));

  await query(temp);
} finally {
  await Deno.remove(temp, { recursive: true });
}
if (!holds) Deno.exit(1);

/** A hundred classes of a thousand benches: one that `check --parquet` wrote, its numbers thrown about by dice. */
async function query(folder: string): Promise<void> {
  const made = join(folder, "thousand"), file = join(folder, "class.parquet");
  await writeMakers(made, 1000);
  const { success } = await new Deno.Command(Deno.execPath(), {
    args: ["run", "-A", check, made, "--parquet", file],
    stdout: "null",
  }).output();
  if (!success) throw new Error("check wrote no Parquet");
  await frameMaker();
  const { default: pl } = await import("nodejs-polars");
  const one = pl.readParquet(file), tables = join(folder, "tables");
  await Deno.mkdir(tables);
  const d = dice(20261130), names = one.columns;
  const focal = one.getColumn("quantity_focal_length").toArray() as (number | null)[];
  const stages = one.getColumn("stage").toArray() as (string | null)[];
  // the same question asked of the numbers themselves
  const seen = new Map<string, { count: number; sum: number; far: number }>();
  let total = 0, bytes = 0;
  for (let k = 0; k < 100; k++) {
    const thrown = focal.map((v) => v === null ? null : v * (1 + 0.02 * (d.uniform() - 0.5)));
    thrown.forEach((v, i) => {
      total++;
      if (v === null) return;
      const stage = stages[i] ?? "", at = seen.get(stage) ?? { count: 0, sum: 0, far: 0 };
      seen.set(stage, {
        count: at.count + 1,
        sum: at.sum + v,
        far: at.far + (Math.abs(v - 1200) > 15 ? 1 : 0),
      });
    });
    const table = pl.DataFrame(
      names.map((name) =>
        name === "quantity_focal_length"
          ? pl.Series(name, thrown, pl.Float64)
          : name === "class"
          ? pl.Series(name, thrown.map(() => `class-${k}`), pl.Utf8)
          : one.getColumn(name)
      ),
    );
    const written = table.writeParquet();
    bytes += written.length;
    await Deno.writeFile(join(tables, `class-${String(k).padStart(3, "0")}.parquet`), written);
  }
  const wanted = [...seen].map(([stage, { count, sum, far }]) => ({
    stage,
    count,
    mean: sum / count,
    far,
  }))
    .sort((a, b) => a.stage < b.stage ? -1 : 1);

  const start = processor().own, clock = performance.now();
  const answers = pl.concat(
    [...Deno.readDirSync(tables)].map(({ name }) =>
      pl.readParquet(join(tables, name), { columns: ["stage", "quantity_focal_length"] })
    ),
  ).filter(pl.col("quantity_focal_length").isNotNull())
    .withColumns(pl.col("quantity_focal_length").sub(1200).abs().gt(15).cast(pl.Int32).alias("far"))
    .groupBy("stage").agg(
      pl.col("far").count().alias("count"),
      pl.col("quantity_focal_length").mean().alias("mean"),
      pl.col("far").sum().alias("far_sum"),
    ).sort("stage").toRecords() as {
      stage: string;
      count: number;
      mean: number;
      far_sum: number;
    }[];
  const took = processor().own - start, waited = (performance.now() - clock) / 1000;
  const got = answers.map(({ stage, count, mean, far_sum }) => ({
    stage,
    count,
    mean,
    far: far_sum,
  }));
  console.log(
    `${total} records in 100 Parquet files, ${
      (bytes / 1e6).toFixed(0)
    } MB, ${names.length} columns: polars answers in ${waited.toFixed(2)} s (processor ${
      took.toFixed(2)
    } s)`,
  );
  same("polars", got, wanted);

  if (!pythonHas("duckdb")) return console.log("DuckDB: not here (pip install duckdb); not asked");
  const sql = `select stage, count(*) as count, avg(quantity_focal_length) as mean,
    sum(case when abs(quantity_focal_length - 1200) > 15 then 1 else 0 end) as far
    from read_parquet('${tables}/*.parquet', union_by_name=true) where quantity_focal_length is not null
    group by stage order by stage`;
  const code = `import duckdb, json, sys, time
t, c = time.perf_counter(), time.process_time()
rows = duckdb.sql(sys.argv[1]).fetchall()
print(json.dumps({"seconds": time.perf_counter() - t, "processor": time.process_time() - c, "version": duckdb.__version__,
  "rows": [dict(stage=a, count=b, mean=m, far=int(f)) for a, b, m, f in rows]}))`;
  const { stdout } = await new Deno.Command(python, { args: ["-c", code, sql] }).output();
  const { seconds, processor: cpu, version, rows } = JSON.parse(new TextDecoder().decode(stdout));
  console.log(
    `DuckDB ${version}: the same in ${seconds.toFixed(2)} s (processor ${cpu.toFixed(2)} s)`,
  );
  same("DuckDB", rows, wanted);
}

interface Answer {
  readonly stage: string;
  readonly count: number;
  readonly mean: number;
  readonly far: number;
}

function same(who: string, got: readonly Answer[], wanted: readonly Answer[]): void {
  const agrees = got.length === wanted.length && got.every(({ stage, count, mean, far }, i) => {
    const one = wanted[i];
    return one !== undefined && stage === one.stage && count === one.count && far === one.far &&
      Math.abs(mean / one.mean - 1) < 1e-12;
  });
  console.log(
    `  ${agrees ? "as reckoned one by one" : "NOT as reckoned one by one"}: ${
      got.map(({ stage, count, mean, far }) =>
        `${stage} ${count}, ${mean.toFixed(2)} mm, ${far} off by 15 mm`
      ).join("; ")
    }`,
  );
  if (!agrees) {
    console.log(JSON.stringify({ who, got, wanted }));
    holds = false;
  }
}
