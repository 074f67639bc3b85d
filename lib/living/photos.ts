/** Photographs by the browser's own decoder, as grey pictures like those that the kit makes of them elsewhere. */
import type { DecodedPhoto, PhotoDecoder } from "../record/readPhoto.ts";

/** As much of a browser as decoding takes. */
interface Bitmap {
  readonly width: number;
  readonly height: number;
  close(): void;
}
interface Brush {
  fillStyle: string;
  imageSmoothingQuality: string;
  fillRect(x: number, y: number, width: number, height: number): void;
  drawImage(bitmap: Bitmap, x: number, y: number, width: number, height: number): void;
  getImageData(x: number, y: number, width: number, height: number): {
    readonly data: Uint8ClampedArray;
  };
}
interface Browser {
  createImageBitmap(blob: Blob, options: Record<string, string>): Promise<Bitmap>;
  readonly OffscreenCanvas: new (width: number, height: number) => {
    getContext(kind: "2d", options: Record<string, boolean>): Brush | null;
  };
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

/** The decoder that page and worker have. */
export const browserPhotos: PhotoDecoder = {
  size(bytes): ReturnType<PhotoDecoder["size"]> {
    const size = sizeIn(bytes);
    return size === undefined
      ? Promise.reject(new RangeError("no size in the picture's first bytes"))
      : Promise.resolve(size);
  },
  async decode(bytes, longestSide): Promise<DecodedPhoto> {
    const browser = globalThis as unknown as Browser;
    const bitmap = await browser.createImageBitmap(new Blob([bytes as Uint8Array<ArrayBuffer>]), {
      imageOrientation: "from-image",
    });
    const scale = Math.min(1, longestSide / Math.max(bitmap.width, bitmap.height));
    const width = Math.round(bitmap.width * scale), height = Math.round(bitmap.height * scale);
    const canvas = new browser.OffscreenCanvas(width, height);
    const brush = canvas.getContext("2d", { willReadFrequently: true });
    if (brush === null) throw new RangeError("the browser gives no canvas");
    brush.fillStyle = "black";
    brush.fillRect(0, 0, width, height);
    brush.imageSmoothingQuality = "high";
    brush.drawImage(bitmap, 0, 0, width, height);
    const made = width / bitmap.width;
    bitmap.close();
    const { data } = brush.getImageData(0, 0, width, height);
    const values = new Float32Array(width * height);
    for (let k = 0; k < values.length; k++) {
      values[k] = grey(data[4 * k] ?? 0, data[4 * k + 1] ?? 0, data[4 * k + 2] ?? 0) / 255;
    }
    return { width, height, values, scale: made };
  },
};
