/** FITS files: their header and numbers byte by byte, and as astropy reads them. */
import assert from "node:assert/strict";
import { fitsFile } from "../../lib/record/fits.ts";
import { close } from "../optics/close.ts";

const cards = [
  { key: "OBJECT", value: "Kestrel Lane's own" },
  { key: "BUNIT", value: "nm", comment: "height of glass, + is high" },
  { key: "CRPIX1", value: 2 },
  { key: "CDELT1", value: 0.9866666666666667 },
  { key: "CUNIT2", value: "mm" },
  { key: "SCOPE", value: "whole surface" },
];
const bytes = fitsFile([[1, 2, NaN, 4, 5, 6], [0.5, 1.5, NaN, 2.5, 3.5, 1e-3]], 3, 2, cards);

/** The header's lines, and the numbers behind it, read by hand. */
function readBack(file: Uint8Array): { lines: string[]; numbers: number[] } {
  const text = new TextDecoder("latin1").decode(file.slice(0, 2880));
  const lines = Array.from({ length: 36 }, (_, k) => text.slice(80 * k, 80 * k + 80));
  const view = new DataView(file.buffer, 2880);
  return { lines, numbers: Array.from({ length: 12 }, (_, k) => view.getFloat32(4 * k)) };
}

Deno.test("header and numbers stand as the standard asks", () => {
  // READ FITS Standard 4.0, IAU 2018, sections 3.1, 4.2 and 5.3 (from memory): blocks of 2880, lines of 80, values end in column 30, big end first
  assert.equal(bytes.length, 5760);
  const { lines, numbers } = readBack(bytes);
  const wanted = [
    "SIMPLE  =                    T / FITS standard",
    "BITPIX  =                  -32 / IEEE numbers of 32 bits",
    "NAXIS   =                    3",
    "NAXIS1  =                    3",
    "NAXIS2  =                    2",
    "NAXIS3  =                    2",
    "OBJECT  = 'Kestrel Lane''s own'",
    "BUNIT   = 'nm      '           / height of glass, + is high",
  ];
  wanted.forEach((line, k) => assert.equal(lines[k]?.trimEnd(), line));
  assert.equal(lines[12]?.trimEnd(), "END");
  assert.ok(lines.slice(13).every((line) => line.trim() === ""));
  assert.deepEqual(numbers.slice(0, 2), [1, 2]);
  assert.ok(Number.isNaN(numbers[2]));
  close(numbers[11] ?? NaN, 1e-3, 1e-9);
  assert.ok(bytes.slice(2880 + 48).every((byte) => byte === 0));
});

Deno.test("astropy reads the same file without a complaint", async () => {
  // CROSS-CHECK astropy 8.0.2, tests/record/fitsPeer.py on this file, its SHA-256 kept: shape 2 x 2 x 3, two NaN, sums 18 and 8.001, cards as given
  const mark = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes)).toHex();
  assert.equal(mark, "f3e762ceea7c879c1c24f88da6340febacbd5c4d0d2db0aff1a113600fd1112a");
});

Deno.test("what cannot be written is refused", () => {
  assert.throws(() => fitsFile([[1]], 2, 1, []), RangeError);
  assert.throws(() => fitsFile([], 1, 1, []), RangeError);
  assert.throws(() => fitsFile([[1]], 1, 1, [{ key: "too long a key", value: 1 }]), RangeError);
  assert.throws(() => fitsFile([[1]], 1, 1, [{ key: "A", value: NaN }]), RangeError);
  assert.throws(() => fitsFile([[1]], 1, 1, [{ key: "A", value: "x".repeat(90) }]), RangeError);
  // letters that a header may not hold are told as such, not written
  const text = new TextDecoder().decode(fitsFile([[1]], 1, 1, [{ key: "A", value: "Šmarje" }]));
  assert.match(text, /A {7}= '\?marje {2}'/);
});
