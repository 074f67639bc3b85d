/**
 * A record from a stranger runs no code, fills no memory and ends in good time. The bounds on time are there to catch
 * what grows with the square of a file; on a quiet machine each of these ends in under a second.
 */
import assert from "node:assert/strict";
import fc from "fast-check";
import { describe, MOST_REFUSALS, RecordRefused } from "../../lib/record/errors.ts";
import { MIRROR, read, refusals } from "./bench.ts";

async function timed<T>(run: () => Promise<T>): Promise<{ result: T; ms: number }> {
  const start = performance.now();
  const result = await run();
  return { result, ms: performance.now() - start };
}

Deno.test("a table of a hundred thousand rows is read, one row more is refused", async () => {
  const rows = (count: number): string => `distance_mm\n${"1199\n".repeat(count)}`;
  const { result, ms } = await timed(() => read({ "sun.csv": rows(100_000) }));
  assert.equal(result.sun.length, 100_000);
  assert.ok(ms < 20_000, `${ms} ms`);
  const [told] = await refusals({ "sun.csv": rows(100_001) });
  assert.match(describe(told ?? { message: "" }), /line 100002: found more than 100000 rows/);
});

Deno.test("a million slips give two hundred sentences and a count", async () => {
  const { result, ms } = await timed(() =>
    refusals({ "sun.csv": `distance_mm\n${"x\n".repeat(90_000)}` })
  );
  assert.equal(result.length, MOST_REFUSALS + 1);
  assert.match(result.at(-1)?.message ?? "", /found 89800 more refusals/);
  assert.ok(ms < 20_000, `${ms} ms`);
});

Deno.test("a row of a million cells, a cell of a million letters, a million quotation marks", async () => {
  const files = [
    `distance_mm;image_mm\n${";".repeat(1e6)}1\n`,
    `distance_mm,note\n1199,${"x".repeat(1e6)}\n`,
    `distance_mm,note\n1199,${'"'.repeat(1e6)}\n`,
    `distance_mm,note\n1199,${'"'.repeat(1e6 + 1)}\n`,
    `distance_mm,note\n1199,"${"\n".repeat(1e6)}\n`,
    `${"a,".repeat(5e5)}\n1\n`,
    `distance_mm\n${"1+".repeat(5e5)}\n`,
    `distance_mm\n${"9".repeat(1e6)}\n`,
  ];
  for (const text of files) {
    const { ms } = await timed(() =>
      read({ "sun.csv": text }).catch((error: unknown) => {
        assert.ok(error instanceof RecordRefused);
        assert.ok(error.message.length < 60_000);
      })
    );
    assert.ok(ms < 20_000, `${text.slice(0, 40)}: ${ms} ms`);
  }
});

Deno.test("a file larger than any maker's is refused unread", async () => {
  const [told] = await refusals({ "zones.csv": new Uint8Array(8_000_001) });
  assert.match(
    describe(told ?? { message: "" }),
    /zones\.csv: found "zones\.csv" of 8\.0 MB, wanted at most 8 MB/,
  );
});

Deno.test("what looks like code stays text", async () => {
  const title = "<script>globalThis.stolen = 1</script>${globalThis.stolen = 1}";
  const { settings } = await read({ "mirror.yaml": `${MIRROR}title: "${title}"\n` });
  assert.equal(settings.title, title);
  assert.equal((globalThis as { stolen?: unknown }).stolen, undefined);
});

Deno.test("a column called __proto__ or constructor is an unknown column", async () => {
  for (const name of ["__proto__", "constructor", "toString", "hasOwnProperty"]) {
    const [told] = await refusals({ "sun.csv": `distance_mm,${name}\n1199,1\n` });
    assert.match(told?.message ?? "", /^found column/);
  }
});

Deno.test("a refusal shows no more than sixty letters of what stood there, and no signs that move a cursor", async () => {
  const [told] = await refusals({ "sun.csv": `distance_mm\n\x1b[2J\x07${"y".repeat(5000)}\n` });
  const line = describe(told ?? { message: "" });
  // deno-lint-ignore no-control-regex
  assert.doesNotMatch(line, /[\u0000-\u001f\u007f]/);
  assert.ok(line.length < 200, line);
});

Deno.test("no mirror.yaml and no table makes the reader fail in another way than by refusing", async () => {
  const sign = fc.constantFrom(
    "a",
    ":",
    " ",
    "\n",
    "-",
    "[",
    "]",
    "{",
    "}",
    "'",
    '"',
    "&",
    "*",
    "#",
    "1",
    ",",
    "|",
    ">",
    "!",
    "\t",
    "%",
    "@",
    "?",
  );
  const text = fc.string({ unit: sign, maxLength: 60 });
  await fc.assert(
    fc.asyncProperty(text, text, async (page, table) => {
      const files = {
        "mirror.yaml": MIRROR + page,
        "zones.csv": `run,inner_mm,outer_mm,reading_mm\n${table}\n`,
      };
      await read(files).catch((error: unknown) =>
        assert.ok(error instanceof RecordRefused, String(error))
      );
    }),
    { numRuns: 150 },
  );
});
