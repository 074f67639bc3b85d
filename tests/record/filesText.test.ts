import assert from "node:assert/strict";
import { decodeText } from "../../lib/record/files.ts";
import { describe, Findings } from "../../lib/record/errors.ts";

const TEXT = "distance_mm;note\n1199,5;µm, naïve, ऊँचाई\n";

function utf16(text: string, little: boolean, mark: boolean): Uint8Array<ArrayBuffer> {
  const marked = mark ? `\ufeff${text}` : text;
  const bytes = new Uint8Array(2 * marked.length);
  const view = new DataView(bytes.buffer);
  for (let index = 0; index < marked.length; index++) {
    view.setUint16(2 * index, marked.charCodeAt(index), little);
  }
  return bytes;
}

function decode(bytes: Uint8Array<ArrayBuffer>): { text: string | undefined; told: string[] } {
  const findings = new Findings();
  const text = decodeText(bytes, "t.csv", findings);
  return { text, told: findings.refusals.map(describe) };
}

Deno.test("UTF-8 with and without a byte order mark", () => {
  const plain = new TextEncoder().encode(TEXT);
  assert.equal(decode(plain).text, TEXT);
  assert.equal(decode(new Uint8Array([0xef, 0xbb, 0xbf, ...plain])).text, TEXT);
});

Deno.test("UTF-16 of either order, with and without a mark", () => {
  const english = "distance_mm\n1199\n";
  for (const little of [true, false]) {
    assert.equal(decode(utf16(TEXT, little, true)).text, TEXT);
    assert.equal(decode(utf16(english, little, false)).text, english);
  }
});

Deno.test("nothing at all is an empty text", () => {
  assert.deepEqual(decode(new Uint8Array()), { text: "", told: [] });
});

Deno.test("one byte of another alphabet is refused in its line", () => {
  const bytes = new TextEncoder().encode("a\nb\nc?\n").map((byte) => byte === 0x3f ? 0xe9 : byte);
  const { text, told } = decode(bytes);
  assert.equal(text, undefined);
  assert.deepEqual(told, [
    "t.csv, line 3: found a byte that is not UTF-8 text, wanted UTF-8 or UTF-16 text: " +
    "save the file as text, CSV UTF-8 in a spreadsheet",
  ]);
});

Deno.test("a spreadsheet's own file is no text", () => {
  // The first bytes of a zip file, as a spreadsheet saves it.
  const bytes = new Uint8Array([0x50, 0x4b, 3, 4, 20, 0, 6, 0, 8, 0, 0, 0, 0x21, 0]);
  assert.match(decode(bytes).told[0] ?? "", /^t\.csv, line 1: found a zero byte, wanted text/);
});
