/** Photographs: each must be there, inside the folder, and really decode. The decoder loads only when there are some. */
import { clean } from "./clean.ts";
import type { Findings, Place } from "./errors.ts";
import { LARGEST, readInside, type RecordFolder } from "./files.ts";
import { keepPhoto, MOST_PIXELS, photoOf, photoSize } from "./readPhoto.ts";
import type { PhotoRow } from "./types.ts";

/** What the first bytes of a file say it is; `undefined` for none of the pictures known here. */
export type PictureKind =
  | "jpeg"
  | "png"
  | "tiff"
  | "webp"
  | "gif"
  | "svg"
  | "avif"
  | "heic"
  | "raw";

/** How each kind is called that is not decoded. */
const NAMES: Readonly<Record<Exclude<PictureKind, "jpeg" | "png">, string>> = {
  tiff: "a TIFF picture",
  webp: "a WebP picture",
  gif: "a GIF picture",
  svg: "a drawing",
  avif: "an AVIF picture",
  heic: "a HEIC picture",
  raw: "a raw picture (DNG)",
};

/**
 * Recognises a picture by its first bytes, whatever its name says.
 *
 * @example the four letters after the first four bytes of a phone's HEIC file
 * ```ts
 * import assert from "node:assert/strict";
 * const bytes = new TextEncoder().encode("\0\0\0\x18ftypheic");
 * assert.equal(pictureKind(bytes), "heic");
 * ```
 */
export function pictureKind(bytes: Uint8Array): PictureKind | undefined {
  const text = String.fromCharCode(...bytes.subarray(0, 256));
  if (text.startsWith("\xff\xd8\xff")) return "jpeg";
  if (text.startsWith("\x89PNG\r\n\x1a\n")) return "png";
  if (/^(II[*+]\0|MM\0[*+])/.test(text)) return isRaw(bytes) ? "raw" : "tiff";
  if (text.startsWith("RIFF") && text.slice(8, 12) === "WEBP") return "webp";
  if (/^GIF8[79]a/.test(text)) return "gif";
  if (/<svg[\s>]/i.test(text)) return "svg";
  if (text.slice(4, 8) !== "ftyp") return undefined;
  if (/^avi[fs]/.test(text.slice(8))) return "avif";
  return /^(heic|heix|heim|heis|hevc|hevx|mif1|msf1)/.test(text.slice(8)) ? "heic" : undefined;
}

/** A camera's raw picture is a TIFF whose first table has the tag of its version; its first picture is a thumbnail. */
function isRaw(bytes: Uint8Array): boolean {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const isLittle = bytes[0] === 0x49;
  if (bytes.length < 10) return false;
  const at = view.getUint32(4, isLittle);
  if (at + 2 > bytes.length) return false;
  const count = Math.min(view.getUint16(at, isLittle), 500);
  for (let entry = 0; entry < count && at + 14 + 12 * entry <= bytes.length; entry++) {
    if (view.getUint16(at + 2 + 12 * entry, isLittle) === 0xc612) return true;
  }
  return false;
}

// How a picture in a phone's own format becomes a JPEG, by the phone that made it.

const IPHONE =
  "on an iPhone choose Settings, Camera, Formats, Most Compatible for the next ones; this one becomes a JPEG when it is sent by mail, or in Files by Quick Actions, Convert Image";
const ANDROID =
  "on an Android phone choose JPEG, and not HEIF or RAW, in the camera's settings for the next ones; this one becomes a JPEG when its copy is saved from the gallery's editor";

/** The maker of the camera stands in a picture's first bytes, in plain letters. */
function makerOf(bytes: Uint8Array): "apple" | "other" | undefined {
  const head = new TextDecoder("latin1").decode(bytes.subarray(0, 200_000));
  if (/\bApple\b|iPhone|com\.apple/.test(head)) return "apple";
  return /samsung|Google|Pixel|Xiaomi|OnePlus|HUAWEI|motorola|OPPO|vivo|SM-[A-Z]\d/.test(head)
    ? "other"
    : undefined;
}

/**
 * What to do with a picture that is no JPEG.
 *
 * @param bytes  of the file
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const bytes = new TextEncoder().encode("....ftypheic....Exif..Apple..iPhone");
 * assert.match(jpegFromPhone(bytes), /^on an iPhone choose Settings, Camera, Formats, Most Compatible/);
 * ```
 */
export function jpegFromPhone(bytes: Uint8Array): string {
  const maker = makerOf(bytes);
  if (maker === "apple") return IPHONE;
  return maker === "other" ? ANDROID : `${IPHONE}; ${ANDROID}`;
}

/** What to do with a picture of more pixels than are read. */
const FEWER_PIXELS =
  "set the camera to 12 megapixels, far more than bands need, or save a smaller copy from the gallery's editor";

/** Looks at every photograph a table names and refuses what cannot be used; each file is decoded once. */
export async function checkPhotos(
  rows: readonly PhotoRow[],
  folder: RecordFolder,
  findings: Findings,
): Promise<void> {
  const seen = new Set<string>();
  for (const row of rows) {
    const { file, line, photo } = row;
    if (seen.has(photo)) continue;
    seen.add(photo);
    const place = { file, line, column: "photo" };
    const bytes = await readInside(folder, photo, LARGEST.photo, place, findings);
    if (bytes !== undefined) await checkPhoto(bytes, row, place, findings);
  }
}

async function checkPhoto(
  bytes: Uint8Array,
  row: PhotoRow,
  place: Place,
  findings: Findings,
): Promise<void> {
  const name = clean(row.photo, 120);
  const wanted = "a photograph as JPEG or PNG";
  const kind = pictureKind(bytes);
  if (bytes.length === 0) {
    findings.refuse(place, `"${name}", an empty file`, wanted, "copy it from the camera again");
  } else if (kind !== undefined && kind !== "jpeg" && kind !== "png") {
    const isOfPhone = kind === "heic" || kind === "raw";
    const mend = isOfPhone ? jpegFromPhone(bytes) : "save it as JPEG or PNG";
    findings.refuse(place, `"${name}", ${NAMES[kind]}`, wanted, mend);
  } else if (kind === undefined) {
    findings.refuse(
      place,
      `"${name}", which is not a picture`,
      wanted,
      "look at what the file is",
    );
  } else {
    const why = await whyNotDecoded(bytes, row);
    if (why === undefined) return;
    const mend = why.endsWith("megapixels") ? FEWER_PIXELS : "copy it from the camera again";
    findings.refuse(place, `"${name}", ${why}`, wanted, mend);
  }
}

/** Decodes the whole picture, so that a truncated file is found out, and keeps it for whoever asks next. */
async function whyNotDecoded(
  bytes: Uint8Array,
  row: PhotoRow,
): Promise<string | undefined> {
  try {
    const { width, height } = await photoSize(bytes);
    if (width * height > MOST_PIXELS) {
      return `a picture of ${Math.round(width * height / 1e6)} megapixels`;
    }
    keepPhoto(row, await photoOf(row, bytes));
    return undefined;
  } catch {
    // The decoder's own words speak of its insides; to a maker they all mean the same.
    return "a picture that does not decode to its end";
  }
}
