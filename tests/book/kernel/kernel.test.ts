import fc from "fast-check";
import assert from "node:assert/strict";
import {
  Kernel,
  pack,
  request,
  signingKey,
  type Turn,
  unpack,
} from "../../../lib/book/kernel/kernel.ts";
import { fileURLToPath } from "node:url";
import { sources } from "../../layers.ts";
import { home } from "../notebooks.ts";

const job = (code: string, cell: number): Parameters<Kernel["run"]>[0] => ({
  code,
  cell,
  imports: [],
});

async function withKernel(work: (kernel: Kernel) => Promise<void>): Promise<void> {
  const kernel = await Kernel.start({ cwd: home, env: { KIT: "trial" } });
  try {
    await work(kernel);
  } finally {
    await kernel.stop();
  }
}

const shown = ({ messages }: Turn): unknown[] =>
  messages.map(({ content }) =>
    content["text"] ?? (content["data"] as Record<string, unknown>)["text/plain"]
  );

Deno.test("kernel: keeps its state from cell to cell and sees the environment it was given", async () => {
  await withKernel(async (kernel) => {
    const first = await kernel.run(job("let n = 20; n", 1), 10_000);
    const second = await kernel.run(job('n++; [n, Deno.env.get("KIT")].join()', 2), 10_000);
    assert.deepEqual([first.ended, second.ended], ["done", "done"]);
    assert.deepEqual([...shown(first), ...shown(second)], ["20", '"21,trial"']);
    assert.equal(second.reply?.status, "ok");
  });
});

Deno.test("kernel: the requests of its own do not count as cells", async () => {
  await withKernel(async (kernel) => {
    await kernel.run(job("1", 1), 10_000);
    const { messages } = await kernel.run(job("2", 2), 10_000);
    assert.equal(messages[0]?.content["execution_count"], 2);
  });
});

Deno.test("kernel: a late cry of one cell is not lost, and the next cell's own outputs stay its own", async () => {
  await withKernel(async (kernel) => {
    const first = await kernel.run(
      job("for (let i = 0; i < 50; i++) console.log(i); 50", 1),
      10_000,
    );
    const second = await kernel.run(job("51", 2), 10_000);
    assert.equal(
      shown(first).join("").replaceAll("\n", ""),
      Array.from({ length: 51 }, (_, i) => i).join(""),
    );
    assert.deepEqual(shown(second), ["51"]);
  });
});

Deno.test("kernel: a cell that overruns is killed, and the reason told apart", async () => {
  await withKernel(async (kernel) => {
    const turn = await kernel.run(job("while (true) {}", 1), 500);
    assert.equal(turn.ended, "loop");
    assert.equal((await kernel.run(job("1", 2), 5000)).ended, "died");
  });
  await withKernel(async (kernel) => {
    assert.equal((await kernel.run(job("await new Promise(() => {})", 1), 500)).ended, "wait");
  });
});

Deno.test("kernel: a group that a cell leaves open indents nothing of the barrier into its outputs", async () => {
  await withKernel(async (kernel) => {
    const open = await kernel.run(job('console.group("in");', 1), 10_000);
    assert.deepEqual(shown(open), ["in\n"]);
    assert.deepEqual(shown(await kernel.run(job("console.groupEnd();", 2), 10_000)), []);
  });
});

Deno.test("kernel: its death is noticed at once, whatever is being waited for", async () => {
  await withKernel(async (kernel) => {
    const begun = performance.now();
    setTimeout(() => kernel.kill(), 200);
    const turn = await kernel.run(job("await new Promise(() => {})", 1), 60_000);
    assert.equal(turn.ended, "died");
    assert.ok(turn.exitCode !== 0);
    assert.ok(performance.now() - begun < 5000);
  });
});

Deno.test("kernel: stopping twice is once", async () => {
  const kernel = await Kernel.start({ cwd: home });
  await kernel.stop();
  await kernel.stop();
});

