/** The library in a page: its files, its pictures and its frames by what the page gives. */
import assert from "node:assert/strict";
import { openRecord, readings } from "../../lib/knowledge/open.ts";
import { readFromPage } from "../../lib/living/inPage.ts";
import { kitFolder } from "../../lib/record/fileSystem.ts";
import type { MemoryFile } from "../../lib/record/memoryFiles.ts";
import type { FrameMaker } from "../../lib/record/polars.ts";

const DEMO = `${kitFolder}/data/records/demo-150-f8`;

/** INVENTED: a demo of two tables, and a reader's record with a picture of one pixel's worth of bytes. */
const files = new Map<string, MemoryFile>([
  [`${DEMO}/mirror.yaml`, "aperture: 150 mm\nfocal_length: 1200 mm\n"],
  ["/mine/mirror.yaml", "aperture: 150 mm\nfocal_length: 1200 mm\n"],
  ["/mine/sun.csv", "distance_mm,image_mm\n1199,11.2\n"],
  ["/mine/ronchi.csv", "photo,lines_per_mm,offset_mm\nphotos/a.jpg,4,8\n"],
  ["/mine/photos/a.jpg", new Blob([new Uint8Array([0xff, 0xd8, 0xff, 0xe0])])],
]);

Deno.test("a page's record, pictures and frames are what the page gives, also what it puts in later", async () => {
  for (const { name } of Deno.readDirSync(`${kitFolder}/data/tables`)) {
    const path = `${kitFolder}/data/tables/${name}`;
    files.set(path, await Deno.readTextFile(path));
  }
  const decoded: number[] = [];
  const grey = { width: 8, height: 8, values: new Float32Array(64), scale: 1 };
  const frames = {
    Series: (name: string, values: unknown[]) => [name, values],
    DataFrame: (columns: [string, unknown[]][]) => Object.fromEntries(columns),
  };
  readFromPage({
    files,
    record: "/mine",
    today: "2030-01-01",
    photos: {
      size: () => Promise.resolve({ width: 8, height: 8 }),
      decode: (bytes) => {
        decoded.push(bytes.length);
        return Promise.resolve(grey);
      },
    },
    frames: frames as unknown as FrameMaker,
  });
  const { yours } = await openRecord();
  assert.deepEqual([yours.record.name, yours.record.sun.length, decoded], ["mine", 1, [4]]);
  files.set("/mine/sun.csv", "distance_mm,image_mm\n1199,11.2\n1200,11.2\n");
  const frame = await readings("sun") as unknown as Record<string, readonly unknown[]>;
  assert.deepEqual(frame["distance_mm"]?.length, 2);
  assert.equal(frame["image_mm"]?.length, 2);
});
