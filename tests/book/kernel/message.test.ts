import assert from "node:assert/strict";
import fc from "fast-check";
import { pack, request, signingKey, unpack } from "../../../lib/book/kernel/message.ts";

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
