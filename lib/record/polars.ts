/** The one door to polars: loaded when a frame is first made, and only then; in a page another maker of frames may stand for it. */
import type polars from "nodejs-polars";

/** As much of polars as frames are made with here. */
export type FrameMaker = Pick<typeof polars, "DataFrame" | "Series" | "Float64" | "Utf8" | "Bool">;

let inUse: FrameMaker | undefined;

/** What makes frames. */
export async function frameMaker(): Promise<FrameMaker> {
  return inUse ??= (await import("nodejs-polars")).default;
}

/**
 * Makes frames by something else from now on.
 *
 * @param other  with the same few calls; `undefined` for polars again
 */
export function makeFramesBy(other: FrameMaker | undefined): void {
  inUse = other;
}
