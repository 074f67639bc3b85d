import assert from "node:assert/strict";
import { join } from "node:path";
import sharp from "sharp";
import { describe } from "../../lib/record/errors.ts";
import { openMirror, recordsFolder } from "../../lib/knowledge/open.ts";
import { photoFigures, photoOfRow } from "../../lib/knowledge/photoFigures.ts";
import { readPhoto, readPhotos } from "../../lib/record/readPhoto.ts";
import { readRecord } from "../../lib/record/readRecord.ts";
import { summarize } from "../../lib/knowledge/summary.ts";
import { summaryText } from "../../lib/knowledge/summaryFile.ts";
import { contractProblems } from "../contract/contract.ts";
import { close } from "../optics/close.ts";
import { read, refusals } from "../record/bench.ts";
import { makePhoto } from "../testing/photoGenerator.ts";
import { demoPhoto, demoPhotoOutside } from "../record/demoPhoto.ts";

const demo = await openMirror(join(recordsFolder, "demo-150-f8"));

Deno.test("the demo's photographs from both sides of focus give the mirror they were made of, and the zones agree", () => {
  const zones = demo.summary.figure?.zones, photos = demo.summary.figure?.photos ?? [];
  assert.equal(photos.length, 2);
  [demoPhoto, demoPhotoOutside].forEach((made, i) => {
    const photo = photos[i];
    // RECORDED what the photograph was made with, tests/record/demoPhoto.ts
    close(photo?.conic?.value ?? NaN, made.conic, 3 * (photo?.conic?.u ?? 0));
    close(photo?.offset?.value ?? NaN, made.offset, 3 * (photo?.offset?.u ?? 0));
    assert.ok((photo?.offset?.u ?? 1) < 0.1);
    assert.match(photo?.offsetFrom ?? "", /^the centre of curvature of the conic/);
    close(photo?.tilt?.value ?? NaN, made.turn ?? NaN, 0.05);
    const apart = (photo?.conic?.value ?? NaN) - (zones?.conic?.value ?? NaN);
    assert.ok(Math.abs(apart) < 2 * Math.hypot(photo?.conic?.u ?? 0, zones?.conic?.u ?? 0));
  });
  assert.deepEqual(contractProblems(JSON.parse(summaryText(demo.summary))), []);
  assert.ok(!demo.summary.warnings.some(({ file }) => file === "ronchi.csv"));
});

Deno.test("without its photographs a record is summed up as before", () => {
  assert.equal(summarize(demo.record).figure?.photos, undefined);
  assert.deepEqual(summarize(demo.record).figure?.zones, demo.summary.figure?.zones);
});

Deno.test("a photograph that shows nothing stands refused, with its row", async () => {
  const photos = new Map(
    [...await readPhotos(demo.record)].map(([name, image]) =>
      [name, { ...image, values: image.values.map(() => 0.4) }] as const
    ),
  );
  const { figures, warnings, verdict } = photoFigures(demo.record, undefined, photos);
  assert.match(figures[0]?.refused ?? "", /no mirror/);
  assert.deepEqual(warnings.map(({ file, line }) => [file, line]), [
    ["ronchi.csv", 3],
    ["ronchi.csv", 4],
  ]);
  assert.equal(verdict, undefined);
});

Deno.test("a record with photographs only has its verdict from them; a gainsaid offset is told", async () => {
  const record = {
    ...demo.record,
    zones: [],
    ronchi: demo.record.ronchi.slice(0, 1).map((row) => ({ ...row, offset: -6, offsetU: 0.2 })),
  };
  const summary = summarize(record, await readPhotos(demo.record));
  // one photograph alone is never a yes, however good it looks
  assert.equal(summary.verdict?.meetsGoal, "not shown");
  assert.equal(summary.verdict.probability, 0.9); // what one photograph gives at most
  assert.equal(summary.verdict.lacks?.[0], "a second photograph");
  assert.equal(summary.verdict.scope, "one diameter");
  assert.ok(summary.verdict.lacks?.includes("a second photograph"));
  assert.equal(summary.nextStep.stage, "band test");
  assert.match(summary.verdict.why, /from a photograph/);
  assert.ok(
    summary.warnings.some(({ message }) => message.includes("the bands say the grating stood at")),
  );
});

Deno.test("zones and a photograph that part are told", async () => {
  const photos = await readPhotos(demo.record), zones = demo.summary.figure?.zones;
  const other = { ...zones, conic: { value: -0.2, u: 0.03, unit: "" } };
  const { warnings } = photoFigures(demo.record, demo.summary.curve, photos, other);
  assert.ok(warnings.some(({ message }) => /says K -0\.6\d, the zones -0\.20/.test(message)));
});

/** A picture of 6 x 4 whose first pixel alone is bright, with the camera's turn written in. */
async function turned(orientation: number, format: "jpeg" | "png"): Promise<Uint8Array> {
  const raw = new Uint8Array(24 * 16 * 3);
  for (let y = 0; y < 4; y++) {
    for (let x = 0; x < 4; x++) raw.fill(255, 3 * (24 * y + x), 3 * (24 * y + x) + 3);
  }
  const image = sharp(raw, { raw: { width: 24, height: 16, channels: 3 } }).withMetadata({
    orientation,
  });
  return new Uint8Array(await image.toFormat(format, { quality: 95 }).toBuffer());
}

