/** The one door to polars: loaded when a frame is first made, and only then; in a page another maker of frames may stand for it. */
import type polars from "nodejs-polars";

/** As much of polars as frames are made with here. */
export type FrameMaker = Pick<typeof polars, "DataFrame" | "Series" | "Float64" | "Utf8" | "Bool">;

let inUse: FrameMaker | undefined;

/** What makes frames. */
export async function frameMaker(): Promise<FrameMaker> {
  return inUse ??= await loaded();
}

/** As much of the machine's report as is asked for. */
interface Report {
  getReport: () => unknown;
}

/**
 * Loads polars. To learn which C library the machine has it asks for a report on the whole machine, its processors,
 * networks and names. Deno is built for one of the two, so that is what it is told, and no task has to be allowed that look.
 */
async function loaded(): Promise<FrameMaker> {
  const { report } = (globalThis as { process?: { report?: Report } }).process ?? {};
  const own = report?.getReport;
  const isAsked = report !== undefined && "Deno" in globalThis && Deno.build.env === "gnu";
  if (isAsked) report.getReport = () => ({ header: { glibcVersionRuntime: "of this program" } });
  try {
    return (await import("nodejs-polars")).default;
  } finally {
    if (isAsked && own !== undefined) report.getReport = own;
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
