/** Where a record is found by its name, and whose it is. */
import assert from "node:assert/strict";
import { join } from "node:path";
import {
  demoName,
  openMirror,
  openRecord,
  readings,
  recordFolder,
  recordsFolder,
} from "../../lib/knowledge/open.ts";
import { withRecord } from "../record/bench.ts";

Deno.test("a plain name is a folder of data/records, anything with a slash a path", () => {
  assert.equal(recordFolder("mine"), `${recordsFolder}/mine`);
  assert.equal(recordFolder("a name with spaces"), `${recordsFolder}/a name with spaces`);
  for (const path of ["./mine", "../mine", "/tmp/mine", "a\\b", ".", ".."]) {
    assert.equal(recordFolder(path), path);
  }
});

Deno.test("the demo is known as such, by name, by path, and by a path with a detour", async () => {
  for (const folder of [demoName, `${recordsFolder}/../records/${demoName}/`]) {
    assert.equal((await openMirror(recordFolder(folder))).isDemo, true);
  }
  assert.equal((await openMirror(recordFolder("halfway-200-f6"))).isDemo, false);
});

Deno.test("without a name the demo is both, and one and the same", async () => {
  const before = Deno.env.get("FIRST_MIRROR_RECORD");
  Deno.env.delete("FIRST_MIRROR_RECORD");
  try {
    const { yours, demo } = await openRecord();
    assert.equal(yours, demo);
    Deno.env.set("FIRST_MIRROR_RECORD", "halfway-200-f6");
    assert.equal((await openRecord()).yours.record.name, "halfway-200-f6");
  } finally {
    if (before === undefined) Deno.env.delete("FIRST_MIRROR_RECORD");
    else Deno.env.set("FIRST_MIRROR_RECORD", before);
  }
});

Deno.test("a folder anywhere is the reader's, the demo stands beside it", async () => {
  await withRecord({}, async (folder) => {
    const { yours, demo } = await openRecord(folder);
    assert.equal(yours.record.folder, await Deno.realPath(folder));
    assert.deepEqual([yours.isDemo, demo.isDemo], [false, true]);
  });
});

Deno.test("a link to the demo is the demo", async () => {
  await withRecord({}, async (folder) => {
    const link = join(folder, "..", "link");
    await Deno.symlink(join(recordsFolder, demoName), link);
    const { yours, demo } = await openRecord(link);
    assert.equal(yours, demo);
  });
});

Deno.test("a record with a slip stops with its sentence, one that is not there with another", async () => {
  await withRecord({ "mirror.yaml": "aperture: 6\nfocal_length: 1200 mm\n" }, async (folder) => {
    await assert.rejects(
      openRecord(folder),
      /mirror\.yaml, line 1, column aperture: .* 6 mm or 6 in/,
    );
  });
  await assert.rejects(openRecord("no-such-mirror"), /found no such folder/);
});

Deno.test("readings are those of the environment's record, without a name those of the demo", async () => {
  const before = Deno.env.get("FIRST_MIRROR_RECORD");
  try {
    Deno.env.delete("FIRST_MIRROR_RECORD");
    assert.equal((await readings("zones")).height, 163); // DERIVED: the rows of the demo's zones.csv, counted in its file
    await withRecord({ "sun.csv": "distance_mm\n1199\n1201\n" }, async (folder) => {
      Deno.env.set("FIRST_MIRROR_RECORD", folder);
      assert.deepEqual((await readings("sun")).getColumn("distance_mm").toArray(), [1199, 1201]);
      assert.equal((await readings("zones")).height, 0);
    });
  } finally {
    if (before === undefined) Deno.env.delete("FIRST_MIRROR_RECORD");
    else Deno.env.set("FIRST_MIRROR_RECORD", before);
  }
});

Deno.test("of several mirrors the readings of the first that has some in that table", async () => {
  await withRecord({ "sun.csv": "distance_mm\n1199\n" }, async (folder) => {
    const { yours, demo } = await openRecord(folder);
    assert.equal((await readings("sun", yours, demo)).height, 1);
    assert.equal((await readings("zones", yours, demo)).height, 163);
    assert.equal((await readings("zones", yours)).height, 0);
  });
});
