import assert from "node:assert/strict";
import {
  describe,
  Findings,
  MOST_REFUSALS,
  RecordRefused,
  shown,
} from "../../lib/record/errors.ts";

Deno.test("what stood there is shown short, on one line, without signs that move a cursor", () => {
  assert.equal(shown("0,8o"), '"0,8o"');
  assert.equal(shown(" \n\t "), "nothing");
  assert.equal(shown("a\n\x1b[31mb\u2028c"), '"a [31mb c"');
  assert.equal(shown("x".repeat(61)).length, 62);
});

Deno.test("a finding is told with as much of its place as is known", () => {
  const message = "found nothing";
  assert.equal(describe({ message }), "found nothing");
  assert.equal(describe({ file: "sun.csv", message }), "sun.csv: found nothing");
  assert.equal(describe({ file: "sun.csv", line: 2, message }), "sun.csv, line 2: found nothing");
  assert.equal(
    describe({ file: "sun.csv", line: 2, column: 3, message }),
    "sun.csv, line 2, column 3: found nothing",
  );
});

Deno.test("a refused record is an error whose text is one line a refusal", () => {
  const error = new RecordRefused([{ file: "a.csv", message: "one" }, {
    file: "b.csv",
    line: 2,
    message: "two",
  }]);
  assert.ok(error instanceof Error);
  assert.equal(error.name, "RecordRefused");
  assert.equal(error.message, "a.csv: one\nb.csv, line 2: two");
  assert.equal(error.refusals.length, 2);
});

Deno.test("refusals go on being counted when they are no longer listed", () => {
  const findings = new Findings();
  assert.equal(findings.refused, false);
  for (let count = 0; count < MOST_REFUSALS + 5; count++) {
    findings.refuse({ file: "t.csv", line: count + 1 }, "x", "y", "z");
  }
  assert.equal(findings.count, MOST_REFUSALS + 5);
  assert.equal(findings.refusals.length, MOST_REFUSALS + 1);
  assert.match(findings.refusals.at(-1)?.message ?? "", /5 more/);
  assert.equal(findings.refusals[0]?.message, "found x, wanted y: z");
});

Deno.test("warnings are kept apart from refusals and do not refuse", () => {
  const findings = new Findings();
  findings.warn({ file: "t.csv" }, "unlikely");
  assert.equal(findings.refused, false);
  assert.deepEqual(findings.warnings, [{ file: "t.csv", message: "unlikely" }]);
});
