/** Photographs by the browser's own decoder, as grey pictures like those that the kit makes of them elsewhere. */
import type { DecodedPhoto, PhotoDecoder } from "../record/readPhoto.ts";

/** As much of a browser as decoding takes. */
interface Bitmap {
  readonly width: number;
  readonly height: number;
  close(): void;
}
interface Brush {
  fillStyle: unknown;
  imageSmoothingQuality: string;
  fillRect(x: number, y: number, width: number, height: number): void;
  drawImage(bitmap: never, x: number, y: number, width: number, height: number): void;
  getImageData(x: number, y: number, width: number, height: number): {
    readonly data: Uint8ClampedArray;
  };
}
interface Browser {
  createImageBitmap(blob: Blob, options: Record<string, string>): Promise<Bitmap>;
  readonly OffscreenCanvas: new (width: number, height: number) => {
    getContext(kind: "2d", options: Record<string, boolean>): Brush | null;
  };
  postMessage(message: PictureAsked): void;
  addEventListener(type: "message", hear: (event: { readonly data: unknown }) => void): void;
  removeEventListener(type: "message", hear: (event: { readonly data: unknown }) => void): void;
}

/** What a thread asks of its page: a picture decoded that it cannot decode itself. */
export interface PictureAsked {
  /** its number */
  readonly picture: number;
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly longestSide: number;
}

/** A picture decoded, four bytes a pixel. */
export interface PicturePixels {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8ClampedArray;
  /** how many of its pixels make one of the camera's */
  readonly scale: number;
}

/** Width and height of a JPEG or PNG, as they stand in its first bytes. */
function sizeIn(bytes: Uint8Array): { width: number; height: number } | undefined {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes[0] === 0x89 && bytes.length >= 24) {
    return { width: view.getUint32(16), height: view.getUint32(20) };
  }
  for (let at = 2; at + 9 < bytes.length && bytes[at] === 0xff;) {
    const kind = bytes[at + 1] ?? 0;
    const isFrame = kind >= 0xc0 && kind <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(kind);
    if (isFrame) return { width: view.getUint16(at + 7), height: view.getUint16(at + 5) };
    at += 2 + view.getUint16(at + 2);
  }
  return undefined;
}

/** Light of each step of a picture, from 0 to 1 (the curve of sRGB, IEC 61966-2-1). */
const light = Float64Array.from({ length: 256 }, (_, step) => {
  const part = step / 255;
  return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
});

const stepOf = (part: number): number =>
  Math.round(255 * (part <= 0.0031308 ? 12.92 * part : 1.055 * part ** (1 / 2.4) - 0.055));

/** Grey by the light of the three colours; what is grey already stays as it is. */
function grey(red: number, green: number, blue: number): number {
  if (red === green && green === blue) return red;
  return stepOf(
    0.2126 * (light[red] ?? 0) + 0.7152 * (light[green] ?? 0) + 0.0722 * (light[blue] ?? 0),
  );
}

/**
 * A picture's pixels by the browser, turned as the camera says, its longest side at most as given, on black.
 *
 * @param canvas  gives a brush on a canvas of a size
 */
export async function pixelsOf(
  bytes: Uint8Array<ArrayBuffer>,
  longestSide: number,
  canvas: (width: number, height: number) => Brush | null,
): Promise<PicturePixels> {
  const { createImageBitmap } = globalThis as unknown as Browser;
  const bitmap = await createImageBitmap(new Blob([bytes]), { imageOrientation: "from-image" });
  const share = Math.min(1, longestSide / Math.max(bitmap.width, bitmap.height));
  const width = Math.round(bitmap.width * share), height = Math.round(bitmap.height * share);
  const brush = canvas(width, height);
  if (brush === null) throw new RangeError("the browser gives no canvas");
  brush.fillStyle = "black";
  brush.fillRect(0, 0, width, height);
  brush.imageSmoothingQuality = "high";
  brush.drawImage(bitmap as never, 0, 0, width, height);
  const scale = width / bitmap.width;
  bitmap.close();
  return { width, height, data: brush.getImageData(0, 0, width, height).data, scale };
}

let asked = 0;

/** The same by the page, for a thread that may read no blob. */
function pixelsByPage(bytes: Uint8Array<ArrayBuffer>, longestSide: number): Promise<PicturePixels> {
  const browser = globalThis as unknown as Browser, picture = ++asked;
  return new Promise((done, failed) => {
    const hear = ({ data }: { readonly data: unknown }): void => {
      if (typeof data !== "object" || data === null || Reflect.get(data, "picture") !== picture) {
        return;
      }
      browser.removeEventListener("message", hear);
      const pixels = Reflect.get(data, "pixels") as PicturePixels | undefined;
      if (pixels === undefined) failed(new RangeError("the browser decodes no such picture"));
      else done(pixels);
    };
    browser.addEventListener("message", hear);
    browser.postMessage({ picture, bytes, longestSide });
  });
}

/** The decoder that a page's thread has. */
export const browserPhotos: PhotoDecoder = {
  size(bytes): ReturnType<PhotoDecoder["size"]> {
    const size = sizeIn(bytes);
    return size === undefined
      ? Promise.reject(new RangeError("no size in the picture's first bytes"))
      : Promise.resolve(size);
  },
  async decode(bytes, longestSide): Promise<DecodedPhoto> {
    const browser = globalThis as unknown as Browser, own = bytes as Uint8Array<ArrayBuffer>;
    const { width, height, data, scale } = await pixelsOf(
      own,
      longestSide,
      (across, down) =>
        new browser.OffscreenCanvas(across, down).getContext("2d", { willReadFrequently: true }),
    ).catch(() => pixelsByPage(own, longestSide));
    const values = new Float32Array(width * height);
    for (let k = 0; k < values.length; k++) {
      values[k] = grey(data[4 * k] ?? 0, data[4 * k + 1] ?? 0, data[4 * k + 2] ?? 0) / 255;
    }
    return { width, height, values, scale };
  },
};
