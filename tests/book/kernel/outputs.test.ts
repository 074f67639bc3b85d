import assert from "node:assert/strict";
import { type Message, request } from "../../../lib/book/kernel/kernel.ts";
import { collectOutputs, tidyText } from "../../../lib/book/kernel/outputs.ts";

const say = (type: string, content: Record<string, unknown>): Message =>
  request(type, content, "s");
const plain = (text: string): string => text;
const out = (text: string): Message => say("stream", { name: "stdout", text });
const display = (type: string, data: Record<string, unknown>, id?: string): Message =>
  say(type, { data, metadata: {}, transient: id === undefined ? {} : { display_id: id } });

Deno.test("outputs: pieces of one stream are joined, streams are not mixed", () => {
  const err = say("stream", { name: "stderr", text: "!\n" });
  const { outputs } = collectOutputs([out("a\n"), out("b\n"), err, out("c\n")], 1, plain);
  assert.deepEqual(outputs, [
    { output_type: "stream", name: "stdout", text: "a\nb\n" },
    { output_type: "stream", name: "stderr", text: "!\n" },
    { output_type: "stream", name: "stdout", text: "c\n" },
  ]);
});

Deno.test("outputs: a result bears the cell's count, an empty one is dropped", () => {
  const full = say("execute_result", {
    execution_count: 99,
    data: { "text/plain": "2" },
    metadata: {},
  });
  const empty = say("execute_result", { execution_count: 99, data: {}, metadata: {} });
  const { outputs } = collectOutputs([empty, full], 4, plain);
  assert.deepEqual(outputs, [
    {
      output_type: "execute_result",
      execution_count: 4,
      data: { "text/plain": "2" },
      metadata: {},
    },
  ]);
});

Deno.test("outputs: a display with an id can be changed by the same cell", () => {
  const messages = [
    display("display_data", { "text/plain": "0 %" }, "bar"),
    display("display_data", { "text/plain": "other" }, "b"),
    display("update_display_data", { "text/plain": "100 %" }, "bar"),
  ];
  const { outputs } = collectOutputs(messages, 1, plain);
  assert.deepEqual(outputs.map((output) => "data" in output && output.data["text/plain"]), [
    "100 %",
    "other",
  ]);
});

Deno.test("outputs: clear_output clears at once, or before the next output", () => {
  assert.equal(
    collectOutputs([out("a"), say("clear_output", { wait: false })], 1, plain).outputs.length,
    0,
  );
  const waiting = [out("a"), say("clear_output", { wait: true })];
  assert.equal(collectOutputs(waiting, 1, plain).outputs.length, 1);
  const then = collectOutputs([...waiting, out("b")], 1, plain).outputs;
  assert.deepEqual(then, [{ output_type: "stream", name: "stdout", text: "b" }]);
});

Deno.test("outputs: contents that no notebook can store are left out and named", () => {
  const shown = display("display_data", {
    "text/plain": 5,
    "text/html": null,
    "image/svg+xml": "<svg/>",
  });
  const { outputs, problems } = collectOutputs([shown], 1, plain);
  assert.deepEqual(outputs, [
    { output_type: "display_data", data: { "image/svg+xml": "<svg/>" }, metadata: {} },
  ]);
  assert.deepEqual(problems, [
    "what the cell shows as text/plain must be text or a list of lines, got 5",
    "what the cell shows as text/html must be text or a list of lines, got null",
  ]);
});

Deno.test("outputs: JSON types may hold anything", () => {
  const shown = display("display_data", {
    "application/json": [1],
    "application/vnd.x+json": { a: 1 },
  });
  const { outputs, problems } = collectOutputs([shown], 1, plain);
  assert.deepEqual(problems, []);
  assert.equal(outputs.length, 1);
});

Deno.test("outputs: an error without text still is one", () => {
  const { outputs } = collectOutputs(
    [say("error", { ename: "Error", evalue: "null", traceback: [""] })],
    1,
    plain,
  );
  assert.deepEqual(outputs, [
    { output_type: "error", ename: "Error", evalue: "null", traceback: [""] },
  ]);
});

Deno.test("outputs: other messages are no outputs", () => {
  assert.deepEqual(collectOutputs([say("comm_open", {}), say("status", {})], 1, plain).outputs, []);
});

Deno.test("tidy: colours go, folders give way to their names, the longest first", () => {
  const tidy = tidyText([["/home/asha", "~"], ["/home/asha/kit", "."], ["", "nothing"], [
    "/",
    "root",
  ]]);
  assert.equal(tidy("\u001b[1m\u001b[31merror\u001b[0m"), "error");
  assert.equal(tidy("at file:///home/asha/kit/lib/a.ts:1:2"), "at ./lib/a.ts:1:2");
  assert.equal(
    tidy("/home/asha/kit-old/a /home/asha/b /home/ashanti"),
    "~/kit-old/a ~/b /home/ashanti",
  );
  assert.equal(tidy("no path here / or there"), "no path here / or there");
});

Deno.test("tidy: reaches streams, errors and text displays, not pictures", () => {
  const tidy = tidyText([["/home/asha", "~"]]);
  const messages = [
    out("/home/asha/a\n"),
    display("display_data", { "text/html": "<p>/home/asha/b</p>", "image/png": "/home/asha/c" }),
    say("error", { ename: "E", evalue: "/home/asha/d", traceback: ["/home/asha/e"] }),
  ];
  const text = JSON.stringify(collectOutputs(messages, 1, tidy).outputs);
  assert.deepEqual([...text.matchAll(/\/home\/asha\/./g)].map(String), ["/home/asha/c"]);
});
