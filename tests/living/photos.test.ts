import assert from "node:assert/strict";
import sharp from "sharp";
import { browserPhotos } from "../../lib/living/photos.ts";

Deno.test("a picture's size is read from its first bytes, whatever stands before the frame", async () => {
  const plain = sharp({ create: { width: 331, height: 207, channels: 3, background: "gray" } });
  const files = {
    jpeg: await plain.clone().jpeg().toBuffer(),
    progressive: await plain.clone().jpeg({ progressive: true }).toBuffer(),
    "with what the camera wrote": await plain.clone().jpeg().withExif({ IFD0: { Make: "a phone" } })
      .toBuffer(),
    png: await plain.clone().png().toBuffer(),
  };
  for (const [name, file] of Object.entries(files)) {
    // CROSS-CHECK sharp, which made the pictures, called here (photos.test.ts): 331 by 207 pixels
    assert.deepEqual({ ...await browserPhotos.size(new Uint8Array(file)) }, {
      width: 331,
      height: 207,
    }, name);
  }
});
