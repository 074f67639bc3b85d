/** How a picture in a phone's own format becomes a JPEG, by the phone that made it. */

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
export const FEWER_PIXELS =
  "set the camera to 12 megapixels, far more than bands need, or save a smaller copy from the gallery's editor";
