/** The decoder of pictures with two doors: JPEG and PNG. Whatever else it could read nobody has to trust. */
import type sharp from "sharp";

let opened: Promise<typeof sharp> | undefined;

/** The decoder; loaded where a photograph is first met. A file of any other kind it takes for no picture. */
export function decoder(): Promise<typeof sharp> {
  return opened ??= load();
}

async function load(): Promise<typeof sharp> {
  const { default: sharp } = await import("sharp");
  sharp.block({ operation: ["VipsForeignLoad"] });
  sharp.unblock({ operation: ["VipsForeignLoadJpegBuffer", "VipsForeignLoadPngBuffer"] });
  return sharp;
}
