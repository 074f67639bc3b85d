/** Pictures are decoded by two decoders, and no other can be reached. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import { decoder, readPhoto } from "../../lib/record/readPhoto.ts";

import { inFolder } from "../commands/run.ts";

type Format = "jpeg" | "png" | "webp" | "tiff" | "avif" | "gif";

/** A picture of noise, so that it cannot be squeezed into its first bytes. */
async function picture(format: Format): Promise<Uint8Array> {
  const raw = new Uint8Array(64 * 64 * 3).map((_, index) => (index * 7919) % 251);
  const image = sharp(raw, { raw: { width: 64, height: 64, channels: 3 } });
  return new Uint8Array(await image.toFormat(format).toBuffer());
}

const SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="64" height="64"/>';

Deno.test("behind the door nothing else opens: a decoder of another kind takes it for no picture", async () => {
  const sharp = await decoder();
  for (const format of ["jpeg", "png"] as const) {
    assert.equal((await sharp(await picture(format)).metadata()).format, format);
  }
  const others = [
    ...await Promise.all((["tiff", "webp", "avif", "gif"] as const).map(picture)),
    new TextEncoder().encode(SVG),
    new TextEncoder().encode("%PDF-1.4\n"),
    new TextEncoder().encode("P6\n1 1\n255\nabc"),
  ];
  for (const bytes of others) {
    await assert.rejects(sharp(bytes).metadata(), /unsupported image format/);
    await assert.rejects(readPhoto(bytes), /requires a picture that decodes to its end/);
  }
  await inFolder(async (folder) => {
    const file = join(folder, "x.tiff");
    await Deno.writeFile(file, await picture("tiff"));
    await assert.rejects(sharp(file).metadata(), /unsupported image format|missing/);
  });
});

Deno.test("no other file of the library loads the decoder for itself", async () => {
  const lib = fileURLToPath(new URL("../../lib", import.meta.url)), found: string[] = [];
  for await (const { name } of Deno.readDir(join(lib, "record"))) {
    const text = await Deno.readTextFile(join(lib, "record", name));
    if (/import\("sharp"\)|^import sharp|^import \{.*\} from "sharp"/m.test(text)) found.push(name);
  }
  assert.deepEqual(found, ["readPhoto.ts"]);
});