Deno.test("a picture is turned as the camera says, in all eight ways", async () => {
  // DERIVED from EXIF's orientations: which corner of the upright picture the first pixel goes to
  const corner = [
    "",
    "left top",
    "right top",
    "right low",
    "left low",
    "left top",
    "right top",
    "right low",
    "left low",
  ];
  for (let orientation = 1; orientation <= 8; orientation++) {
    const { width, height, values } = await readPhoto(await turned(orientation, "jpeg"));
    assert.deepEqual([width, height], orientation < 5 ? [24, 16] : [16, 24]);
    const at = (x: number, y: number): boolean => (values[y * width + x] ?? 0) > 0.5;
    const where = [
      at(1, 1) && "left top",
      at(width - 2, 1) && "right top",
      at(width - 2, height - 2) && "right low",
      at(1, height - 2) && "left low",
    ].filter((name) => name !== false);
    assert.deepEqual(where, [corner[orientation]], String(orientation));
  }
});

Deno.test("colour becomes grey, large pictures are made smaller, what does not decode is refused", async () => {
  const large = {
    width: 3000,
    height: 2000,
    channels: 3,
    background: { r: 0, g: 255, b: 0 },
  } as const;
  const { width, height, values } = await readPhoto(
    new Uint8Array(await sharp({ create: large }).jpeg().toBuffer()),
  );
  assert.deepEqual([width, height], [1400, 933]);
  assert.ok((values[5] ?? 0) > 0.5 && (values[5] ?? 0) < 1);
  const whole = await turned(1, "png");
  await assert.rejects(readPhoto(whole.subarray(0, whole.length / 2)), /decodes to its end/);
  assert.deepEqual(await readPhotos(await read({})), new Map());
});

Deno.test("the record as it lies on the disk has two photographs", async () => {
  const record = await readRecord(join(recordsFolder, "demo-150-f8"));
  assert.deepEqual(record.ronchi.map(({ photo, offset }) => [photo, offset]), [
    ["photos/inside-8mm.png", -8],
    ["photos/outside-8mm.png", 8],
  ]);
});

Deno.test("photographs of one date are fitted together too; a wrong pitch is caught where they part, in one sentence", () => {
  const small = { ...demoPhoto, width: 220, height: 200, x: 108, y: 102, r: 80, light: [550] };
  const photos = new Map(
    [["photos/in.png", -7.8], ["photos/out.png", 9]].map(([name, offset]) =>
      [
        String(name),
        makePhoto({ ...small, offset: Number(offset), seed: Number(offset) + 50 }),
      ] as const
    ),
  );
  const [row] = demo.record.ronchi;
  if (row === undefined) throw new Error("the demo has no photograph");
  const record = (linesPerMm: number) => ({
    ...demo.record,
    ronchi: [["photos/in.png", -8], ["photos/out.png", 9]].map(([photo, offset], n) => ({
      ...{ ...row, line: n + 2, photo: String(photo), offset: Number(offset), linesPerMm },
    })),
  });
  const right = photoFigures(record(4), demo.summary.curve, photos);
  assert.deepEqual(right.figures.map(({ photo }) => photo), [
    ...["photos/in.png", "photos/out.png", "photos/in.png + photos/out.png"],
  ]);
  const [, , both] = right.figures;
  close(both?.conic?.value ?? NaN, demoPhoto.conic, 0.05);
  assert.ok(
    (both?.conic?.u ?? 1) <= 1.05 * (right.figures[0]?.conic?.u ?? 0),
    "two tell no less than one",
  );
  assert.match(right.verdict?.why ?? "", /from 2 photographs/);
  assert.ok(!right.warnings.some(({ message }) => message.includes("lines for each mm")));
  const wrong = photoFigures(record(5), demo.summary.curve, photos);
  assert.equal(
    wrong.warnings.filter(({ message }) => message.includes("lines for each mm")).length,
    1,
  );
});

Deno.test("the disc by hand is read in the camera's own pixels; half of it given is refused", async () => {
  const head = "photo,lines_per_mm,offset_mm,disc_x_px,disc_y_px,disc_radius_px\n";
  const grey = { width: 2800, height: 1400, channels: 3, background: "gray" } as const;
  const picture = new Uint8Array(await sharp({ create: grey }).png().toBuffer());
  const record = await read({
    "ronchi.csv": `${head}x.png,4,-5,1400,700,600\n`,
    "photos/x.png": picture,
  });
  const [row] = record.ronchi, image = (await readPhotos(record)).get("photos/x.png");
  if (row === undefined || image === undefined) throw new Error("nothing was read");
  const { x, y, radius } = photoOfRow({ row, image }).outline ?? { x: 0, y: 0, radius: 0 };
  assert.deepEqual([x, y, radius], [700, 350, 300]);
  const found = await refusals({
    "ronchi.csv": `${head}x.png,4,-5,1400,,600\n`,
    "photos/x.png": picture,
  });
  assert.match(
    found.map(describe).join(),
    /column disc_y_px: found nothing, wanted the disc's middle and radius together/,
  );
});

Deno.test("a picture 30,000 pixels wide is read small, and says that no mirror is in it", async () => {
  const wide = { width: 30_000, height: 60, channels: 3, background: "gray" } as const;
  const table = "photo,lines_per_mm,offset_mm\nx.png,4,-5\n";
  const bytes = new Uint8Array(await sharp({ create: wide }).png().toBuffer());
  const record = await read({ "ronchi.csv": table, "photos/x.png": bytes }),
    photos = await readPhotos(record);
  assert.equal(photos.get("photos/x.png")?.width, 1400);
  assert.match(
    photoFigures(record, undefined, photos).figures[0]?.refused ?? "",
    /no mirror is to be found/,
  );
});
