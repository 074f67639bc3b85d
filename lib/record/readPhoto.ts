/** Photographs of a record as grey pictures, upright. The decoder loads only when there are some. */
import type sharp from "sharp";
import type { GreyImage } from "../testing/photo/photoImage.ts";
import { loadKnife } from "../testing/knife/loaded.ts";
import { aroundStar } from "../testing/star/starPicture.ts";
import { files } from "./fileSystem.ts";
import type { MirrorRecord, PhotoRow } from "./types.ts";

let opened: Promise<typeof sharp> | undefined;

/**
 * The decoder of pictures with two doors, JPEG and PNG; loaded where a photograph is first met. A file of any other kind it
 * takes for no picture: whatever else it could read nobody has to trust.
 */
export function decoder(): Promise<typeof sharp> {
  return opened ??= load();
}

async function load(): Promise<typeof sharp> {
  const { default: sharp } = await import("sharp");
  sharp.block({ operation: ["VipsForeignLoad"] });
  sharp.unblock({ operation: ["VipsForeignLoadJpegBuffer", "VipsForeignLoadPngBuffer"] });
  return sharp;
}

/** A picture with how many of its pixels make one of the camera's, along a line; below 1 where it was made smaller. */
export interface DecodedPhoto extends GreyImage {
  readonly scale: number;
}

/** What makes pixels of a file's bytes: here sharp, in a page the browser. */
export interface PhotoDecoder {
  /** pixels of the picture as it lies in the file; rejects what is no picture */
  size(
    bytes: Uint8Array,
  ): Promise<{ readonly width: number; readonly height: number }>;
  /** turned as the camera says, grey from 0 to 1, its longest side at most as given; rejects what does not decode to its end */
  decode(bytes: Uint8Array, longestSide: number): Promise<DecodedPhoto>;
}

const bySharp: PhotoDecoder = {
  async size(bytes): Promise<{ readonly width: number; readonly height: number }> {
    return await (await decoder())(bytes, { limitInputPixels: false }).metadata();
  },
  async decode(bytes, longestSide): Promise<DecodedPhoto> {
    const sharp = await decoder();
    const options = { failOn: "error", limitInputPixels: MOST_PIXELS } as const;
    const { width, height, orientation = 1 } = await sharp(bytes, options).metadata();
    const { data, info } = await sharp(bytes, options).rotate()
      .flatten({ background: "black" })
      .resize({ width: longestSide, height: longestSide, fit: "inside", withoutEnlargement: true })
      .greyscale().toColourspace("b-w").raw({ depth: "uchar" }).toBuffer({
        resolveWithObject: true,
      });
    const values = greyOf(data, info.channels, info.width * info.height);
    const scale = info.width / (orientation < 5 ? width : height); // 5 to 8 lie on their side
    return { width: info.width, height: info.height, values, scale };
  },
};

/** Values from 0 to 1 of the first of each pixel's channels; a function of its own is made fast sooner. */
function greyOf(data: Uint8Array, channels: number, count: number): Float32Array {
  const values = new Float32Array(count);
  for (let k = 0, at = 0; k < count; k++, at += channels) values[k] = (data[at] as number) / 255;
  return values;
}

let inUse = bySharp;

/**
 * Decodes photographs by another decoder from now on.
 *
 * @param other  such as the browser's; `undefined` for sharp again
 */
export function decodePhotosBy(other: PhotoDecoder | undefined): void {
  inUse = other ?? bySharp;
}

/** How many pixels a picture has across and down, as it lies in the file. */
export function photoSize(
  bytes: Uint8Array,
): Promise<{ readonly width: number; readonly height: number }> {
  return inUse.size(bytes);
}

/** Longest side kept, pixels: far more than bands need, and little to hold in memory. */
const LONGEST_SIDE = 1400;

/** The same of a picture of which only a star's small disc is kept. */
const LONGEST_OF_STAR = 5000;

/** The same of a picture behind the knife, of which there are many in a series. */
const LONGEST_OF_KNIFE = 900;

/** Largest picture decoded, pixels. */
export const MOST_PIXELS = 64e6;

/** What has been decoded while a record was read, by its row: a picture is decoded once. */
const kept = new WeakMap<PhotoRow, DecodedPhoto>();

/** Keeps a decoded picture with its row. */
export function keepPhoto(row: PhotoRow, photo: DecodedPhoto): void {
  kept.set(row, photo);
}

/**
 * Decodes one picture: turned as the camera says (EXIF), grey, its longest side at most 1400 pixels.
 *
 * @param bytes        a JPEG or PNG file; no other kind is ever decoded
 * @param longestSide  pixels; default 1400
 * @throws {RangeError} where it does not decode
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import sharp from "sharp";
 * const white = { width: 4, height: 2, channels: 3, background: "white" } as const;
 * const picture = await readPhoto(new Uint8Array(await sharp({ create: white }).png().toBuffer()));
 * assert.deepEqual([picture.width, picture.height, picture.values[0]], [4, 2, 1]);
 * ```
 */
export async function readPhoto(
  bytes: Uint8Array,
  longestSide: number = LONGEST_SIDE,
): Promise<DecodedPhoto> {
  try {
    return await inUse.decode(bytes, longestSide);
  } catch {
    throw new RangeError("readPhoto requires a picture that decodes to its end");
  }
}

/**
 * A row's photograph as its test wants it: the bands' whole and small, behind a knife smaller still, of a star what is
 * around it, in the camera's own pixels.
 *
 * @param row    that names it
 * @param bytes  a JPEG or PNG file
 * @throws {RangeError} where it does not decode
 */
export async function photoOf(row: PhotoRow, bytes: Uint8Array): Promise<DecodedPhoto> {
  if ("at" in row) {
    await loadKnife(); // what reads them is large, and loads where there are some
    return await readPhoto(bytes, LONGEST_OF_KNIFE);
  }
  if (!("side" in row)) return await readPhoto(bytes);
  const whole = await readPhoto(bytes, LONGEST_OF_STAR);
  return { ...aroundStar(whole), scale: whole.scale };
}

/** Every row of a record that names a photograph. */
export function photoRows(
  { ronchi, star, knife }: Pick<MirrorRecord, "ronchi" | "star" | "knife">,
): readonly PhotoRow[] {
  return [...ronchi, ...star, ...knife];
}

/**
 * Every photograph a record's tables name, decoded once each, by its path inside the folder; none where they name none.
 *
 * @param record  as `readRecord` gives it, so that each file is known to be there and to decode
 */
export async function readPhotos(record: MirrorRecord): Promise<Map<string, DecodedPhoto>> {
  const photos = new Map<string, DecodedPhoto>();
  for (const row of photoRows(record)) {
    const { photo } = row;
    if (photos.has(photo)) continue;
    const known = kept.get(row);
    photos.set(photo, known ?? await photoOf(row, await files().read(`${record.folder}/${photo}`)));
  }
  return photos;
}
