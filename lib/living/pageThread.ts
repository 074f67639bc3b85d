/// <reference lib="dom" />
/**
 * A thread of a page: a worker with the library, and what only the page can do for it.
 *
 * WebKit lets a thread of a page on disk read no blob: so pictures go to it as bytes, and are decoded here where it asks for it.
 */
import type { CellThread } from "./cells.ts";
import { unpacked } from "./packed.ts";
import { type PictureAsked, type PicturePixels, pixelsOf } from "./photos.ts";

/** A message in which every blob is its bytes. */
async function withoutBlobs(value: unknown, deep = 0): Promise<unknown> {
  if (value instanceof Blob) return new Uint8Array(await value.arrayBuffer());
  if (typeof value !== "object" || value === null || deep > 3) return value;
  if (value instanceof Map) {
    const pairs = [...value].map(async ([key, one]) =>
      [key, await withoutBlobs(one, deep + 1)] as const
    );
    return new Map(await Promise.all(pairs));
  }
  if (Object.getPrototypeOf(value) !== Object.prototype) return value;
  const pairs = Object.entries(value).map(async ([key, one]) =>
    [key, await withoutBlobs(one, deep + 1)] as const
  );
  return Object.fromEntries(await Promise.all(pairs));
}

/** Decodes what a thread cannot. */
async function decodeFor(
  worker: Worker,
  { picture, bytes, longestSide }: PictureAsked,
): Promise<void> {
  const answer = await pixelsOf(bytes, longestSide, (width, height) => {
    const canvas = document.createElement("canvas");
    canvas.width = width;
    canvas.height = height;
    return canvas.getContext("2d", { willReadFrequently: true });
  }).catch(() => undefined);
  const told: { readonly picture: number; readonly pixels: PicturePixels | undefined } = {
    picture,
    pixels: answer,
  };
  worker.postMessage(told);
}

/**
 * A thread with the library, whose program the page's own script carries: a page on disk can read no file.
 *
 * @param program  as `packed` gives it; unpacked when the first thread begins
 */
export function threadFrom(program: string): () => CellThread {
  let address: string | undefined;
  return () => {
    address ??= URL.createObjectURL(
      new Blob([unpacked(program)], { type: "text/javascript" }),
    );
    const worker = new Worker(address);
    worker.addEventListener("message", ({ data }: MessageEvent<unknown>) => {
      if (typeof data !== "object" || data === null || !("picture" in data)) return;
      void decodeFor(worker, data as PictureAsked);
    });
    let last = Promise.resolve();
    return {
      postMessage: (message) => {
        last = last.then(async () => worker.postMessage(await withoutBlobs(message)));
      },
      terminate: () => worker.terminate(),
      get onmessage() {
        return worker.onmessage as CellThread["onmessage"];
      },
      set onmessage(hear) {
        worker.onmessage = hear as Worker["onmessage"];
      },
      get onerror() {
        return worker.onerror as CellThread["onerror"];
      },
      set onerror(hear) {
        worker.onerror = hear as Worker["onerror"];
      },
    };
  };
}
