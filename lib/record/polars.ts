/** The one door to polars: loaded when a frame is first made, and only then; in a page another maker of frames may stand for it. */
import process from "node:process";
import type polars from "nodejs-polars";

/** As much of polars as frames are made with here. */
export type FrameMaker = Pick<typeof polars, "DataFrame" | "Series" | "Float64" | "Utf8" | "Bool">;

let inUse: FrameMaker | undefined;

/** What makes frames. */
export async function frameMaker(): Promise<FrameMaker> {
  return inUse ??= await loaded();
}

/**
 * Loads polars. To learn which C library the machine has it asks for a report on the whole machine, its processors,
 * networks and names. Deno is built for one of the two, so that is what it is told, and no task has to be allowed that look.
 */
async function loaded(): Promise<FrameMaker> {
  const { report } = process, own = report?.getReport;
  const isAsked = "Deno" in globalThis && Deno.build.os === "linux" && Deno.build.env === "gnu";
  if (isAsked) report.getReport = () => ({ header: { glibcVersionRuntime: "of this program" } });
  try {
    return (await import("nodejs-polars")).default;
  } finally {
    if (isAsked) report.getReport = own;
  }
}

/**
 * Makes frames by something else from now on.
 *
 * @param other  with the same few calls; `undefined` for polars again
 */
export function makeFramesBy(other: FrameMaker | undefined): void {
  inUse = other;
}