Deno.test("kernel: a folder that is not there is an error, not a wait", async () => {
  await assert.rejects(
    Kernel.start({ cwd: "/nowhere/at/all" }),
    /requires a folder to work in, got \/nowhere\/at\/all/,
  );
});

const text = new TextDecoder();

Deno.test("a message has delimiter, signature and four parts of JSON", async () => {
  const message = request("execute_request", { code: "1 + 1" }, "s1");
  const frames = (await pack(message, await signingKey("secret"))).map((frame) =>
    text.decode(frame)
  );
  assert.equal(frames.length, 6);
  assert.equal(frames[0], "<IDS|MSG>");
  assert.match(frames[1] ?? "", /^[0-9a-f]{64}$/);
  assert.deepEqual(JSON.parse(frames[5] ?? ""), { code: "1 + 1" });
});

Deno.test("the signature is HMAC-SHA256 over the four parts", async () => {
  // READ RFC 4231 (from memory), test case 2: key "Jefe", data "what do ya want for nothing?"
  const expected = "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843";
  const whole = new TextEncoder().encode("what do ya want for nothing?");
  const key = await signingKey("Jefe");
  const signature = new TextEncoder().encode(expected);
  const parts = [
    whole.subarray(0, 5),
    whole.subarray(5, 9),
    whole.subarray(9, 20),
    whole.subarray(20),
  ];
  const delimiter = new TextEncoder().encode("<IDS|MSG>");
  // the parts are no JSON: getting as far as the parser shows that the signature was accepted
  await assert.rejects(unpack([delimiter, signature, ...parts], key), SyntaxError);
});

Deno.test("what was packed is what is unpacked, behind any addresses", async () => {
  const key = await signingKey("a key");
  await fc.assert(
    fc.asyncProperty(
      fc.jsonValue(),
      fc.array(fc.uint8Array({ maxLength: 8 })),
      async (value, addresses) => {
        const message = request("any_type", JSON.parse(JSON.stringify({ value })), "session");
        const frames = await pack(message, key);
        assert.deepEqual(await unpack([...addresses, ...frames], key), message);
      },
    ),
    { numRuns: 50 },
  );
});

Deno.test("a message signed with another key is refused", async () => {
  const frames = await pack(request("status", {}, "s"), await signingKey("theirs"));
  await assert.rejects(unpack(frames, await signingKey("ours")), /another signature/);
});

Deno.test("a message whose content was changed on the way is refused", async () => {
  const key = await signingKey("ours");
  const frames = await pack(request("stream", { text: "1" }, "s"), key);
  const forged = frames.with(5, new TextEncoder().encode('{"text":"2"}'));
  await assert.rejects(unpack(forged, key), /another signature/);
});

Deno.test("frames without delimiter or with parts missing are refused", async () => {
  const key = await signingKey("ours");
  const frames = await pack(request("status", {}, "s"), key);
  await assert.rejects(unpack(frames.slice(1), key), /requires a delimiter/);
  await assert.rejects(unpack(frames.slice(0, 5), key), /4 parts/);
  await assert.rejects(unpack([], key), /got 0 frames/);
});

Deno.test("every request has an id of its own", () => {
  const ids = new Set(Array.from({ length: 100 }, () => request("a", {}, "s").header.msg_id));
  assert.equal(ids.size, 100);
});

Deno.test("what Deno calls unstable has one place each: its kernel's start, and an import that waits", () => {
  const lib = fileURLToPath(new URL("../../../lib", import.meta.url));
  const found = [...sources(lib)].flatMap(([file, text]) => [
    ...(/"jupyter", "--kernel"/.test(text) ? [`kernel: ${file}`] : []),
    ...(/^import defer /m.test(text) ? [`defer: ${file}`] : []),
  ]);
  assert.deepEqual(found.sort(), ["defer: quantity/mathjs.ts", "kernel: book/kernel/kernel.ts"]);
});
