/** Bytes of a maker's file to text: UTF-8 or UTF-16, with or without a byte order mark. */
import type { Findings } from "./errors.ts";

/**
 * Decodes a text file, or refuses it with the line where the first byte stands that is not text.
 *
 * @param bytes     the whole file
 * @param file      its name, for the refusal
 * @param findings  where a refusal goes
 * @returns the text without its byte order mark, or `undefined` when refused
 * @example a spreadsheet's UTF-8 with a byte order mark
 * ```ts
 * import assert from "node:assert/strict";
 * import { Findings } from "./errors.ts";
 * const bytes = new TextEncoder().encode("\ufeffdistance_mm\r\n1199\r\n");
 * assert.equal(decodeText(bytes, "sun.csv", new Findings()), "distance_mm\r\n1199\r\n");
 * ```
 */
export function decodeText(
  bytes: Uint8Array<ArrayBuffer>,
  file: string,
  findings: Findings,
): string | undefined {
  const encoding = encodingOf(bytes);
  const text = decoded(bytes, encoding);
  const save = "save the file as text, CSV UTF-8 in a spreadsheet";
  if (text === undefined) {
    const line = lineOfFirstBadByte(bytes);
    findings.refuse({ file, line }, "a byte that is not UTF-8 text", "UTF-8 or UTF-16 text", save);
    return undefined;
  }
  const zero = text.indexOf("\0");
  if (zero < 0) return text;
  const line = text.slice(0, zero).split(/\r\n|\r|\n/).length;
  findings.refuse({ file, line }, "a zero byte", "text", save);
  return undefined;
}

type Encoding = "utf-8" | "utf-16le" | "utf-16be";

function encodingOf(bytes: Uint8Array): Encoding {
  const [first, second] = bytes;
  if (first === 0xff && second === 0xfe) return "utf-16le";
  if (first === 0xfe && second === 0xff) return "utf-16be";
  // Without a mark: plain letters leave every other byte zero.
  const sample = bytes.subarray(0, Math.min(bytes.length, 400) & ~1);
  const zeros = [0, 0];
  sample.forEach((byte, index) => {
    if (byte === 0) zeros[index % 2] = (zeros[index % 2] ?? 0) + 1;
  });
  const [even = 0, odd = 0] = zeros;
  if (odd > sample.length / 4 && even === 0) return "utf-16le";
  if (even > sample.length / 4 && odd === 0) return "utf-16be";
  return "utf-8";
}

function decoded(bytes: Uint8Array<ArrayBuffer>, encoding: Encoding): string | undefined {
  try {
    return new TextDecoder(encoding, { fatal: true }).decode(bytes);
  } catch {
    return undefined;
  }
}

function lineOfFirstBadByte(bytes: Uint8Array<ArrayBuffer>): number {
  let line = 1;
  let start = 0;
  while (start < bytes.length) {
    const end = bytes.indexOf(0x0a, start);
    const stop = end < 0 ? bytes.length : end;
    if (decoded(bytes.subarray(start, stop), "utf-8") === undefined) return line;
    start = stop + 1;
    line++;
  }
  return 1;
}
