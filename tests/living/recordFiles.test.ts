/** A record's files into a page and out again: a folder, a zip, single tables, and what is none of these. */
import assert from "node:assert/strict";
import { unzipSync, zipSync } from "fflate";
import { filesOut, type GivenFile, recordFrom } from "../../lib/living/recordFiles.ts";

const YAML = "aperture: 150 mm\nfocal_length: 1200 mm\n";
const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const given = (path: string, content: string | Uint8Array): GivenFile => {
  const blob = new Blob([content as Uint8Array<ArrayBuffer>]);
  return { path, size: blob.size, blob };
};

Deno.test("a folder is taken without its own name, and without what is no part of a record", async () => {
  const found = await recordFrom([
    given("my-mirror/mirror.yaml", YAML),
    given("my-mirror/sun.csv", "\ufeffdistance_mm\r\n1199\r\n"),
    given("my-mirror/photos/a.JPG", new Uint8Array([0xff, 0xd8])),
    given("my-mirror/notes.docx", "x"),
    given("my-mirror/old/mirror.yaml", YAML),
    given("other/sun.csv", "x"),
  ]);
  assert.ok("record" in found);
  assert.deepEqual([...found.record.keys()], ["mirror.yaml", "sun.csv", "photos/a.JPG"]);
  assert.equal(found.record.get("sun.csv"), "\ufeffdistance_mm\r\n1199\r\n");
});

Deno.test("a zip is a folder, whatever its name; paths out of it are passed over", async () => {
  const zip = zipSync({
    "m/mirror.yaml": bytes(YAML),
    "m/sagitta.csv": bytes("go_mm,nogo_mm\n0.1,0.2\n"),
    "m/../../evil.csv": bytes("x"),
    "m/../sun.csv": bytes("x"),
    "__MACOSX/m/._sun.csv": bytes("x"),
  });
  const found = await recordFrom([given("record.dat", zip)]);
  assert.ok("record" in found);
  assert.deepEqual([...found.record.keys()], ["mirror.yaml", "sagitta.csv"]);
});

Deno.test("tables alone are tables; a table that is no UTF-8 keeps its bytes", async () => {
  const found = await recordFrom([given("sun.csv", new Uint8Array([0xff, 0xfe, 0x61, 0]))]);
  assert.ok("tables" in found);
  assert.deepEqual(found.tables.get("sun.csv"), new Uint8Array([0xff, 0xfe, 0x61, 0]));
});

Deno.test("what is no record is said in one sentence", async () => {
  const no = async (...files: GivenFile[]): Promise<string> => {
    const found = await recordFrom(files);
    return "no" in found ? found.no : "taken";
  };
  assert.match(await no(given("cat.jpg", "x")), /no mirror\.yaml and no table/);
  assert.match(await no(given("a.zip", "PK nonsense")), /cannot be unpacked/);
  assert.match(
    await no(given("a/mirror.yaml", YAML), given("b/mirror.yaml", YAML)),
    /several mirrors/,
  );
  assert.match(await no(given("mirror.yaml", "#".repeat(70_000))), /0\.1 MB, and at most 0\.064/);
  // DERIVED a zip bomb in small: 500 MB of zeros, said in its own directory
  const zip = zipSync({ "m/mirror.yaml": bytes(YAML), "m/photos/a.png": new Uint8Array(1000) });
  const size = new DataView(zip.buffer);
  for (let at = 0; at + 4 < zip.length; at++) {
    if (size.getUint32(at, true) === 0x02014b50 && zip[at + 46 + 2] === 0x70) {
      size.setUint32(at + 24, 500e6, true);
    }
  }
  assert.match(await no(given("a.zip", zip)), /more than 400 MB/);
});

Deno.test("one changed table is one file; otherwise the whole record is a zip", async () => {
  const files = new Map<string, string | Blob>([
    ["mirror.yaml", YAML],
    ["sun.csv", "\ufeffdistance_mm\r\n"],
    ["photos/a.png", new Blob([new Uint8Array([1, 2])])],
  ]);
  const one = await filesOut("mine", files, ["sun.csv"]);
  assert.equal(one.name, "sun.csv");
  assert.deepEqual(new Uint8Array(await one.blob.arrayBuffer()), bytes("\ufeffdistance_mm\r\n"));
  for (const changed of [[], ["sun.csv", "sagitta.csv"], ["photos/a.png"]]) {
    const all = await filesOut("mine", files, changed);
    assert.equal(all.name, "mine.zip");
    const inside = unzipSync(new Uint8Array(await all.blob.arrayBuffer()));
    assert.deepEqual(Object.keys(inside), [
      "mine/mirror.yaml",
      "mine/sun.csv",
      "mine/photos/a.png",
    ]);
    const again = await recordFrom([{ path: all.name, size: all.blob.size, blob: all.blob }]);
    assert.ok("record" in again);
    assert.deepEqual([...again.record.keys()], [...files.keys()]);
  }
});
