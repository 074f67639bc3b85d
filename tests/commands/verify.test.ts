/** The report of a whole verify: what it is of, what held, and when it may be gone on with. */
import assert from "node:assert/strict";
import { readReport, reportText } from "../../lib/commands/verify.ts";

const WHAT = "First Mirror 9, commit abc; nothing changed since; a machine, 2 cores";
const PARTS = [
  { name: "lint", held: true, minutes: 0.25, said: "Checked 900 files" },
  { name: "trial zones", held: false, minutes: 12.5, said: "93 of 100\n===== held\n\nworst 3 nm" },
] as const;

Deno.test("a report says of what it is, what held, and how long it took", () => {
  const text = reportText(WHAT, ["2026-12-01T02:00", "2026-12-01T03:10"], PARTS);
  assert.match(
    text,
    /^What `deno task verify` found\nFirst Mirror 9, .*\nBegun 2026-12-01T02:00; gone on 2026-12-01T03:10\n/,
  );
  assert.match(text, /\n1 of 2 parts held; 13 minutes of the clock, added up\n/);
  assert.match(text, /\nlint: held, 0\.3 min\ntrial zones: DID NOT HOLD, 12\.5 min\n/);
});

Deno.test("a report that is read again is the same; of another commit or machine it is nothing", () => {
  const times = ["2026-12-01T02:00"], text = reportText(WHAT, times, PARTS);
  const read = readReport(text, WHAT);
  assert.deepEqual(read?.times, times);
  assert.deepEqual(read.parts.map(({ name, held }) => [name, held]), [["lint", true], [
    "trial zones",
    false,
  ]]);
  assert.equal(reportText(WHAT, times, read.parts), text);
  assert.equal(readReport(text, WHAT.replace("abc", "abd")), undefined);
  assert.equal(readReport("", WHAT), undefined);
  const changed = WHAT.replace("nothing changed since", "with changes that are not committed");
  assert.equal(readReport(reportText(changed, times, PARTS), changed), undefined, "changes differ");
});

Deno.test("of tests that pass the report has the count alone", () => {
  const said = "running 2 tests from ./a.test.ts\none ... ok (3ms)\ntwo ... FAILED (4ms)\n" +
    "1 passed, 1 failed, 0 skipped\n";
  const text = reportText(WHAT, [""], [{ name: "tests", held: false, minutes: 1, said }]);
  assert.doesNotMatch(text, /one \.\.\. ok|running 2/);
  assert.match(text, /two \.\.\. FAILED \(4ms\)\n1 passed, 1 failed, 0 skipped\n$/);
});
