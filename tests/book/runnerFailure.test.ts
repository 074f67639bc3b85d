import assert from "node:assert/strict";
import type { Turn } from "../../lib/book/kernel/kernel.ts";
import type { Output } from "../../lib/book/notebook.ts";
import {
  failureAt,
  failureOfEnd,
  failureOutput,
  failuresOf,
  failureText,
  readableError,
} from "../../lib/book/runnerFailure.ts";

const place = { notebook: "notebooks/02-read.ipynb", cell: 3, source: "\nconst a = 1;\nfoo(a);" };
const turn = (more: Partial<Turn> = {}): Turn => ({
  ended: "done",
  messages: [],
  reply: { status: "ok" },
  line: 3,
  ...more,
});
const report = { mark: "m", line: 3, faults: [], missing: [] };
const error = (evalue: string, traceback: string[], ename = "Error"): Output => ({
  output_type: "error",
  ename,
  evalue,
  traceback,
});

Deno.test("failure: says notebook, cell, line and the line itself", () => {
  assert.equal(
    failureText(failureAt(place, "error", "Error: no", 3)),
    "notebooks/02-read.ipynb, code cell 3, line 3: Error: no\n    foo(a);",
  );
});

Deno.test("failure: without a line the cell's first is quoted; without a cell only the notebook is named", () => {
  assert.equal(
    failureText(failureAt(place, "uncaught", "late")),
    "notebooks/02-read.ipynb, code cell 3: late\n    const a = 1;",
  );
  assert.equal(
    failureText({ notebook: "a.ipynb", kind: "start", message: "no kernel" }),
    "a.ipynb: no kernel",
  );
});

Deno.test("failure: nothing wrong is nothing told", () => {
  const fine: Output = { output_type: "stream", name: "stderr", text: "a warning\n" };
  assert.deepEqual(failuresOf(turn({ report }), [fine], place), []);
});

Deno.test("failure: an error sent counts though the reply is ok", () => {
  const [failure] = failuresOf(turn({ report }), [
    error("no", ["Error: no", "    at <anonymous>:1:1"]),
  ], place);
  assert.deepEqual([failure?.kind, failure?.message, failure?.line], ["error", "Error: no", 3]);
});

Deno.test("failure: what was thrown is told in one line, errors apart from other values", () => {
  const message = (output: Output): string | undefined =>
    failuresOf(turn(), [output], place)[0]?.message;
  assert.equal(message(error("null", [""])), "threw what is not an Error: null");
  assert.equal(
    message(error("a\n    at file:///x", ["TypeError: a"], "TypeError")),
    "TypeError: a",
  );
});

Deno.test("failure: a missing export offers the nearest name there is, or none", () => {
  const lack = {
    specifier: "first-mirror/optics",
    name: "sagita",
    line: 1,
    near: ["conic", "sagitta", "sag"],
  };
  const told = (more: object): string | undefined =>
    failuresOf(turn({ report: { ...report, missing: [{ ...lack, ...more }] } }), [], place)[0]
      ?.message;
  assert.match(
    told({}) ?? "",
    /"first-mirror\/optics" exports no value named sagita, perhaps sagitta\?/,
  );
  assert.doesNotMatch(told({ name: "astigmatism" }) ?? "", /perhaps/);
  assert.match(told({ name: "Sagitta" }) ?? "", /perhaps sagitta\?/);
  for (const near of [["sagittal", "sagitta"], ["sagitta", "sagittal"]]) {
    assert.match(told({ near }) ?? "", /perhaps sagitta\?/, "the nearest, not the first");
  }
});

Deno.test("failure: a hidden value is told only where the cell ended well", () => {
  const hidden = { ...report, unshown: "NaN" as const };
  assert.equal(failuresOf(turn({ report: hidden }), [], place)[0]?.kind, "unshown");
  assert.deepEqual(failuresOf(turn({ report: hidden, reply: { status: "error" } }), [], place), []);
});

Deno.test("failure: errors that nothing caught are told each", () => {
  const faults = ["one", "two"].map((message) => ({ name: "Error", message, stack: "" }));
  const kinds = failuresOf(turn({ report: { ...report, faults } }), [], place);
  assert.deepEqual(kinds.map(({ kind }) => kind), ["uncaught", "uncaught"]);
  assert.match(kinds[1]?.message ?? "", /Error: two$/);
});

Deno.test("failure: the ways of not coming back", () => {
  assert.match(
    failureOfEnd(turn({ ended: "loop" }), place, 2, "").message,
    /^still computing after 2 s/,
  );
  const waiting = failureOfEnd(turn({ ended: "wait", fault: "Error: in a timer" }), place, 2, "");
  assert.match(waiting.message, /^still waiting after 2 s.*nothing caught: Error: in a timer$/);
  const died = failureOfEnd(
    turn({ ended: "died", exitCode: 134 }),
    place,
    2,
    "one\na wheel came off",
  );
  assert.equal(
    died.message,
    "the kernel ended with exit code 134; its last words: a wheel came off",
  );
  const killed = failureOfEnd(turn({ ended: "died", exitCode: 137 }), place, 2, "");
  assert.equal(
    killed.message,
    "the kernel ended with exit code 137 (killed, perhaps for want of memory)",
  );
  const heap =
    "#\n# Fatal JavaScript out of memory: Reached heap limit\n#\n\n    deno(+0x28b0d2e) [0x55]";
  const eaten = failureOfEnd(turn({ ended: "died", exitCode: 133 }), place, 2, heap);
  assert.equal(
    eaten.message,
    "the kernel ended with exit code 133; the cell asked for more memory than a kernel may have",
  );
  assert.deepEqual([died.kind, died.line, died.code], ["died", 3, "foo(a);"]);
});

Deno.test("failure: as an output it names cell and line", () => {
  assert.deepEqual(failureOutput(failureAt(place, "import", "no such name", 2)), {
    output_type: "error",
    ename: "import",
    evalue: "no such name",
    traceback: ["no such name", "    at code cell 3, line 2"],
  });
});

Deno.test("failure: a traceback keeps the library's frames and drops the kernel's", () => {
  const output = error("bad depth\nsecond line\n    at x", [
    "RangeError: bad depth",
    "second line",
    "    at sagitta (./lib/optics/sphere.ts:31:9)",
    "    at <anonymous>:2:51",
    "    at format (ext:cli/40_jupyter.js:257:31)",
  ], "RangeError");
  const readable = readableError(output, place, 3);
  assert.deepEqual(readable.output_type === "error" && readable.traceback, [
    "RangeError: bad depth",
    "second line",
    "    at sagitta (./lib/optics/sphere.ts:31:9)",
    "    at code cell 3, line 3",
  ]);
  const stream: Output = { output_type: "stream", name: "stdout", text: "a" };
  assert.equal(readableError(stream, place), stream);
});
