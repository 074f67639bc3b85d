/** The frames of a page beside polars itself: the same calls, the same answers. */
import assert from "node:assert/strict";
import fc from "fast-check";
import pl from "nodejs-polars";
import { frames } from "../../lib/living/frames.ts";

/** As much of polars as the cases call; both makers are asked through it. */
type Maker = typeof pl;
const page = frames as unknown as Maker;

/** INVENTED: readings with gaps, of two days. */
const table = {
  date: ["d1", "d1", "d1", "d2", "d2", null],
  zone: [1, 1, 2, 1, 2, 2],
  mm: [1.5, 2.5, null, 4, 7, 1],
};

const frameOf = (maker: Maker): ReturnType<Maker["DataFrame"]> =>
  maker.DataFrame([
    maker.Series("date", table.date, maker.Utf8),
    maker.Series("zone", table.zone, maker.Float64),
    maker.Series("mm", table.mm, maker.Float64),
  ]);

const by = ["date", "zone"];
const cases: Readonly<Record<string, (maker: Maker) => readonly object[]>> = {
  "rows as they came": (m) => frameOf(m).toRecords(),
  "off the mean of its group": (m) => {
    const mm = m.col("mm"), off = mm.minus(mm.mean().over("zone")).mul(1000);
    return frameOf(m).filter(mm.isNotNull()).withColumns(off.alias("off")).toRecords();
  },
  "spread and number by two columns": (m) =>
    frameOf(m).groupBy("date", "zone")
      .agg(m.col("mm").std().alias("s"), m.col("mm").count().alias("n"))
      .sort(by).toRecords(),
  "many by turns, downwards": (m) =>
    frameOf(m).groupBy("zone").agg(m.col("date").count().alias("n"))
      .sort(["n", "zone"], [true, false]).toRecords(),
  "filters with numbers, equality and absence": (m) =>
    frameOf(m).filter(m.col("mm").gt(1).and(m.col("date").eq(m.lit("d1")))).toRecords(),
  "either of two": (m) => frameOf(m).filter(m.col("mm").lt(2).or(m.col("zone").eq(2))).toRecords(),
  "sums, ends and middle of all": (m) =>
    frameOf(m).select(
      m.col("mm").sum().alias("sum"),
      m.col("mm").min().alias("min"),
      m.col("mm").max().alias("max"),
      m.col("mm").median().alias("median"),
      m.col("mm").mean().alias("mean"),
    ).toRecords(),
  "a column by arithmetic": (m) =>
    frameOf(m).select(m.col("mm").div(m.col("zone")).plus(1).alias("x"), m.col("zone")).toRecords(),
  "without rows": (m) =>
    frameOf(m).filter(m.col("mm").gt(99)).groupBy("zone").agg(m.col("mm").mean()).toRecords(),
  "sorted with gaps": (m) => frameOf(m).sort("mm").toRecords(),
  "head, tail and drop": (m) => frameOf(m).drop("date").head(3).tail(1).toRecords(),
};

for (const [name, act] of Object.entries(cases)) {
  Deno.test(`frames: ${name}`, () => assert.deepEqual(act(page), act(pl)));
}

Deno.test("frames: means, spreads and sums are the same to the last digit", () => {
  fc.assert(fc.property(
    fc.array(fc.integer({ min: -9e6, max: 9e6 }), { minLength: 2, maxLength: 40 }),
    (whole) => {
      const mm = whole.map((value) => value / 1e4);
      const told = (maker: Maker): readonly object[] => {
        const column = maker.col("mm"), frame = maker.DataFrame({ mm, one: mm.map(() => "a") });
        const made = [
          column.mean().alias("mean"),
          column.std().alias("std"),
          column.sum().alias("sum"),
        ];
        return [
          ...frame.groupBy("one").agg(...made).toRecords(),
          ...frame.withColumns(column.minus(column.mean().over("one")).mul(1000).alias("off"))
            .toRecords(),
        ];
      };
      assert.deepEqual(told(page), told(pl));
    },
  ));
});

Deno.test("frames: shape, columns and one column's values", () => {
  for (const maker of [page, pl]) {
    const frame = frameOf(maker);
    assert.deepEqual(frame.shape, { height: 6, width: 3 });
    assert.deepEqual(frame.columns, ["date", "zone", "mm"]);
    assert.deepEqual(Array.from(frame.getColumn("zone")), [1, 1, 2, 1, 2, 2]);
    assert.equal(frame.getColumn("mm").max(), 7);
  }
});

Deno.test("frames: what a page cannot do is said to run in the notebook; a column that is not there is named", () => {
  assert.throws(
    () => Reflect.get(page, "readCSV"),
    /polars has no readCSV in a page; polars itself runs in the notebook\./,
  );
  assert.throws(
    () => Reflect.get(page.col("mm"), "rollingMean"),
    /a column has no rollingMean in a page/,
  );
  assert.throws(
    () => frameOf(page).filter(page.col("cm").gt(1)),
    /the frame has no column cm; it has date, zone, mm\./,
  );
});
