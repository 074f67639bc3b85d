// deno-lint-ignore-file no-console
/**
 * Makes the demo mirror's two photographs: invented, by the generator that shares no optics with the kit.
 *
 * The mirror in it is a plain conic of K = -0.66 and R = 2396.6 mm, 148 mm wide inside its bevel; the grating stands
 * 7.8 mm inside the centre of curvature, where the record's ruler says 8; on the next day 8.3 mm outside it, by the ruler 8.
 *
 *     deno run -A tests/record/demoPhoto.ts
 */
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import { type MadePhoto, makePhoto } from "../testing/photoGenerator.ts";

export const demoPhoto: MadePhoto = {
  aperture: 148,
  radius: 2396.6,
  conic: -0.66,
  offset: -7.8,
  linesPerMm: 4,
  light: [480, 550, 610],
  width: 440,
  height: 340,
  x: 228.4,
  y: 166.7,
  r: 141.3,
  turn: 1.6,
  shift: 0.012,
  gamma: 2.2,
  uneven: 0.2,
  fog: 0.02,
  noise: 0.018,
  hot: 6,
  stand: true,
  seed: 2026,
};

/** The same mirror from outside of focus, a day later; the phone held a little otherwise. */
export const demoPhotoOutside: MadePhoto = {
  ...demoPhoto,
  offset: 8.3,
  x: 216.8,
  y: 171.2,
  r: 138.6,
  turn: 0.7,
  shift: -0.021,
  seed: 2027,
};

async function write(photo: MadePhoto, name: string): Promise<void> {
  const { width, height, values } = makePhoto(photo);
  const grey = Uint8Array.from(values, (v) => Math.round(255 * v));
  const path = fileURLToPath(
    new URL(`../../data/records/demo-150-f8/photos/${name}`, import.meta.url),
  );
  const { size } = await sharp(grey, { raw: { width, height, channels: 1 } })
    .toColourspace("b-w").png({ compressionLevel: 9 }).toFile(path);
  console.log(`${path}: ${width} x ${height}, ${size} bytes`);
}

// the first stands as the generator made it in its first edition, so that its numbers stay; it is not made anew
if (import.meta.main) {
  await write(demoPhotoOutside, "outside-8mm.png");
}
