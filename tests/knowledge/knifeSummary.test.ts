/** Photographs behind the knife on their way from knife.csv to the summary, to `check` and to the map. */
import assert from "node:assert/strict";
import sharp from "sharp";
import { summarize } from "../../lib/knowledge/summary.ts";
import { summaryText } from "../../lib/knowledge/summaryFile.ts";
import type { Summary } from "../../lib/knowledge/summaryTypes.ts";
import { tell } from "../../lib/knowledge/tell.ts";
import { zernike } from "../../lib/optics/zernike.ts";
import { RecordRefused } from "../../lib/record/errors.ts";
import { readPhotos } from "../../lib/record/readPhoto.ts";
import { readRecord } from "../../lib/record/readRecord.ts";
import { mapInWords, surfaceMap, zernikeCsv } from "../../lib/stages/surfaceMap.ts";
import { contractProblems } from "../contract/contract.ts";
import { hasNumpy } from "../machine.ts";
import { close } from "../optics/close.ts";
import { type Files, withRecord } from "../record/bench.ts";
import { judgedKnife, knifeBenches, type KnifeBenchMade } from "../testing/knife/knifeBenches.ts";

const ignore = !hasNumpy;

/** A bench's picture as a file, twice as large, as a camera would have it. */
async function fileOf({ image }: KnifeBenchMade["photos"][number]): Promise<Uint8Array> {
  const grey = Uint8Array.from(image.values, (v) => Math.round(255 * v));
  const raw = { width: image.width, height: image.height, channels: 1 } as const;
  const picture = sharp(grey, { raw }).resize(2 * image.width, 2 * image.height);
  return new Uint8Array(await picture.png().toBuffer());
}

async function summaryOf(files: Files): Promise<Summary> {
  return await withRecord(files, async (folder) => {
    const record = await readRecord(folder);
    return summarize(record, await readPhotos(record));
  });
}

async function filesOf(bench: KnifeBenchMade): Promise<Files> {
  const rows = bench.photos.map(({ at, across, knife }, n) =>
    `2026-06-14,k${n}.png,${at},${across},0,${knife},${bench.slit}`
  );
  const pictures = await Promise.all(
    bench.photos.map(async (photo, n) => [`photos/k${n}.png`, await fileOf(photo)] as const),
  );
  const { aperture, radius } = bench;
  return {
    "mirror.yaml": `aperture: ${aperture} mm\nfocal_length: ${radius / 2} mm\nbevel: 0 mm\n`,
    "knife.csv": `date,photo,at_mm,across_mm,angle_deg,knife_deg,${
      bench.round ? "hole" : "slit"
    }_mm\n${rows.join("\n")}\n`,
    ...Object.fromEntries(pictures),
  };
}

Deno.test({
  name: "a series of knife.csv is told: surface, astigmatism, map with doubt; the file has them",
  ignore,
}, async () => {
  const [bench] = knifeBenches(4, 1);
  assert.ok(bench !== undefined);
  const { truth } = judgedKnife(bench), summary = await summaryOf(await filesOf(bench));
  const [series, ...others] = summary.figure?.knife ?? [];
  assert.ok(series !== undefined && truth !== undefined && others.length === 0);
  assert.equal(series.refused, undefined);
  assert.equal(series.photos[0], "photos/k0.png");
  // INVENTED bench 4: what it is made of lies in the intervals
  const { surfacePv, surfaceRms, wavefrontPv } = series.interval95 ?? assert.fail();
  assert.ok(surfacePv[0] < truth.pv && truth.pv < surfacePv[1]);
  assert.ok(surfaceRms[0] < truth.rms && truth.rms < surfaceRms[1]);
  // DERIVED twice the glass over 550 nm
  close(wavefrontPv[0], (2 * surfacePv[0]) / 550, 1e-9);
  // every shape is told as what it is: Zernike's by order and turn, an edge by its width
  const shapes = series.shapes ?? [];
  assert.ok(shapes.some(({ n, m }) => n === 2 && m === 2) && shapes.some(({ n }) => n === 4));
  for (const { n, m, width } of shapes) {
    assert.equal(n === undefined, m === undefined);
    assert.notEqual(n === undefined, width === undefined);
  }
  const lines = tell(summary).join("\n");
  assert.match(lines, /Whole surface, from 12 photographs behind the knife/);
  assert.match(lines, /mirror and stand together until the mirror is turned/);
  const map = surfaceMap(summary) ?? assert.fail();
  const { grid, heights } = bench, middle = (grid - 1) / 2;
  // top less bottom less left plus right: four times what astigmatism makes, whatever mean and focus are taken for
  const at = (i: number, j: number): number => heights[(middle + j) * grid + middle + i] ?? NaN;
  const far = 24, share = far / middle, quarter = Math.PI / 2;
  const wanted = at(0, far) + at(0, -far) - at(far, 0) - at(-far, 0);
  const found = [0, 1, 2, 3].map((k) => map.at(share, k * quarter)[0]);
  close((found[0] ?? 0) + (found[2] ?? 0) - (found[1] ?? 0) - (found[3] ?? 0), wanted, 40);
  assert.ok(map.at(1, 0)[1] > map.at(0.5, 0)[1]);
  assert.match(mapInWords(map).at(-1) ?? "", /mirror and stand together/);
  // the terms written are the map's: at the rim their sum is near it, edges apart
  const rows = (zernikeCsv(summary) ?? "").trim().split("\n").slice(1).map((row) => row.split(","));
  const sum = rows.reduce(
    (all, [, n, m, value]) =>
      value === "" ? all : all + Number(value) * zernike({ n: Number(n), m: Number(m) }, 0.5, 0.3),
    0,
  );
  close(sum, map.at(0.5, 0.3 - quarter)[0], 6);
  assert.deepEqual(contractProblems(JSON.parse(summaryText(summary))), []);
});

Deno.test({
  name: "three photographs, or a sitting before work on the glass, tell nothing of the surface",
  ignore,
}, async () => {
  const [bench] = knifeBenches(4, 1);
  assert.ok(bench !== undefined);
  const files = await filesOf({ ...bench, photos: bench.photos.slice(0, 3) });
  const few = await summaryOf(files);
  assert.match(few.figure?.knife?.[0]?.refused ?? "", /^3 knife-edge photographs, where/);
  assert.ok(few.warnings.some(({ file, line }) => file === "knife.csv" && line === 2));
  const later = "date,abrasive,position,minutes\n2026-06-15,cerium oxide,tool on top,20\n";
  const worked = await summaryOf({ ...files, "grinding.csv": later });
  assert.equal(worked.figure?.knife, undefined);
});

Deno.test("a slit and a hole in one row are refused with the place", async () => {
  const files = {
    "mirror.yaml": "aperture: 150 mm\nfocal_length: 1200 mm\n",
    "knife.csv": "photo,at_mm,slit_mm,hole_mm\nk.png,12.1,0.03,0.05\n",
    "photos/k.png": new Uint8Array(
      await sharp({ create: { width: 60, height: 60, channels: 3, background: "grey" } }).png()
        .toBuffer(),
    ),
  };
  await assert.rejects(() => summaryOf(files), (error) => {
    assert.ok(error instanceof RecordRefused);
    assert.match(
      error.message,
      /knife\.csv, line 2, column hole_mm.*slit_mm and hole_mm in one row/,
    );
    return true;
  });
});
