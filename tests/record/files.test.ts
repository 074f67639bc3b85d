import assert from "node:assert/strict";
import { join } from "node:path";
import { describe } from "../../lib/record/errors.ts";
import { LARGEST } from "../../lib/record/files.ts";
import { readRecord } from "../../lib/record/readRecord.ts";
import { MIRROR, refusals, refusalsIn, withRecord } from "./bench.ts";

const SUN = "distance_mm\n1199\n";
const told = async (folder: string): Promise<string[]> => (await refusalsIn(folder)).map(describe);

Deno.test("a folder that is not there is refused by its name", async () => {
  assert.deepEqual(await told("/no/such/folder"), [
    "/no/such/folder: found no such folder, wanted the folder of a record: begin one with `deno task new NAME`",
  ]);
});

Deno.test("a file in place of a folder is refused", async () => {
  const file = await Deno.makeTempFile();
  assert.match((await told(file))[0] ?? "", /found a file, wanted the folder of a record/);
  await Deno.remove(file);
});

Deno.test("a folder without mirror.yaml is refused, a misspelt one is named", async () => {
  await withRecord({}, async (folder) => {
    await Deno.remove(join(folder, "mirror.yaml"));
    assert.deepEqual(await told(folder), [
      "mirror.yaml: found no such file, wanted the mirror's own page: write aperture and focal_length into it",
    ]);
    await Deno.writeTextFile(join(folder, "mirror.yml"), MIRROR);
    assert.deepEqual(await told(folder), [
      "mirror.yaml: found no such file, wanted the mirror's own page: is it mirror.yml? Rename it",
    ]);
  });
});

Deno.test("tables are still looked through when mirror.yaml is refused", async () => {
  const found = await refusals({ "mirror.yaml": "aperture: 6\n", "sun.csv": "distance_mm\nx\n" });
  assert.deepEqual(found.map(({ file }) => file), ["mirror.yaml", "mirror.yaml", "sun.csv"]);
});

Deno.test("links that lead out are refused, whatever they are called and point to", async () => {
  const outside = await Deno.makeTempDir();
  await Deno.writeTextFile(join(outside, "sun.csv"), SUN);
  await withRecord({}, async (folder) => {
    await Deno.symlink(join(outside, "sun.csv"), join(folder, "sun.csv"));
    await Deno.symlink("/etc", join(folder, "notes"));
    await Deno.symlink("/no/such/place", join(folder, "photos", "x.jpg"));
    assert.deepEqual(
      await told(folder),
      [
        "notes: found a link that leads out of the folder, wanted a file inside it: copy the file itself into the folder",
        "sun.csv: found a link that leads out of the folder, wanted a file inside it: copy the file itself into the folder",
        "photos/x.jpg: found a link that leads nowhere, wanted a file: copy the file itself into the folder",
      ],
    );
  });
  await Deno.remove(outside, { recursive: true });
});

Deno.test("a photographs' folder that is a link out is refused", async () => {
  await withRecord({}, async (folder) => {
    await Deno.remove(join(folder, "photos"));
    await Deno.symlink("/etc", join(folder, "photos"));
    const lines = await told(folder);
    assert.match(lines[0] ?? "", /^photos: found a link that leads out of the folder/);
  });
});

Deno.test("links within the record, and a link to the record itself, are followed", async () => {
  await withRecord({ "first.csv": SUN }, async (folder) => {
    await Deno.symlink("first.csv", join(folder, "sun.csv"));
    assert.equal((await readRecord(folder)).sun.length, 1);
    await Deno.symlink(folder, `${folder}-link`);
    assert.equal((await readRecord(`${folder}-link`)).name, "record");
  });
});

Deno.test("what is not a plain file is refused, not waited for", async () => {
  await withRecord({}, async (folder) => {
    await Deno.mkdir(join(folder, "sun.csv"));
    assert.deepEqual(await told(folder), [
      'sun.csv: found "sun.csv", which is not a plain file, wanted a file: put a plain file there',
    ]);
    await Deno.remove(join(folder, "sun.csv"));
    const pipe = await new Deno.Command("mkfifo", { args: [join(folder, "sun.csv")] }).output();
    assert.ok(pipe.success);
    assert.match((await told(folder))[0] ?? "", /not a plain file/);
  });
});

Deno.test("a file beyond its largest size is refused unread", async () => {
  const found = await refusals({ "mirror.yaml": MIRROR + "#".repeat(LARGEST.settings) });
  assert.deepEqual(found.map(describe), [
    'mirror.yaml: found "mirror.yaml" of 0.1 MB, wanted at most 0.064 MB: make it smaller or take it out',
  ]);
});

Deno.test("a misspelt table is not passed over in silence", async () => {
  await withRecord(
    { "sagita.csv": "go_mm,nogo_mm\n0.1,0.2\n", "notes.txt": "" },
    async (folder) => {
      const { warnings } = await readRecord(folder);
      assert.deepEqual(warnings.map(describe), [
        "sagita.csv: not read: is sagitta.csv meant? Rename it",
      ]);
    },
  );
});
